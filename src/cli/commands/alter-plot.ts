import type { Finding } from '../../finding.ts';
import { plotFittings, type WrittenFitting } from '../../job/plot/fittings.ts';
import { type PlotOptions, settlePlot } from '../../job/plot/options.ts';
import { plotText } from '../../job/plot/report.ts';
import { takesUp } from '../../job/run/settings.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import { patternOptions } from '../options.ts';
import { progressTold } from '../plot-progress.ts';
import type { AlterOptions } from './alter.ts';

/** What is wrong with what is asked of the sheets. */
export const settleSheets = async (sheets: PlotOptions): Promise<readonly Finding[]> =>
  (await settlePlot(sheets)).findings;

/** Lays out what was altered, all of it together, and writes the sheets; gives 1 where something could not be. */
export const plotWritten = async (
  written: readonly WrittenFitting[],
  sheets: PlotOptions,
  options: AlterOptions,
  io: Io,
): Promise<0 | 1> => {
  const { out, force = false } = options;
  const onProgress = progressTold(io);
  const plotted = await plotFittings({
    ...patternOptions(options),
    ...sheets,
    written,
    out,
    force,
    resume: takesUp(options),
    onProgress,
  });
  findingPrinter(io)(plotted.findings);
  const show = lengthShown(options.show, 'mm');
  if (!options.json) for (const report of plotted.reports) io.out(`${plotText(report, out, show)}\n`);
  return plotted.exit > 0 ? 1 : 0;
};
