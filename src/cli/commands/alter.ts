import { basename } from 'node:path';
import type { WrittenFitting } from '../../job/plot/fittings.ts';
import type { PlotOptions } from '../../job/plot/options.ts';
import { ledgerIn } from '../../job/run/files.ts';
import type { AlterRequest, FittingTold } from '../../job/run/run.ts';
import { alter as alterPatterns } from '../../job/run/run.ts';
import { runLine, summaryOf } from '../../job/summary.ts';
import { faultText } from '../fault.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import { jsonList } from '../json-list.ts';
import type { FittingOptions } from '../options.ts';
import { fittingRequest } from '../options.ts';
import { progressOn } from '../progress.ts';

export interface AlterOptions
  extends FittingOptions,
    Omit<PlotOptions, 'to'>,
    Pick<AlterRequest, 'names' | 'workers' | 'resume' | 'retryFailed' | 'failFast' | 'dryRun' | 'shard'> {
  readonly out: string;
  readonly force?: boolean;
  /** Formats of the sheets, or true for the usual one. */
  readonly plot?: string | true;
}

export const alter = async (patterns: readonly string[], options: AlterOptions, io: Io): Promise<number> => {
  if (options.plot === undefined) return (await alterAll(patterns, options, io)).exit;
  // What lays out is read only where something is laid out.
  const { settleSheets, plotWritten } = await import('./alter-plot.ts');
  const sheets = plotOptions(options, options.plot);
  const unready = [...(await settleSheets(sheets)), ...notWithPlot(options)];
  findingPrinter(io)(unready);
  if (unready.some((f) => f.level === 'error')) return 2;
  const { exit, written } = await alterAll(patterns, options, io);
  return written.length === 0 ? exit : Math.max(exit, await plotWritten(written, sheets, options, io));
};

/** The run itself, told as it goes on. */
const alterAll = async (
  patterns: readonly string[],
  options: AlterOptions,
  plainIo: Io,
): Promise<{ readonly exit: number; readonly written: readonly WrittenFitting[] }> => {
  const progress = await progressOn(plainIo);
  const { io } = progress;
  const tell = findingPrinter(io);
  const list = jsonList(io.out);
  const written: WrittenFitting[] = [];
  const result = await alterPatterns(alterRequest(patterns, options), {
    onFindings: tell,
    onProgress: progress.show,
    onFitting: async (told) => {
      if (options.plot !== undefined) written.push(...writtenOf(told));
      const findings = told.ledger?.findings ?? told.findings;
      // What is alike in several patterns is told of each.
      const of = patterns.length > 1 && told.pattern !== undefined ? { file: basename(told.pattern) } : {};
      tell(findings.map((f) => ({ ...f, where: { ...of, ...f.where, fitting: told.fitting } })));
      if (options.json) list.add(await recordOf(told, options.dryRun === true));
      else if (told.ledger) io.out(`${summary(told, options.dryRun === true, patterns.length > 1)}\n`);
    },
  }).finally(progress.stop);
  const counted = result.done + result.refused + result.failed;
  if (options.json) list.end();
  else if (counted > 0) plainIo.out(`${runLine(result, options.out, options.dryRun)}\n`);
  for (const fault of result.faults) plainIo.err(faultText(fault, ['alter', ...patterns]));
  return { exit: result.exit, written: options.dryRun ? [] : written };
};

const summary = ({ ledger, folder, files }: FittingTold, dry: boolean, several: boolean): string =>
  ledger ? summaryOf(ledger, folder ?? '', { several, ...(dry ? { told: 'amounts', wouldWrite: files } : {}) }) : '';

/** What is printed of a fitting as JSON: its ledger, also when an earlier run wrote it; on a dry run with its files. */
const recordOf = async (told: FittingTold, dry: boolean): Promise<unknown> => {
  const { fitting, status, ledger, findings, folder, files } = told;
  if (ledger) return dry ? { ...ledger, toWrite: files } : ledger;
  return (folder === undefined ? undefined : await ledgerIn(folder)) ?? { fitting, status, findings };
};

/** The pattern as it was altered, to be laid out. */
const writtenOf = ({ fitting, status, files, pattern }: FittingTold): WrittenFitting[] => {
  const [path] = files;
  return status === 'done' && path !== undefined && pattern !== undefined ? [{ fitting, path, pattern }] : [];
};

const alterRequest = (patterns: readonly string[], options: AlterOptions): AlterRequest => {
  const { out, force = false, names, workers, resume, retryFailed, failFast, dryRun, shard } = options;
  const run = { out, force, names, workers, resume, retryFailed, failFast, dryRun, shard };
  return { ...fittingRequest(patterns, options), ...run };
};

const notWithPlot = ({ shard }: AlterOptions) =>
  shard === undefined
    ? []
    : [
        {
          code: 'job-option-clash',
          level: 'error',
          where: {},
          message: '--plot lays all fittings out together, and --shard does only a part of them.',
          try: 'Alter all parts, merge them with retrue merge, and plot with retrue plot.',
        } as const,
      ];

const plotOptions = (options: AlterOptions, plot: string | true): PlotOptions => {
  const { roll, paper, machine, lay, line, copies, nap, gap, margin, overlap, cloth, effort, seed } = options;
  const { userUnit, testSquare } = options;
  const laid = { roll, paper, machine, lay, line, copies, nap, gap, margin, overlap, cloth, effort, seed };
  return { ...laid, userUnit, testSquare, to: plot === true ? 'pdf' : plot };
};
