import type { NameSource } from './parts.ts';
import { partsNamedIn } from './parts.ts';
import type { DrawnPiece } from './pieces.ts';
import type { Vocabulary } from './vocabulary.ts';
import { normalise, says } from './vocabulary.ts';

/** Texts of the apparel layout, `Piece Name: Skirt front`, read leniently: any case, spaces, colon or equals sign or none. */
const FIELD =
  /^\s*(piece\s*name|style\s*name|sample\s*size|base\s*size|quantity|material|category|annotation|size|units|author|style|name)\s*[:=]\s*(.*)$/i;

/** The value of such a text: 'piece name', 'style name', … */
export const fieldIn = (text: string, name: string): string | undefined => {
  const found = FIELD.exec(text);
  return found && normalise(found[1] ?? '') === name ? (found[2] ?? '').trim() : undefined;
};
export const fieldAmong = (
  texts: readonly { readonly text: string }[],
  ...names: readonly string[]
): string | undefined => {
  for (const name of names) {
    for (const t of texts) {
      const value = fieldIn(t.text, name);
      if (value) return value;
    }
  }
  return undefined;
};

/** Names programs give when nobody named the thing. */
const isMadeUp = (name: string): boolean =>
  /^(?:[gb*]?[_-]?\d+|(?:layer|group|block|path|svg|use|model[_ ]space|ebene|calque|capa)[\s_-]*\d*|[*].*)$/i.test(
    name.trim(),
  );

/** Where a piece's name may stand, the surest first. */
export const nameSources = (piece: DrawnPiece, vocabulary: Vocabulary): NameSource[] => {
  const sources: NameSource[] = [];
  const stated = fieldAmong(piece.texts, 'piece name');
  if (stated) sources.push({ text: stated, from: 'its piece name', weight: 1 });
  const { label, name } = piece.container;
  const isRoot = piece.container.kind === 'root';
  const what = piece.container.kind === 'block' ? 'its block' : 'its group';
  if (!isRoot && label !== '' && !isMadeUp(label)) sources.push({ text: label, from: what, weight: 0.95 });
  const naming = piece.texts
    .filter((t) => partsNamedIn([t.text], vocabulary).length > 0 && fieldIn(t.text, 'piece name') === undefined)
    .sort((a, b) => b.height - a.height);
  const name1 = !isRoot && name !== '' && !isMadeUp(name) ? [{ text: spaced(name), from: what, weight: 0.9 }] : [];
  return [...sources, ...name1, ...naming.map((t) => ({ text: t.text.trim(), from: 'a text on it', weight: 0.85 }))];
};

const spaced = (name: string): string => name.replace(/[_-]+/g, ' ').replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2');

/** The name printed on a piece: the surest source that names a part, else the surest of all. */
export const printedName = (sources: readonly NameSource[], vocabulary: Vocabulary): string =>
  nameProper(
    (
      sources.find((s) => s.weight === 1) ??
      sources.find((s) => partsNamedIn([s.text], vocabulary).length > 0) ??
      sources[0]
    )?.text ?? '',
    vocabulary,
  );

/** A name text without its order to cut: `Waistband, cut 1` is named Waistband. */
const nameProper = (text: string, vocabulary: Vocabulary): string => {
  const parts = text.split(/\s*[,;·|\n–—]\s*/);
  const kept = parts.filter((p) => partsNamedIn([p], vocabulary).length > 0 && !says(vocabulary.phrasesIn(p), 'cut'));
  return kept.length > 0 && parts.length > 1 ? kept.join(', ') : text;
};
