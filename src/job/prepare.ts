import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Format, FormatName } from '../formats/drawing.ts';
import { readChoices } from './choices.ts';
import type { Bench } from './fitting.ts';
import { formatCalled, formatNames } from './formats.ts';
import { measure } from './measures.ts';
import type { Order, OrderOptions } from './orders.ts';
import { settleOrders } from './orders.ts';
import type { PatternFile, PatternFileOptions } from './patternfile.ts';
import { readPatternFile } from './patternfile.ts';

/** What `amounts` and `alter` both need to know. */
export interface FittingRequest extends PatternFileOptions, OrderOptions {
  readonly pattern: string;
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

export interface Prepared {
  /** Absent when nothing can be done; then there is an error among the findings. */
  readonly ready?: { readonly bench: Bench; readonly orders: readonly Order[] };
  readonly findings: readonly Finding[];
}

/** Reads everything a run needs, once, and settles its options. */
export const prepare = async (request: FittingRequest): Promise<Prepared> => {
  const read = await readPatternFile(request.pattern, request);
  if (!read.file) return read;
  const choices = readChoices(request.choose);
  const formats = await settleFormats(request.to, read.file);
  const settled = await settleOrders(read.file.pattern, request);
  const findings = [...read.findings, ...choices.findings, ...formats.findings, ...settled.findings];
  const blocked = hasErrors([...read.findings, ...choices.findings, ...formats.findings]);
  if (blocked || !settled.usable) return { findings };
  const file: PatternFile = { ...read.file, pattern: settled.pattern };
  const bench: Bench = {
    file,
    before: measure(file.pattern),
    plan: { beyondLimits: request.beyondLimits ?? false, choices: choices.choices },
    alter: { true: request.true ?? false, fullGrainline: request.fullGrainline ?? false },
    unfold: request.unfold ?? false,
    formats: formats.formats,
  };
  return { ready: { bench, orders: settled.orders }, findings };
};

const settleFormats = async (
  to: string | undefined,
  file: PatternFile,
): Promise<{ readonly formats: readonly Format[]; readonly findings: readonly Finding[] }> => {
  if (to === undefined) return { formats: [file.format], findings: [] };
  const asked = [...new Set(to.split(',').map((name) => name.trim().toLowerCase()))];
  const unknown = asked.filter((name) => !(formatNames as readonly string[]).includes(name));
  const formats = await Promise.all(
    asked.filter((n) => !unknown.includes(n)).map((n) => formatCalled(n as FormatName)),
  );
  return { formats, findings: unknown.map(unknownFormat) };
};

const unknownFormat = (name: string): Finding => ({
  code: 'job-option-unknown',
  level: 'error',
  where: {},
  message: `“${name}” is not a format that can be written.`,
  try: `Write --to ${formatNames.join(',')}, or one of them.`,
});
