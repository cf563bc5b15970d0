import type { Evidence } from '../pattern/evidence.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Claim } from './claims.ts';
import { judge } from './judging.ts';
import type { RoleDoubt, Stated } from './roles.ts';

/** What speaks for the centre of a half piece lying on the fold, or being a seam. */
export interface CentreReading {
  readonly role: EdgeRole;
  readonly evidence: readonly Evidence[];
  readonly doubt: boolean;
}

/** Whether the centre edge of a half piece lies on the fold or is a seam. A front is usually on the fold. */
export const foldOrSeam = (
  centre: readonly number[],
  facts: { readonly claims: readonly Claim[]; readonly stated: Stated; readonly isFront: boolean },
): CentreReading => {
  const fold: Evidence[] = facts.claims
    .filter((c) => centre.includes(c.stretch) && c.role === 'fold')
    .map((c) => c.evidence);
  const seam: Evidence[] = [];
  const { onFold, count, pair } = facts.stated;
  if (onFold === true) fold.push({ says: 'the piece is cut on the fold', weight: 0.8 });
  if (onFold === false) seam.push({ says: 'the pattern sheet says that it is not cut on the fold', weight: 1 });
  if (count === 1) fold.push({ says: 'a half piece that is cut once lies on the fold', weight: 0.4 });
  if (pair || (count !== undefined && count % 2 === 0 && fold.length === 0)) {
    seam.push({
      says: `a half piece that is cut ${pair ? 'as a pair' : `${count} times`} has a centre seam`,
      weight: 0.5,
    });
  }
  const total = (list: readonly Evidence[]): number => judge(list).confidence;
  const isFold = total(fold) >= total(seam);
  return {
    role: isFold && (fold.length > 0 || facts.isFront) ? 'fold' : 'centre',
    evidence: isFold ? fold : seam,
    doubt: Math.abs(total(fold) - total(seam)) < 0.15,
  };
};

export const foldDoubt = (stretch: number, fold: CentreReading): RoleDoubt => ({
  code: 'recognise-fold-doubtful',
  about: fold.role,
  stretch,
  message: `the centre edge may lie on the fold or be a seam; it is taken for ${fold.role === 'fold' ? 'the fold' : 'a seam'}`,
  set: `on fold: ${fold.role === 'fold'}`,
});
