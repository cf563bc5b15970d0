import { type PlotRequest, plot as plotPatterns } from '../../job/plot.ts';
import { plotText } from '../../job/plot-report.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ReadingOptions } from '../options.ts';
import { patternOptions } from '../options.ts';

export interface PlotCommandOptions
  extends ReadingOptions,
    Omit<PlotRequest, 'patterns' | 'out' | 'force' | 'onProgress' | keyof ReadingOptions> {
  readonly out: string;
  readonly force?: boolean;
}

export const plot = async (patterns: readonly string[], options: PlotCommandOptions, io: Io): Promise<number> => {
  const force = options.force ?? false;
  const onProgress = progressTold(io);
  const request: PlotRequest = { ...options, ...patternOptions(options), patterns, force, onProgress };
  const { reports, findings, exit } = await plotPatterns(request);
  findingPrinter(io)(findings);
  if (options.json) io.out(`${JSON.stringify(reports, null, 2)}\n`);
  else for (const report of reports) io.out(`${plotText(report, options.out, lengthShown(options.show, 'mm'))}\n`);
  return exit;
};

/** Between two lines that tell how far the layout is, ms. */
const PATIENCE = 5000;

/** A line now and then while a layout takes long. It tells, and changes nothing. */
export const progressTold = (io: Io): NonNullable<PlotRequest['onProgress']> => {
  let last = Date.now();
  return ({ iterations, of, length }) => {
    if (Date.now() - last < PATIENCE) return;
    last = Date.now();
    io.err(`laying out: ${Math.round((100 * iterations) / of)} %, ${Math.round(length)} mm\n`);
  };
};
