import type { LengthShown } from '../../alterations/contract.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import type { Ledger } from '../ledger.ts';
import type { PieceNames } from '../words.ts';
import { pieceNames } from '../words.ts';

/** What a fitting's page is made of. */
export interface ReportParts {
  readonly ledger: Ledger;
  /** As drafted. */
  readonly before: Pattern;
  /** As the written file has it; absent when nothing was written. */
  readonly after?: Pattern | undefined;
  /** The fitting's folder within that of the run, with `/`. */
  readonly folder: string;
}

/** What every section needs to put things into words. */
export interface Telling {
  readonly show: LengthShown;
  readonly names: PieceNames;
}

export const tellingOf = (ledger: Ledger): Telling => ({
  show: ledger.shownIn,
  names: pieceNames(ledger.source.pieces),
});

/** The first letter large. */
export const headed = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** A path within the run's folder as a link: each part encoded, the slashes kept. */
export const linkTo = (path: string): string => path.split('/').map(encodeURIComponent).join('/');

/** From a folder within the run's folder back to a file in that. */
export const upTo = (folder: string, file: string): string =>
  `${folder
    .split('/')
    .map(() => '../')
    .join('')}${file}`;
