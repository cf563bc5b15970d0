import type { Finding } from '../finding.ts';
import type { Drawing } from '../formats/drawing.ts';
import type { Doubt } from '../pattern/pattern.ts';
import type { PartName } from '../pattern/piece.ts';
import type { Hints } from './hints.ts';
import type { Garment } from './parts.ts';
import type { PatternSheet } from './sheet/types.ts';
import type { StatedAllowance } from './stating.ts';
import type { Vocabulary } from './vocabulary.ts';

/** Whether a piece is of a garment whose sleeves are cut so that its edges are not those of any template. */
export const isCutOtherwise = (part: PartName, { cutOtherwise }: Pick<Context, 'cutOtherwise'>): boolean =>
  cutOtherwise !== undefined && /^(bodice|dress)|sleeve$/.test(part);

/** What all pieces of a drawing are read with. */
export interface Context {
  readonly drawing: Drawing;
  readonly vocabulary: Vocabulary;
  readonly hints: Hints;
  readonly sheet?: PatternSheet;
  /** Of what garment the pattern is, when its texts say. */
  readonly garment?: Garment;
  /** Of what some piece is called a side panel. */
  readonly panelled: readonly ('front' | 'back')[];
  /** The word, where a text says that sleeves are cut in one with the bodice or up to its neck: no template fits them. */
  readonly cutOtherwise?: string;
  /** Allowance stated for the whole pattern. */
  readonly allowance?: StatedAllowance;
  /** Findings and doubts are handed in here as they come up. */
  tell(finding: Finding): void;
  doubt(doubt: Doubt): void;
}
