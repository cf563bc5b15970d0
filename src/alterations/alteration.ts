import type { Finding } from '../finding.ts';
import type { Garment } from '../paper/garment.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { AlterationCard, LengthShown, PlannedStep, Share } from './contract.ts';

/** One figure variation: what is published of it, how it is shared out, and how it is done on paper. */
export interface Alteration {
  readonly card: AlterationCard;
  /** Lengths are altered first, then widths, then shape. */
  readonly stage: 'length' | 'width' | 'shape';
  /** Whether front and back seams that came out uneven are put right at the waist or at the hem. */
  readonly evenAt: 'waist' | 'hem';
  /** Shares a signed amount over the places that can take it. */
  divide(request: Request): Division;
  /** Does one planned step. */
  alter(garment: Garment, step: PlannedStep): Garment;
  /** What a share does to its piece, as the trade says it: 'side edge out ½ in at the hip, parallel below it'. */
  says(share: Share, step: PlannedStep, show: LengthShown): string;
  /** Worked examples that the tests run: a whole change, and what one place takes of it. */
  readonly examples: readonly Example[];
}

/** What is asked of an alteration. */
export interface Request {
  readonly pattern: Pattern;
  /** Whole needed change, mm, signed. */
  readonly amount: number;
  /** Options as chosen, defaults filled in. */
  readonly options: Readonly<Record<string, string>>;
  readonly beyondLimits: boolean;
  readonly show: LengthShown;
}

export interface Division {
  readonly shares: readonly Share[];
  readonly findings: readonly Finding[];
  /** The arithmetic in one line. */
  readonly explanation: string;
}

/** A worked example on a pattern with front and back on the fold and two side seams, inches. */
export interface Example {
  readonly says: string;
  readonly amount: number;
  readonly share: number;
  readonly source: string;
}
