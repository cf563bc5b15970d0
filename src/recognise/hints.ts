import type { Container, Drawable, Drawing } from '../formats/drawing.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Vocabulary } from './vocabulary.ts';
import { normalise } from './vocabulary.ts';
import type { Meaning } from './words.ts';

/** What the file itself says a line is: by its numbered layer, its named layer, its own labels, or its group. */
export interface Hint extends Evidence {
  readonly meaning: Hinted;
}
export type Hinted = Meaning | 'turn point' | 'curve point' | 'cutout' | 'grade reference' | 'stripe' | 'validation';

export interface Hints {
  of(drawable: Drawable): readonly Hint[];
  /** The weight, 0 to 1, with which the file says so. */
  weight(drawable: Drawable, meaning: Hinted): number;
  says(drawable: Drawable, meaning: Hinted): Evidence | undefined;
}

/**
 * Numbered layers of the apparel layout of DXF (ASTM D6673 after ANSI/AAMA-292). From memory, agreed by a second
 * listing for 1-15 and 80-82; 84-87 are validation curves of 1, 8, 11 and 14.
 */
const numberedLayers: Readonly<Record<number, Hinted>> = {
  1: 'cutting line',
  2: 'turn point',
  3: 'curve point',
  4: 'notch',
  5: 'grade reference',
  6: 'fold',
  7: 'grain',
  8: 'internal',
  9: 'stripe',
  10: 'stripe',
  11: 'cutout',
  13: 'drill',
  14: 'seam line',
  15: 'annotation',
  80: 'notch',
  81: 'notch',
  82: 'notch',
  83: 'notch',
  84: 'validation',
  85: 'validation',
  86: 'validation',
  87: 'validation',
};

/** What a line can be said to be by a layer or a label; names of parts and cloths are no such thing. */
const lineMeanings: ReadonlySet<Hinted> = new Set<Hinted>([
  'grain',
  'fold',
  'fold line',
  'centre',
  'centre front',
  'centre back',
  'dart',
  'notch',
  'adjustment',
  'waist',
  'hip',
  'top hip',
  'knee',
  'hem',
  'side',
  'seam line',
  'cutting line',
  'drill',
  'tuck',
  'internal',
  'annotation',
  'frame',
  'test square',
  'pocket',
  'neck',
  'shoulder',
  'armhole',
  'cap',
  'sleeve seam',
  'wrist',
  'crotch',
  'inseam',
  'panel seam',
  'bust',
  'chest',
  'blade',
  'underarm',
  'biceps',
  'elbow',
  'bust point',
]);

/** A drawing uses numbered layers when pieces are blocks and hardly anything in them lies on a named layer. */
const usesNumberedLayers = (drawing: Drawing): boolean => {
  if (drawing.format !== 'dxf') return false;
  const root = drawing.containers.find((c) => c.kind === 'root');
  const inBlocks = drawing.drawables.filter((d) => d.container !== root?.id);
  const judged = inBlocks.length > 0 ? inBlocks : drawing.drawables;
  const numbered = judged.filter(
    (d) => /^\d{1,2}$/.test(d.layer.trim()) && numberedLayers[Number(d.layer)] !== undefined,
  );
  const hasBoundary = numbered.some((d) => Number(d.layer) === 1);
  return hasBoundary && numbered.length >= judged.length * 0.6;
};

/** The group's own names do not speak for a line when the group holds a whole piece. */
export const readHints = (
  drawing: Drawing,
  vocabulary: Vocabulary,
  holdsPiece: (container: string) => boolean,
): Hints => {
  const numbered = usesNumberedLayers(drawing);
  const containers = new Map(drawing.containers.map((c) => [c.id, c]));
  const known = new Map<string, readonly Hint[]>();

  const byNumber = (drawable: Drawable): Hint[] => {
    const meaning = numbered ? numberedLayers[Number(drawable.layer.trim())] : undefined;
    if (meaning === undefined) return [];
    return [{ meaning, says: `it lies on layer ${drawable.layer.trim()}, ${meaning}`, weight: 1 }];
  };
  const byWords = (text: string, what: string, weight: number): Hint[] => {
    if (normalise(text) === '') return [];
    const phrases = vocabulary.phrasesIn(splitCamel(text)).filter((p) => lineMeanings.has(p.meaning));
    return phrases.map((p) => ({ meaning: p.meaning, says: `${what} is called “${text}”`, weight }));
  };
  const byGroup = (container: Container | undefined): Hint[] => {
    const hints: Hint[] = [];
    for (
      let c = container;
      c !== undefined && c.kind === 'group' && !holdsPiece(c.id);
      c = containers.get(c.parent ?? '')
    ) {
      hints.push(...byWords(c.label, 'its group', 0.85), ...byWords(c.name, 'its group', 0.8));
    }
    return hints;
  };

  const of = (drawable: Drawable): readonly Hint[] => {
    const before = known.get(drawable.id);
    if (before) return before;
    const hints = [
      ...byNumber(drawable),
      ...(numbered ? [] : byWords(drawable.layer, 'its layer', 0.9)),
      ...drawable.labels.flatMap((label) => byWords(label, 'it', 0.9)),
      ...byGroup(containers.get(drawable.container)),
    ];
    known.set(drawable.id, hints);
    return hints;
  };
  const strongest = (drawable: Drawable, meaning: Hinted): Hint | undefined =>
    of(drawable)
      .filter((h) => h.meaning === meaning)
      .reduce<Hint | undefined>((best, h) => (best && best.weight >= h.weight ? best : h), undefined);
  return {
    of,
    weight: (drawable, meaning) => strongest(drawable, meaning)?.weight ?? 0,
    says: strongest,
  };
};

/** `cuttingLine` and `cutting_line1` read as words. */
const splitCamel = (text: string): string =>
  text
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/(\p{L})(\d)/gu, '$1 $2')
    .replace(/(\d)(\p{L})/gu, '$1 $2');
