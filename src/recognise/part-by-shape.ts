import type { PartName } from '../pattern/piece.ts';
import type { TemplateFacts } from './align.ts';
import { align, MOST_SURPLUS, OUTLINE } from './align.ts';
import { isBandShaped } from './band.ts';
import type { DartFound } from './darts.ts';
import type { Garment, PartReading } from './parts.ts';
import type { RoleDoubt } from './roles.ts';
import type { Shape } from './shape.ts';
import type { Template } from './template.ts';
import { templates } from './templates.ts';

/** What a piece is, and a second answer that is about as likely. */
export interface PartDecision {
  readonly part: PartReading;
  readonly doubt?: RoleDoubt;
  /** How much more its shape is that of a front than of a back, where it is one of the two. */
  readonly lean?: number;
}

/** An outline that fits a part worse than this is not told by its shape; two that are nearer than EQUAL, not apart. */
const GOOD = 0.62;
/** A sleeve has four edges, as many things have: it is told by nothing less. */
const GOOD_SLEEVE = 0.8;
const EQUAL = 0.2;

interface ShapeReading {
  readonly part: PartName;
  readonly shape: number;
  readonly score: number;
}

/** The best fit for each part that an outline may be, best first. */
const partsByShape = (
  shape: Shape,
  fits: (part: PartName, t: Template) => boolean,
  facts: TemplateFacts,
): ShapeReading[] => {
  const best = new Map<PartName, ShapeReading>();
  for (const template of templates) {
    const parts = template.parts.filter((p) => fits(p, template));
    if (parts.length === 0 || shape.stretches.length > template.ring.length + MOST_SURPLUS) continue;
    const found = align(shape, [template], facts)[0];
    if (!found) continue;
    for (const part of parts) {
      const before = best.get(part);
      if (!before || found.score > before.score) best.set(part, { part, shape: found.shape, score: found.score });
    }
  }
  return [...best.values()].sort((a, b) => b.score - a.score);
};

/** Its outline is like the part's, and no word or dart speaks against it. */
const isLike = (r: ShapeReading | undefined): r is ShapeReading =>
  r !== undefined && r.shape >= (r.part === 'sleeve' ? GOOD_SLEEVE : GOOD) && r.score >= OUTLINE * GOOD;

/**
 * What a piece is where its words leave it open: by its shape, where that leaves one answer. `garment` is what the rest
 * of the pattern says it is of.
 */
export const decidePart = (
  named: PartReading,
  shape: Shape,
  darts: readonly DartFound[],
  garment: Garment | undefined,
  facts: TemplateFacts,
): PartDecision => {
  if (named.part !== 'unknown') return { part: refined(named, shape, facts) };
  if (isBandShaped(shape) && garment !== undefined && garment !== 'bodice')
    return { part: byShape(named, 'waistband', `it is a long narrow band, and the pattern is of ${spelt(garment)}`) };
  const found =
    garment === 'skirt' ? [] : partsByShape(shape, (p) => isToldByShape(p) && fitsWords(p, named.side, garment), facts);
  const best = found[0];
  const dartEdges = new Set(darts.flatMap((d) => (d.stretch === undefined ? [] : [d.stretch])));
  const skirtLike = shape.stretches.length >= 4 && shape.stretches.length <= 6 && dartEdges.size === 1;
  const isSkirt = skirtLike && (garment === undefined || garment === 'skirt');
  if (isLike(best) && !(isSkirt && best.part === 'sleeve')) return amongParts(named, best, found);
  if (!isSkirt) return { part: named };
  const part: PartName = named.side ? `skirt ${named.side}` : 'skirt';
  return { part: byShape(named, part, 'its outline is that of a skirt piece, with darts on one end') };
};

const amongParts = (named: PartReading, best: ShapeReading, found: readonly ShapeReading[]): PartDecision => {
  const part = byShape(named, best.part, `its outline is that of a ${best.part}`);
  const rival = found.find((f) => f.part !== best.part);
  const isFront = best.part.endsWith('front');
  const twin = found.find((f) => f.part === otherSide(best.part));
  return {
    part,
    ...(rival && best.score - rival.score < EQUAL ? { doubt: partDoubt(best.part, rival.part) } : {}),
    ...(twin ? { lean: (best.score - twin.score) * (isFront ? 1 : -1) } : {}),
  };
};

/** The back of the same tier for a front, and the other way round. */
export const otherSide = (part: PartName): PartName =>
  (part.endsWith('front') ? part.replace(/front$/, 'back') : part.replace(/back$/, 'front')) as PartName;

const spelt = (garment: Garment): string => (garment === 'trousers' ? garment : `a ${garment}`);

const byShape = (named: PartReading, part: PartName, says: string): PartReading => ({
  ...named,
  part,
  evidence: [{ says, weight: 0.5 }],
  confidence: 0.5,
});

/** Outlines of collars, facings, side panels and halves of sleeves are too plain to be told without a word. */
const isToldByShape = (part: PartName): boolean =>
  part === 'sleeve' || /^(bodice|dress|trouser) (front|back)$/.test(part);

const fitsWords = (part: PartName, side: 'front' | 'back' | undefined, garment: Garment | undefined): boolean => {
  const tier = part.split(' ')[0];
  if (side && !part.endsWith(side)) return false;
  if (garment === undefined) return true;
  if (garment === 'trousers') return tier === 'trouser';
  return tier !== 'trouser' && (garment === 'dress' || tier !== 'dress');
};

const partDoubt = (part: PartName, rival: PartName): RoleDoubt => ({
  code: 'recognise-part-doubtful',
  about: 'what it is of the garment',
  message: `by its shape it could be a ${part} or a ${rival}`,
  set: `part: ${part}`,
});

/** How much better another reading must be than the one the rest of the pattern suggests. */
const PLAINLY = 0.3;

/**
 * A part whose garment only the rest of the pattern names gives way to a shape that is plainly another's: the bodice of
 * a dress whose skirt alone is called one; a dress front that ends at the waist is a bodice front.
 */
const refined = (named: PartReading, shape: Shape, facts: TemplateFacts): PartReading => {
  const { part } = named;
  const side = part.endsWith('front') ? 'front' : part.endsWith('back') ? 'back' : undefined;
  if (named.garmentFrom === 'pattern' && part.startsWith('skirt') && side) {
    const found = partsByShape(shape, (p) => p === `bodice ${side}` || p === `trouser ${side}`, facts)[0];
    return found && found.shape >= 0.75 ? byShape(named, found.part, `its outline is that of a ${found.part}`) : named;
  }
  if (part.startsWith('dress') && side) {
    const other = part.replace('dress', 'bodice') as PartName;
    const toWaist = partsByShape(shape, (p, t) => p === other && !t.waistInside, facts)[0];
    const own = partsByShape(shape, (p) => p === part, facts)[0];
    return isLike(toWaist) && toWaist.score > (own?.score ?? 0) + PLAINLY ? { ...named, part: other } : named;
  }
  return named;
};
