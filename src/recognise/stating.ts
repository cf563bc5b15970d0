import type { TextDrawable } from '../formats/drawing.ts';
import { isProblem, parseLength } from '../measurements/units.ts';
import type { Vocabulary } from './vocabulary.ts';
import { normalise, says } from './vocabulary.ts';

/** Allowances that the texts of a piece or a drawing state, mm. */
export interface StatedAllowance {
  readonly seam?: number;
  readonly hem?: number;
  /** The outline is the cutting line (allowance included) or the seam line (allowance to be added). */
  readonly outline?: 'cutting line' | 'seam line';
  readonly text: string;
}

const LENGTH =
  /(\d+\s+\d+\s*[/⁄]\s*\d+|\d+\s*[/⁄]\s*\d+|\d*\s*[¼½¾⅛⅜⅝⅞]|\d+(?:[.,]\d+)?)\s*(mm|cm|in\b|inch(?:es)?|zoll|pouces?|pulgadas?|pollici|polegadas?|"|″|ミリ|センチ)/iu;

const lengthIn = (text: string): number | undefined => {
  const found = LENGTH.exec(text);
  if (!found) return undefined;
  const read = parseLength(`${found[1]} ${unitSpelt(found[2] ?? '')}`);
  return isProblem(read) || read.mm < 0 || read.mm > 150 ? undefined : read.mm;
};
const unitSpelt = (unit: string): string => {
  const u = unit.toLowerCase();
  if (u === 'mm' || u === 'ミリ') return 'mm';
  return u === 'cm' || u === 'センチ' ? 'cm' : 'in';
};

/** Reads stated allowances; undefined when the texts say nothing of allowances. */
export const readStatedAllowance = (
  texts: readonly TextDrawable[],
  vocabulary: Vocabulary,
): StatedAllowance | undefined => {
  let found: StatedAllowance | undefined;
  for (const { text } of texts) {
    const phrases = vocabulary.phrasesIn(text);
    const seam = says(phrases, 'allowance');
    const hem = says(phrases, 'hem allowance');
    if (!seam && !hem) continue;
    const length = lengthIn(text);
    const without = says(phrases, 'not included') || length === 0;
    const included = says(phrases, 'included') && !without;
    found = {
      ...found,
      ...(seam && length !== undefined && length > 0 ? { seam: length } : {}),
      ...(hem && !seam && length !== undefined ? { hem: length } : {}),
      ...(without
        ? { outline: 'seam line' as const }
        : included || (length !== undefined && length > 0)
          ? { outline: 'cutting line' as const }
          : {}),
      text: found?.text ?? text.trim(),
    };
  }
  return found;
};

/** What a piece's texts say of cutting. */
export interface StatedCut {
  readonly counts: readonly { readonly count: number; readonly text: string }[];
  readonly pair: boolean;
  readonly onFold: boolean;
}

const numberWords: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  once: 1,
  twice: 2,
  ein: 1,
  eins: 1,
  einmal: 1,
  zwei: 2,
  zweimal: 2,
  drei: 3,
  vier: 4,
  viermal: 4,
  un: 1,
  une: 1,
  deux: 2,
  trois: 3,
  quatre: 4,
  uno: 1,
  una: 1,
  dos: 2,
  tres: 3,
  cuatro: 4,
  due: 2,
  tre: 3,
  quattro: 4,
  um: 1,
  uma: 1,
  dois: 2,
  duas: 2,
  quatro: 4,
  een: 1,
  eenmaal: 1,
  twee: 2,
  tweemaal: 2,
  drie: 3,
  一: 1,
  二: 2,
  三: 3,
  四: 4,
};

/** What a count without a cutting word may stand beside: how, or of what, the piece is cut. */
const howCut = ['fold', 'pair', 'shell', 'lining', 'interlining'] as const;

/** The count in `1x im Stoffbruch`, `2 × Futter`: so often, and on the fold or of which cloth. */
const timesIn = (text: string, vocabulary: Vocabulary): number | undefined => {
  const found = /(?<![\p{L}\d.,])(\d{1,2})\s*[x×](?![\p{L}\d]|\s*\d)/iu.exec(text);
  const count = Number(found?.[1]);
  if (!found || count < 1 || count > 24) return undefined;
  const phrases = vocabulary.phrasesIn(text);
  return howCut.some((m) => says(phrases, m)) ? count : undefined;
};

/** The count beside a cutting word: `cut 2`, `2x zuschneiden`, `couper 2 fois`, `2枚裁つ`, `Quantity: 2`. */
const countIn = (text: string, vocabulary: Vocabulary): number | undefined => {
  const key = normalise(text).replace(/(\d)\s*x\b/g, '$1');
  const cuts = vocabulary.phrasesIn(text).filter((p) => p.meaning === 'cut');
  if (cuts.length === 0) return timesIn(text, vocabulary);
  const numbers = [...key.matchAll(/(?<![\p{L}\d])(\d{1,2}|\p{L}+)(?=[\s枚x]|$)/gu)].flatMap((m) => {
    const word = m[1] as string;
    const value = /^\d+$/.test(word) ? Number(word) : numberWords[word];
    return value !== undefined && value > 0 && value <= 24 ? [{ value, at: m.index }] : [];
  });
  const place = (key.indexOf(cuts[0]?.found ?? '') + 1 || 1) - 1;
  const nearest = numbers.sort((a, b) => Math.abs(a.at - place) - Math.abs(b.at - place))[0];
  return nearest && Math.abs(nearest.at - place) <= 20 ? nearest.value : undefined;
};

export const readStatedCut = (texts: readonly TextDrawable[], vocabulary: Vocabulary): StatedCut => {
  const counts = texts.flatMap((t) => {
    const count = countIn(t.text, vocabulary);
    return count === undefined ? [] : [{ count, text: t.text.trim() }];
  });
  const phrases = texts.flatMap((t) => vocabulary.phrasesIn(t.text));
  const cutOnFold = texts.some((t) => {
    const own = vocabulary.phrasesIn(t.text);
    return says(own, 'fold') && (says(own, 'cut') || timesIn(t.text, vocabulary) !== undefined);
  });
  return {
    counts,
    pair: says(phrases, 'pair'),
    onFold: cutOnFold || texts.some((t) => /\b(cut|place)\b.*\bfold\b/i.test(t.text)),
  };
};
