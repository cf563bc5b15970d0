import type { Judged } from '../pattern/evidence.ts';
import type { Cloth, PartName } from '../pattern/piece.ts';
import { judge } from './judging.ts';
import type { Phrase, Vocabulary } from './vocabulary.ts';
import { normalise, says } from './vocabulary.ts';
import type { Meaning } from './words.ts';

const partMeanings: ReadonlySet<Meaning> = new Set<Meaning>([
  'front',
  'back',
  'skirt',
  'side panel',
  'gore',
  'waistband',
  'facing',
  'pocket',
  'yoke',
  'bodice',
  'dress',
  'sleeve',
  'upper sleeve',
  'under sleeve',
  'trousers',
  'collar',
  'cuff',
]);

/** Phrases of the texts that name a part of a garment. */
export const partsNamedIn = (texts: readonly string[], vocabulary: Vocabulary): readonly Phrase[] =>
  texts.flatMap((t) => vocabulary.phrasesIn(t).filter((p) => partMeanings.has(p.meaning)));

export type Garment = 'skirt' | 'bodice' | 'dress' | 'trousers';
const garments: readonly Garment[] = ['skirt', 'dress', 'trousers', 'bodice'];

export const garmentNamedIn = (phrases: readonly Phrase[]): Garment | undefined =>
  garments.find((g) => says(phrases, g));

/** A text that may say what the piece is, the surest source first. */
export interface NameSource {
  readonly text: string;
  readonly from: string;
  readonly weight: number;
}

export interface PartReading extends Judged {
  readonly part: PartName;
  /** Front or back, where the words say so and the garment is not known. */
  readonly side?: 'front' | 'back';
  /** Where the garment is from: the piece's own words, or what the rest of the pattern is of. */
  readonly garmentFrom?: 'words' | 'pattern';
}

/** Parts that are no front or back of a garment, by the word that names them. */
const plainParts = ['pocket', 'yoke', 'upper sleeve', 'under sleeve', 'sleeve', 'collar', 'cuff'] as const;

const whole = (phrases: readonly Phrase[], garment: Garment | undefined): PartName | undefined => {
  const front = says(phrases, 'front') || says(phrases, 'centre front');
  const back = says(phrases, 'back') || says(phrases, 'centre back');
  if (says(phrases, 'waistband')) return 'waistband';
  if (says(phrases, 'facing')) return front === back ? 'facing' : front ? 'front facing' : 'back facing';
  for (const part of plainParts) if (says(phrases, part)) return part;
  const named = garmentNamedIn(phrases) ?? garment;
  if (says(phrases, 'gore') && (named === 'skirt' || named === undefined)) return 'skirt gore';
  const side = says(phrases, 'side panel');
  if (side && named === 'skirt') return 'skirt side';
  const which = front ? 'front' : 'back';
  if (front !== back && side && (named === 'bodice' || named === 'dress')) return `${named} side ${which}`;
  if (front !== back && named === 'trousers') return `trouser ${which}`;
  if (front !== back && named !== undefined && named !== 'trousers') return `${named} ${which}`;
  return named === 'skirt' && garmentNamedIn(phrases) === 'skirt' ? 'skirt' : undefined;
};

/**
 * What a piece is, from the texts that may name it. `garment` is what the rest of the pattern says it is all of;
 * `centres` what the labels of its centre line say.
 */
export const readPart = (
  sources: readonly NameSource[],
  garment: Garment | undefined,
  centres: readonly ('front' | 'back')[],
  vocabulary: Vocabulary,
): PartReading => {
  let side: 'front' | 'back' | undefined;
  for (const source of sources) {
    const phrases = vocabulary.phrasesIn(source.text);
    const part = whole(phrases, garment);
    const garmentFrom = garmentNamedIn(phrases) ? 'words' : 'pattern';
    if (part) {
      const says = `${source.from} reads “${source.text}”`;
      return { part, garmentFrom, ...judge([{ says, weight: source.weight }]) };
    }
    if (says(phrases, 'front') !== says(phrases, 'back')) side ??= says(phrases, 'front') ? 'front' : 'back';
  }
  const bySide = side ?? (new Set(centres).size === 1 ? centres[0] : undefined);
  if (bySide && garment === 'skirt') {
    const from = side ? 'a text on it' : 'the label of its centre line';
    return {
      part: `skirt ${bySide}`,
      garmentFrom: 'pattern',
      ...judge([{ says: `${from} says ${bySide}, and the pattern is of a skirt`, weight: 0.7 }]),
    };
  }
  return { part: 'unknown', ...(bySide ? { side: bySide } : {}), evidence: [], confidence: 0 };
};

/** The layer of cloth named in the piece's texts. */
export const readCloth = (texts: readonly string[], vocabulary: Vocabulary): Cloth | undefined => {
  const phrases = texts.flatMap((t) => vocabulary.phrasesIn(t));
  if (says(phrases, 'shell')) return 'shell';
  if (says(phrases, 'lining')) return 'lining';
  if (says(phrases, 'interlining')) return 'interlining';
  return says(phrases, 'facing') ? 'facing' : undefined;
};

/** A short id for a piece: its part, or its name in plain letters. */
export const idFor = (part: PartName, name: string, cloth: Cloth | undefined, taken: ReadonlySet<string>): string => {
  const spelt = normalise(name).replace(/ /g, '-');
  const base = part !== 'unknown' ? part.replace(/ /g, '-') : spelt || 'piece';
  if (!taken.has(base)) return base;
  if (cloth && cloth !== 'shell' && !taken.has(`${base}-${cloth}`)) return `${base}-${cloth}`;
  if (spelt && !taken.has(spelt)) return spelt;
  for (let n = 2; ; n++) if (!taken.has(`${base}-${n}`)) return `${base}-${n}`;
};
