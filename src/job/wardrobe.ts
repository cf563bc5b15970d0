import { basename, extname } from 'node:path';
import { nearestWord, plainWords } from '../measurements/words.ts';
import type { Pattern } from '../pattern/pattern.ts';

/** A pattern with all the sizes of it that are at hand, a file to a size. */
export interface Style {
  readonly name: string;
  /** Its files, by their places among those given. */
  readonly files: readonly number[];
}

/**
 * Which of the files are sizes of one pattern: those that state one style, or whose names differ only by the size, when
 * each states a size of its own. Any other file is a pattern by itself.
 */
export const stylesOf = (patterns: readonly Pattern[]): readonly Style[] => {
  const together = new Map<string, number[]>();
  for (const [i, pattern] of patterns.entries()) {
    const name = plainWords(styleName(pattern));
    together.set(name, [...(together.get(name) ?? []), i]);
  }
  const styles = [...together.values()].flatMap((files) =>
    areSizes(files, patterns) ? [files] : files.map((f) => [f]),
  );
  return styles
    .toSorted((a, b) => (a[0] as number) - (b[0] as number))
    .map((files) => ({ name: styleName(patterns[files[0] as number] as Pattern), files }));
};

const areSizes = (files: readonly number[], patterns: readonly Pattern[]): boolean => {
  const sizes = files.map((f) => plainWords(patterns[f]?.size ?? ''));
  return !sizes.includes('') && new Set(sizes).size === sizes.length;
};

/** The style that the file states, else its name without the size. */
const styleName = (pattern: Pattern): string => pattern.style || withoutSize(bareName(pattern), pattern.size);

/** `skirt-12` of size 12 is `skirt`. */
const withoutSize = (name: string, size: string): string => {
  const bare = size === '' || !name.endsWith(size) ? name : name.slice(0, -size.length);
  return bare.replace(/[\s_-]+(size)?[\s_-]*$/i, '') || name;
};

export const bareName = ({ fileName }: Pattern): string => basename(fileName, extname(fileName));

/**
 * What a table's `pattern` cell means: one of the files, with or without ending, or a style with all its sizes. Several
 * where the name is that of several; none where it is no name of these.
 */
export const meantBy = (cell: string, styles: readonly Style[], patterns: readonly Pattern[]): readonly Style[] => {
  const wanted = cell.trim().toLowerCase();
  const named = patterns.flatMap((p, i) =>
    [p.fileName, bareName(p)].some((n) => n.toLowerCase() === wanted) ? [i] : [],
  );
  if (named.length > 0) return named.map((i) => ({ name: bareName(patterns[i] as Pattern), files: [i] }));
  return styles.filter((s) => s.files.some((f) => styleNames(patterns[f] as Pattern).includes(plainWords(cell))));
};

const styleNames = (pattern: Pattern): readonly string[] => [
  plainWords(pattern.style),
  plainWords(withoutSize(bareName(pattern), pattern.size)),
];

/** The name among those of the patterns that a cell may have been meant to be. */
export const nearestPattern = (cell: string, patterns: readonly Pattern[]): string | undefined =>
  nearestWord(
    cell.replace(/\.[a-z]{1,4}$/i, ''),
    patterns.flatMap((p) => [bareName(p), p.style].filter((n) => n !== '')),
  );
