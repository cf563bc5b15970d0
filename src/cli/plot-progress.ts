import type { PlotProgress, PlotRequest } from '../job/plot/plot.ts';
import { plural } from '../job/words.ts';
import type { Io } from './io.ts';

/** Between two lines that tell how far the layout is, ms. */
const PATIENCE = 5000;
/** From so many patterns, pieces or fittings on it takes long enough to be told as soon as it begins. */
const MANY = 30;

/** A line now and then while a layout takes long, and where much is to be laid one at once. It tells, and changes nothing. */
export const progressTold = (io: Io, now: () => number = Date.now): NonNullable<PlotRequest['onProgress']> => {
  let last = now();
  let begun = '';
  return (progress) => {
    const step = progress.doing === 'reading patterns' ? progress.doing : `${progress.doing} ${progress.plot}`;
    const begins = step !== begun && howMany(progress) >= MANY;
    begun = step;
    if (!begins && now() - last < PATIENCE) return;
    last = now();
    io.err(`${progress.doing}: ${begins ? beginning(progress) : soFar(progress)}\n`);
  };
};

const howMany = (progress: PlotProgress): number => {
  if (progress.doing === 'reading patterns') return progress.patterns;
  return progress.doing === 'reckoning cloth' ? progress.fittings : progress.pieces;
};

/** `chorus-skirt, 600 pieces in 13 lots`. */
const beginning = (progress: PlotProgress): string => {
  if (progress.doing === 'reading patterns') return `${progress.patterns} of them`;
  const { plot } = progress;
  if (progress.doing === 'reckoning cloth') return `${plot}, what each of ${progress.fittings} fittings needs`;
  const lots = progress.lots > 1 ? ` in ${progress.lots} lots, one after the other` : '';
  return `${plot}, ${plural(progress.pieces, 'piece')}${lots}`;
};

/** `lot 3 of 13 (96 of 600 pieces laid), 47 %, 7458 mm`. */
const soFar = (progress: PlotProgress): string => {
  if (progress.doing === 'reading patterns') return `${progress.read} of ${progress.patterns}`;
  if (progress.doing === 'reckoning cloth') return `fitting ${progress.reckoned + 1} of ${progress.fittings}`;
  const { lot, lots, laid, pieces, placed, inLot, iterations, of, length } = progress;
  const which = lots > 1 ? `lot ${lot} of ${lots} (${laid} of ${pieces} pieces laid), ` : '';
  const how =
    placed < inLot
      ? `a first place for ${placed} of ${plural(inLot, 'piece')}`
      : `${of > 0 ? Math.round((100 * iterations) / of) : 100} %`;
  return `${which}${how}, ${Math.round(length)} mm`;
};
