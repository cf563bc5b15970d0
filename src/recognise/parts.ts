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
}

const whole = (phrases: readonly Phrase[], garment: Garment | undefined): PartName | undefined => {
  const front = says(phrases, 'front');
  const back = says(phrases, 'back');
  if (says(phrases, 'waistband')) return 'waistband';
  if (says(phrases, 'facing')) return front === back ? 'facing' : front ? 'front facing' : 'back facing';
  for (const part of ['pocket', 'yoke', 'sleeve', 'collar', 'cuff'] as const) if (says(phrases, part)) return part;
  const named = garmentNamedIn(phrases) ?? garment;
  if (says(phrases, 'gore') && (named === 'skirt' || named === undefined)) return 'skirt gore';
  if (says(phrases, 'side panel') && named === 'skirt') return 'skirt side';
  if (front !== back && named === 'trousers') return front ? 'trouser front' : 'trouser back';
  if (front !== back && named !== undefined && named !== 'trousers') return `${named} ${front ? 'front' : 'back'}`;
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
    if (part) return { part, ...judge([{ says: `${source.from} reads “${source.text}”`, weight: source.weight }]) };
    if (says(phrases, 'front') !== says(phrases, 'back')) side ??= says(phrases, 'front') ? 'front' : 'back';
  }
  const bySide = side ?? (new Set(centres).size === 1 ? centres[0] : undefined);
  if (bySide && garment === 'skirt') {
    const from = side ? 'a text on it' : 'the label of its centre line';
    return {
      part: `skirt ${bySide}`,
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
export const idFor = (part: PartName, name: string, taken: ReadonlySet<string>): string => {
  const spelt = normalise(name).replace(/ /g, '-');
  const base = part !== 'unknown' ? part.replace(/ /g, '-') : spelt || 'piece';
  if (!taken.has(base)) return base;
  if (spelt && !taken.has(spelt)) return spelt;
  for (let n = 2; ; n++) if (!taken.has(`${base}-${n}`)) return `${base}-${n}`;
};
