/** A stretch of text that is read in one direction. */
export interface Stretch {
  readonly text: string;
  readonly rightToLeft: boolean;
}

type Kind = 'left' | 'right' | 'digit' | 'neutral';

const RIGHT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;
const ACCENT = /\p{M}/u;
const SEPARATOR = /[-+.,:/]/;
const MIRRORED: Readonly<Record<string, string>> = {
  '(': ')',
  ')': '(',
  '[': ']',
  ']': '[',
  '{': '}',
  '}': '{',
  '<': '>',
  '>': '<',
  '«': '»',
  '»': '«',
};

/**
 * The stretches of a line in the order in which they stand on paper, from the left. The text within each stays in the
 * order of reading. The Unicode bidirectional algorithm (UAX #9) for one line without embedding marks: rules P2 and P3
 * for the line, W1, W4, W7, N1, N2 and I1, I2 for the letters, L2 for the order, L4 for brackets.
 */
export const stretches = (text: string): readonly Stretch[] => {
  if (!RIGHT.test(text)) return [{ text, rightToLeft: false }];
  const letters = [...text];
  const along = letters.map(kindOf).find((k) => k === 'left' || k === 'right') ?? 'left';
  return inOrder(runs(letters, levels(settled(letters, along), along)));
};

const kindOf = (letter: string): Kind => {
  if (/\p{Nd}/u.test(letter)) return 'digit';
  if (RIGHT.test(letter)) return 'right';
  return /\p{L}/u.test(letter) ? 'left' : 'neutral';
};

/** Accents go with their letter, a separator with the digits on both its sides, digits with a left-to-right word before. */
const settled = (letters: readonly string[], along: Kind): Kind[] => {
  const kinds = letters.map(kindOf);
  let strong = along;
  let last = along;
  return kinds.map((kind, i) => {
    const letter = letters[i] as string;
    const parts = SEPARATOR.test(letter) && kinds[i - 1] === 'digit' && kinds[i + 1] === 'digit';
    const own = ACCENT.test(letter) ? last : parts ? 'digit' : kind;
    if (own === 'left' || own === 'right') strong = own;
    last = own === 'digit' && strong === 'left' ? 'left' : own;
    return last;
  });
};

/** Even levels run left to right, odd ones right to left. */
const levels = (kinds: readonly Kind[], along: Kind): number[] => {
  const leftward = along === 'left' ? 0 : 2;
  /** Of the nearest letter or digit before or after, as a neutral one beside it sees it. */
  const side = (i: number, step: 1 | -1): Kind => {
    for (let k = i + step; k >= 0 && k < kinds.length; k += step) {
      if (kinds[k] !== 'neutral') return kinds[k] === 'left' ? 'left' : 'right';
    }
    return along;
  };
  return kinds.map((kind, i) => {
    if (kind === 'digit') return 2;
    const before = side(i, -1);
    const own = kind !== 'neutral' ? kind : before === side(i, 1) ? before : along;
    return own === 'right' ? 1 : leftward;
  });
};

interface Run {
  text: string;
  readonly level: number;
}

const runs = (letters: readonly string[], levelOf: readonly number[]): Run[] => {
  const found: Run[] = [];
  letters.forEach((letter, i) => {
    const level = levelOf[i] as number;
    const shown = level % 2 === 1 ? (MIRRORED[letter] ?? letter) : letter;
    const last = found[found.length - 1];
    if (last?.level === level) last.text += shown;
    else found.push({ text: shown, level });
  });
  return found;
};

/** From the highest level down, every chain of runs at that level or above is turned round. */
const inOrder = (logical: readonly Run[]): Stretch[] => {
  const order = [...logical];
  for (let level = Math.max(...order.map((r) => r.level)); level >= 1; level--) {
    for (let from = 0; from < order.length; from++) {
      let to = from;
      while (to < order.length && (order[to] as Run).level >= level) to++;
      if (to > from) order.splice(from, to - from, ...order.slice(from, to).reverse());
      from = to;
    }
  }
  return order.map((r) => ({ text: r.text, rightToLeft: r.level % 2 === 1 }));
};
