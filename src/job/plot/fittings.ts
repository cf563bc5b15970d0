import { basename, dirname, extname, join } from 'node:path';
import type { PatternFileOptions } from '../patternfile.ts';
import { exists } from '../store.ts';
import type { PlotOptions } from './options.ts';
import { type PlotRequest, type PlotResult, plot } from './plot.ts';

/** One altered pattern as it was written. */
export interface WrittenFitting {
  readonly fitting: string;
  /** Path of the file. */
  readonly path: string;
  /** Path of the pattern that was altered. */
  readonly pattern: string;
}

export interface FittingsPlotRequest extends PatternFileOptions, PlotOptions {
  readonly written: readonly WrittenFitting[];
  readonly out: string;
  readonly force: boolean;
  readonly resume?: boolean;
  readonly onProgress?: PlotRequest['onProgress'];
}

/**
 * Lays out the pieces of all fittings that were done, read again from what was written, each with the pattern sheet and
 * the units of the pattern it was made from.
 */
export const plotFittings = async (request: FittingsPlotRequest): Promise<PlotResult> => {
  const { written, ...options } = request;
  const readAs = await Promise.all(
    written.map(async ({ path, pattern }): Promise<PatternFileOptions> => {
      const beside = join(dirname(pattern), `${basename(pattern, extname(pattern))}.sheet.yaml`);
      const sheet = request.sheet ?? ((await exists(beside)) ? beside : undefined);
      const units = extname(path) === extname(pattern) ? request.units : undefined;
      return { sheet, units, view: request.view };
    }),
  );
  const fittings = written.map((w) => w.fitting);
  return plot({ ...options, patterns: written.map((w) => w.path), fittings, readAs });
};
