import { basename, extname } from 'node:path';
import type { Finding } from '../../finding.ts';
import { sizeKey } from '../../measurements/size-name.ts';
import { nearestWord, plainWords } from '../../measurements/words.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { list } from '../words.ts';

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
  const styles = alikeNamed(patterns).flatMap((files) => (areSizes(files, patterns) ? [files] : files.map((f) => [f])));
  return styles
    .toSorted((a, b) => (a[0] as number) - (b[0] as number))
    .map((files) => ({ name: styleName(patterns[files[0] as number] as Pattern), files }));
};

/** Files of one style, by their places. */
const alikeNamed = (patterns: readonly Pattern[]): readonly (readonly number[])[] => {
  const together = new Map<string, number[]>();
  for (const [i, pattern] of patterns.entries()) {
    const name = plainWords(styleName(pattern));
    together.set(name, [...(together.get(name) ?? []), i]);
  }
  return [...together.values()];
};

/**
 * Files of one style of which some are plainly its sizes, and others come to the same size or say none: whose row is for
 * which cannot be told then. Two files of one size alone may be one pattern drawn twice, and are only told.
 */
export const sizesUnclear = (patterns: readonly Pattern[]): Finding[] =>
  alikeNamed(patterns).flatMap((files) => {
    if (files.length < 2 || areSizes(files, patterns)) return [];
    const all = files.map((f) => patterns[f] as Pattern);
    const bySize = new Map<string, Pattern[]>();
    for (const p of all) bySize.set(sizeKey(p.size), [...(bySize.get(sizeKey(p.size)) ?? []), p]);
    const mixed = [...bySize.keys()].filter((size) => size !== '').length > 1;
    return [...bySize.values()]
      .filter(([p, ...more]) => more.length > 0 || p?.size === '')
      .map((alike) => (mixed ? sizeUnclear(alike, styleName(all[0] as Pattern)) : sizeTwice(alike, all)));
  });

const sizeUnclear = (alike: readonly Pattern[], style: string): Finding => {
  const [first] = alike as readonly [Pattern];
  const names = list(alike.map((p) => p.fileName));
  const says =
    first.size === '' ? `say${alike.length > 1 ? '' : 's'} no size` : `are ${alike.length} files of size ${first.size}`;
  return {
    code: 'job-sizes-unclear',
    level: 'error',
    where: { file: first.fileName },
    message: `${names} ${says}, and other files are further sizes of “${style}”: which is for whom cannot be told.`,
    try:
      first.size === ''
        ? 'Write its size in its pattern sheet (“size: 12”), or another style (“style: NAME”) if it is a pattern by itself; or leave it out.'
        : 'Give one of them only. If one is another pattern, write its style in its pattern sheet (“style: NAME”); if another size, its size.',
  };
};

const sizeTwice = (alike: readonly Pattern[], all: readonly Pattern[]): Finding => {
  const [{ fileName, size }] = alike as readonly [Pattern];
  const says = size === '' ? 'do not each say a size' : `are both size ${size}`;
  return {
    code: 'job-style-twice',
    level: 'note',
    where: { file: fileName },
    message: `${list(all.map((p) => p.fileName))} go by one style, “${styleName(all[0] as Pattern)}”, and ${says}: each is taken for a pattern by itself, and whoever is for that style gets each.`,
    try: 'If they are one pattern, give one of them only; if they are sizes, write the size of each in its pattern sheet (“size: 12”).',
  };
};

const areSizes = (files: readonly number[], patterns: readonly Pattern[]): boolean => {
  const sizes = files.map((f) => sizeKey(patterns[f]?.size ?? ''));
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

/** The name among those that `meantBy` knows the patterns by that a cell may have been meant to be. */
export const nearestPattern = (cell: string, patterns: readonly Pattern[]): string | undefined =>
  nearestWord(
    cell.replace(/\.[a-z]{1,4}$/i, ''),
    patterns.flatMap((p) => [withoutSize(bareName(p), p.size), bareName(p), p.style].filter((n) => n !== '')),
  );
