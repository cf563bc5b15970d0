import { basename, dirname, extname, join } from 'node:path';
import type { PatternFileOptions } from './patternfile.ts';
import { type PlotRequest, type PlotResult, plot } from './plot.ts';
import type { PlotOptions } from './plot-options.ts';
import { exists } from './store.ts';

/** One altered pattern as it was written. */
export interface WrittenFitting {
  readonly fitting: string;
  /** Path of the file. */
  readonly path: string;
}

export interface FittingsPlotRequest extends PatternFileOptions, PlotOptions {
  /** The pattern that was altered. */
  readonly pattern: string;
  readonly written: readonly WrittenFitting[];
  readonly out: string;
  readonly force: boolean;
  readonly onProgress?: PlotRequest['onProgress'];
}

/**
 * Lays out the pieces of all fittings that were done, read again from what was written, with the pattern sheet and the
 * units of the pattern they were made from.
 */
export const plotFittings = async (request: FittingsPlotRequest): Promise<PlotResult> => {
  const { pattern, written, ...options } = request;
  const beside = join(dirname(pattern), `${basename(pattern, extname(pattern))}.sheet.yaml`);
  const sheet = request.sheet ?? ((await exists(beside)) ? beside : undefined);
  const same = written.every((w) => extname(w.path) === extname(pattern));
  const plotted: PlotRequest = {
    ...options,
    sheet,
    units: same ? request.units : undefined,
    patterns: written.map((w) => w.path),
    fittings: written.map((w) => w.fitting),
  };
  return plot(plotted);
};
