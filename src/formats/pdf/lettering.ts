import fontkit from '@pdf-lib/fontkit';
import type { PDFDocument, PDFFont } from 'pdf-lib';
import { stretches } from './direction.ts';
import { evenGlyphs } from './even-glyphs.ts';
import { FACES, type Face, fontBytes } from './font-files.ts';

/** A run of letters of one font, as they stand on paper from the left. */
export interface LetterRun {
  /** In the page's resources. */
  readonly font: string;
  /** Glyphs as the content stream takes them: '<00A1…>'. */
  readonly glyphs: string;
  /** For letters of size 1. */
  readonly width: number;
}

export interface Lettering {
  /** Resource name → font, for those in use. */
  readonly fonts: ReadonlyMap<string, PDFFont>;
  /** Height of a capital letter at size 1. */
  readonly capitals: number;
  /** The text as runs, and the letters that no font has: a box stands for each. */
  readonly set: (text: string) => { readonly runs: readonly LetterRun[]; readonly missing: readonly string[] };
  /** How wide the text will be at size 1. Nothing is embedded for it. */
  readonly width: (text: string) => number;
}

/** Stands for a letter that no font has. */
const BOX = '\u25af';

/** What has no picture of its own: it may be left out where the font does not know it. */
const UNSEEN = /^[\p{Default_Ignorable_Code_Point}\u200e\u200f]$/u;

interface Loaded {
  readonly name: string;
  readonly font: PDFFont;
  readonly letters: ReadonlySet<number>;
}

/**
 * Fonts for these texts, embedded as far as their letters are used. A font is opened only when a letter calls for it.
 * @param prefix of the fonts' names in the resources, where a page has letterings of several faces
 */
export const letteringFor = async (
  doc: PDFDocument,
  texts: readonly string[],
  faces: readonly Face[] = FACES,
  prefix = 'F',
): Promise<Lettering> => {
  doc.registerFontkit(fontkit);
  const wanted = new Set(texts.flatMap((t) => [...plain(t)]));
  const loaded: Loaded[] = [];
  for (const [i, face] of faces.entries()) {
    if (![...wanted].some((letter) => !loaded.some((f) => has(f, letter)))) break;
    // A subset is told from the whole font by six capitals before its name: ISO 32000-1, 9.6.4.
    const subset = { subset: true, customName: `PARTOF+${face.name}` };
    const font = await doc.embedFont(evenGlyphs(await fontBytes(face)), subset);
    loaded.push({ name: `${prefix}${i + 1}`, font, letters: new Set(font.getCharacterSet()) });
  }
  return {
    fonts: new Map(loaded.map((f) => [f.name, f.font])),
    capitals: CAPITALS,
    set: (text) => set(loaded, plain(text)),
    width: (text) =>
      parted(loaded, plain(text), new Set()).reduce((sum, p) => sum + p.from.font.widthOfTextAtSize(p.letters, 1), 0),
  };
};

/** Capital height of DejaVu Sans, from its OS/2 table: 1493 of 2048. */
const CAPITALS = 1493 / 2048;

/** Accents joined to their letters, as fonts have them; a tab is a space. */
const plain = (text: string): string => text.normalize('NFC').replaceAll('\t', ' ');

const has = (f: Loaded, letter: string): boolean => f.letters.has(letter.codePointAt(0) as number);

const set = (loaded: readonly Loaded[], text: string): { runs: LetterRun[]; missing: string[] } => {
  const missing = new Set<string>();
  return {
    runs: parted(loaded, text, missing).map(({ from, letters }) => ({
      font: from.name,
      glyphs: from.font.encodeText(letters).toString(),
      width: from.font.widthOfTextAtSize(letters, 1),
    })),
    missing: [...missing],
  };
};

interface Part {
  readonly from: Loaded;
  letters: string;
}

/** The parts in the order in which they stand on paper. */
const parted = (loaded: readonly Loaded[], text: string, missing: Set<string>): Part[] =>
  stretches(text).flatMap((stretch) => {
    const parts = byFont(loaded, stretch.text, missing);
    return stretch.rightToLeft ? parts.reverse() : parts;
  });

/** The text in parts of one font each; accents and spaces stay with the letter before. */
const byFont = (loaded: readonly Loaded[], text: string, missing: Set<string>): Part[] => {
  const parts: Part[] = [];
  for (const letter of text) {
    const last = parts[parts.length - 1];
    const stays = last && /[\p{M} ]/u.test(letter) && has(last.from, letter);
    const own = stays ? last.from : loaded.find((f) => has(f, letter));
    if (!own && UNSEEN.test(letter)) continue;
    if (!own) missing.add(letter);
    const from = own ?? loaded[0];
    if (!from) continue;
    if (last?.from === from) last.letters += own ? letter : BOX;
    else parts.push({ from, letters: own ? letter : BOX });
  }
  return parts;
};
