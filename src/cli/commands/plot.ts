import { type PlotRequest, plot as plotPatterns } from '../../job/plot/plot.ts';
import { plotText } from '../../job/plot/report.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ReadingOptions } from '../options.ts';
import { patternOptions } from '../options.ts';
import { progressTold } from '../plot-progress.ts';

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
