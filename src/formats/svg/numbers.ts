/** How a file writes its numbers, so that changed ones look like the others. */
export interface Notation {
  /** Most decimals seen. */
  readonly decimals: number;
  /** False where the file writes `.5` for `0.5`. */
  readonly leadingZero: boolean;
  /** Whether every number has the same decimals, zeros and all (`12.500`). */
  readonly fixed: boolean;
}

/** Half a step of the last decimal must stay below a quarter of a thousandth of a millimetre. */
const FINEST_STEP = 0.0005;
/** Decimals beyond this come from binary fractions, not from anybody's wish. */
const MOST_DECIMALS = 9;

const NUMBER = /[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/g;

/** All numbers of a text as they are written. */
export const numbersIn = (text: string): string[] => text.match(NUMBER) ?? [];

export const notationOf = (numbers: readonly string[]): Notation => {
  const plain = numbers.filter((n) => !/[eE]/.test(n));
  const counts = plain.map((n) => (n.includes('.') ? n.length - n.indexOf('.') - 1 : 0));
  const decimals = counts.reduce((most, n) => Math.max(most, n), 0);
  const bare = plain.some((n) => /^[-+]?\.\d/.test(n));
  const zero = plain.some((n) => /^[-+]?0\.\d/.test(n));
  const fixed = decimals > 0 && counts.every((n) => n === decimals) && plain.some((n) => n.endsWith('0'));
  return { decimals, leadingZero: zero || !bare, fixed };
};

/** Decimals that 0.001 mm needs where one unit of the number is `millimetres` long. */
export const decimalsFor = (millimetres: number): number =>
  Math.min(12, Math.max(0, Math.ceil(Math.log10(Math.max(millimetres, 1e-12) / FINEST_STEP) - 1e-9)));

/** Decimals for changed numbers: those of the file, or more where 0.001 mm needs them. */
export const decimalsIn = (notation: Notation, needed: number): number =>
  Math.max(needed, Math.min(notation.decimals, MOST_DECIMALS));

export const formatNumber = (value: number, decimals: number, notation: Notation): string => {
  let text = value.toFixed(decimals);
  if (text.includes('.')) {
    const least = notation.fixed ? notation.decimals : 0;
    let end = text.length;
    const dot = text.indexOf('.');
    while (text[end - 1] === '0' && end - dot - 1 > least) end -= 1;
    text = text.slice(0, end - 1 === dot ? dot : end);
  }
  if (Number(text) === 0) text = text.replace('-', '');
  return notation.leadingZero ? text : text.replace(/^(-?)0\./, '$1.');
};
