/**
 * Text as it is compared: lower case, without accents, with single spaces for hyphens, underscores and punctuation.
 * 'Under-bust_Girth' and 'under bust girth' are the same word; so are 'Hüftweite' and 'huftweite'.
 */
export const plainWords = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/**
 * Edit distance after Damerau, restricted to optimal alignment: letters put in, left out, exchanged, or two
 * neighbours swapped, each counting 1.
 */
export const editDistance = (a: string, b: string): number => {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const exchanged = (last[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, exchanged);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, (beforeLast[j - 2] ?? 0) + 1);
      }
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? 0;
};

/** A word to look for and the name to show for it. */
export interface Candidate {
  readonly word: string;
  readonly name: string;
}

/**
 * The name whose word is nearest to the text, for "did you mean". Undefined when nothing is near: more than
 * two letters in five would have to change.
 */
export const nearestOf = (text: string, candidates: Iterable<Candidate>): string | undefined => {
  const wanted = plainWords(text);
  if (wanted === '') return undefined;
  let best: { readonly name: string; readonly distance: number } | undefined;
  for (const { word, name } of candidates) {
    const plain = plainWords(word);
    const most = Math.max(1, Math.floor(0.4 * Math.max(wanted.length, plain.length)));
    if (Math.abs(plain.length - wanted.length) > most) continue;
    const distance = editDistance(wanted, plain);
    if (distance <= most && (best === undefined || distance < best.distance)) best = { name, distance };
  }
  return best?.name;
};

/** nearestOf for words that are their own names. */
export const nearestWord = (text: string, words: Iterable<string>): string | undefined =>
  nearestOf(
    text,
    [...words].map((word) => ({ word, name: word })),
  );
