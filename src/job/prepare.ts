import { resolve } from 'node:path';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { FormatName } from '../formats/drawing.ts';
import { type BenchSetup, benchOn, keeping } from './bench.ts';
import type { Bench } from './fitting.ts';
import { formatNames } from './formats.ts';
import { optionUnknown } from './option-unknown.ts';
import { readChoices } from './orders/choices.ts';
import type { Order, OrderOptions } from './orders/orders.ts';
import { settleOrders } from './orders/orders.ts';
import type { PatternFile, PatternFileOptions } from './patternfile.ts';
import { readPatternFile } from './patternfile.ts';
import type { ReportOptions } from './report/report.ts';
import { onOnePaper, settleReport } from './report/report.ts';

/** What `amounts` and `alter` both need to know. */
export interface FittingRequest extends PatternFileOptions, OrderOptions, ReportOptions {
  /** Path of the pattern, or of several: other patterns, or other sizes of one. */
  readonly pattern: string | readonly string[];
  /** Choices of method, as `ALTERATION OPTION=VALUE, …`. */
  readonly choose?: string | undefined;
  readonly beyondLimits?: boolean | undefined;
  readonly true?: boolean | undefined;
  readonly fullGrainline?: boolean | undefined;
  /** Opens half pieces out, and draws pairs as left and right, where one side is to differ from the other. */
  readonly unfold?: boolean | undefined;
  /** Formats to write, as `dxf,svg`; by default the file's own. */
  readonly to?: string | undefined;
}

/** One pattern, ready to be altered in this thread, and what another thread needs for the same. */
export interface Prepared {
  readonly bench: Bench;
  readonly setup: BenchSetup;
}

export interface Preparation {
  /** Absent when nothing can be done; then there is an error among the findings. */
  readonly ready?: {
    readonly patterns: readonly Prepared[];
    readonly orders: readonly Order[];
    /** How many rows are for patterns that were not given. */
    readonly elsewhere: number;
  };
  readonly findings: readonly Finding[];
}

/** Reads everything a run needs, once, and settles its options. A pattern that cannot be used stops the run. */
export const prepare = async (request: FittingRequest): Promise<Preparation> => {
  // A file that is named twice (a wildcard and its name) is one pattern.
  const paths = [...new Map([request.pattern].flat().map((path) => [resolve(path), path])).values()];
  const files = new Map<string, Uint8Array>();
  const read: PatternFile[] = [];
  const findings: Finding[] = paths.length > 1 && request.sheet !== undefined ? [oneSheetForAll] : [];
  for (const path of paths) {
    const { file, findings: found } = await readPatternFile(path, request, keeping(files));
    findings.push(...found);
    if (file) read.push(file);
  }
  if (read.length < paths.length) return { findings };
  const choices = readChoices(request.choose);
  const unknown = unknownFormats(request.to);
  const report = settleReport(request);
  findings.push(...choices.findings, ...unknown, ...report.findings);
  const blocked = hasErrors(findings);
  const settled = await settleOrders(
    read.map((f) => f.pattern),
    request,
  );
  findings.push(...settled.findings);
  if (blocked || !settled.usable) return { findings };
  const shownIn = settled.orders.map((o) => o.show);
  const patterns = read.map(async (file, i): Promise<Prepared> => {
    const setup: BenchSetup = {
      path: file.path,
      options: { sheet: request.sheet, units: request.units, view: request.view },
      files: filesOf(file, files),
      draftedFor: settled.patterns[i]?.draftedFor ?? {},
      plan: { beyondLimits: request.beyondLimits ?? false, choices: choices.choices },
      alter: { true: request.true ?? false, fullGrainline: request.fullGrainline ?? false },
      unfold: request.unfold ?? false,
      formats: formatsFor(request.to, file),
      ...(report.asked ? { report: onOnePaper(report.asked, shownIn) } : {}),
    };
    return { setup, bench: await benchOn(file, setup) };
  });
  const { orders, elsewhere } = settled;
  return { ready: { patterns: await Promise.all(patterns), orders, elsewhere }, findings };
};

const filesOf = (file: PatternFile, files: ReadonlyMap<string, Uint8Array>): ReadonlyMap<string, Uint8Array> =>
  new Map([...files].filter(([path]) => path === file.path || path === file.sheet?.path));

const asked = (to: string): string[] => [...new Set(to.split(',').map((name) => name.trim().toLowerCase()))];
const isFormat = (name: string): name is FormatName => (formatNames as readonly string[]).includes(name);

const formatsFor = (to: string | undefined, file: PatternFile): readonly FormatName[] =>
  to === undefined ? [file.format.name] : asked(to).filter(isFormat);

const unknownFormats = (to: string | undefined): Finding[] =>
  to === undefined
    ? []
    : asked(to)
        .filter((name) => !isFormat(name))
        .map(unknownFormat);

const oneSheetForAll: Finding = {
  code: 'job-option-clash',
  level: 'error',
  where: {},
  message: '--pattern-sheet names one sheet, and there are several patterns.',
  try: 'Lay each sheet beside its pattern, as PATTERN.sheet.yaml.',
};

const unknownFormat = (name: string): Finding =>
  optionUnknown(
    `“${name}” is not a format that can be written.`,
    `Write --to ${formatNames.join(',')}, or one of them.`,
  );
