/**
 * Lengths as people write and read them. 1 inch is 25.4 mm exactly (international yard and pound agreement, 1959).
 */
export const MM_PER_INCH = 25.4;

/** Unit a length was written in, or is shown in. Feet count as inches, metres as centimetres. */
export type LengthUnit = 'in' | 'mm' | 'cm';

export interface Length {
  readonly mm: number;
  /** The unit it was written in. */
  readonly unit: LengthUnit;
  /** Whether the text itself named the unit (false: it came from the column or the default). */
  readonly unitWritten: boolean;
  /** Whether a + or − stood before it. */
  readonly signed: boolean;
  readonly asWritten: string;
}

/** Why a text is not a length, in words for the user. */
export interface LengthProblem {
  readonly problem: 'empty' | 'no unit' | 'ambiguous' | 'unreadable';
  readonly message: string;
  readonly try: string;
}

interface UnitWord {
  readonly mm: number;
  readonly unit: LengthUnit;
}

const unitGroups: readonly (readonly [UnitWord, readonly string[]])[] = [
  [
    { mm: 1, unit: 'mm' },
    [
      'mm',
      'millimetre',
      'millimetres',
      'millimeter',
      'millimeters',
      'millimètre',
      'millimètres',
      'ミリ',
      'ミリメートル',
    ],
  ],
  [
    { mm: 10, unit: 'cm' },
    [
      ...['cm', 'cms', 'centimetre', 'centimetres', 'centimeter', 'centimeters', 'zentimeter', 'centimètre'],
      ...['centimètres', 'centímetro', 'centímetros', 'centimetro', 'centimetri', 'センチ', 'センチメートル'],
    ],
  ],
  [{ mm: 1000, unit: 'cm' }, ['m', 'metre', 'metres', 'meter', 'meters']],
  [
    { mm: MM_PER_INCH, unit: 'in' },
    [
      ...['in', 'ins', 'inch', 'inches', '"', 'zoll', 'pouce', 'pouces', 'pulgada', 'pulgadas', 'pollice', 'pollici'],
      ...['polegada', 'polegadas', 'duim', 'インチ'],
    ],
  ],
  [{ mm: 12 * MM_PER_INCH, unit: 'in' }, ['ft', 'foot', 'feet', "'"]],
];
const unitWords: ReadonlyMap<string, UnitWord> = new Map(
  unitGroups.flatMap(([unit, words]) => words.map((word) => [word, unit] as const)),
);

/** Whether a length is written in metres, which count as centimetres everywhere else. */
export const isInMetres = (text: string): boolean => unitWord(/\p{L}+\.?\s*$/u.exec(text)?.[0] ?? '')?.mm === 1000;

/** The unit a word names: 'in', 'inches', 'Zoll', '"', 'cm.'. Undefined for any other text. */
export const unitCalled = (text: string): LengthUnit | undefined => unitWord(text)?.unit;

const unitWord = (text: string): UnitWord | undefined =>
  unitWords.get(straightMarks(text.trim()).toLowerCase().replace(/\.$/, ''));

/** Vulgar fractions with a character of their own. */
const glyphs: Readonly<Record<string, readonly [number, number]>> = {
  ...{ '½': [1, 2], '⅓': [1, 3], '⅔': [2, 3], '¼': [1, 4], '¾': [3, 4], '⅕': [1, 5], '⅖': [2, 5], '⅗': [3, 5] },
  ...{ '⅘': [4, 5], '⅙': [1, 6], '⅚': [5, 6], '⅛': [1, 8], '⅜': [3, 8], '⅝': [5, 8], '⅞': [7, 8], '⅒': [1, 10] },
};
const glyphOf: ReadonlyMap<string, string> = new Map(Object.entries(glyphs).map(([g, [n, d]]) => [`${n}/${d}`, g]));

const straightMarks = (text: string): string =>
  text
    .replace(/[′‘’´`]/g, "'")
    .replace(/''|[″“”„〃]/g, '"')
    .replace(/[−–—‒]/g, '-');

/** Fraction characters spelled out before NFKC, which would glue '27½' together as '271/2'. */
const spellOut = (text: string): string =>
  straightMarks(
    text
      .replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⅒]/g, (g) => ` ${glyphs[g]?.join('/') ?? g} `)
      // 38¹⁄₂ in raised and lowered figures is 38 1/2.
      .replace(/[⁰¹²³⁴-⁹]+(?=[/⁄])/g, (top) => ` ${top}`),
  )
    .normalize('NFKC')
    .replace(/⁄/g, '/')
    .replace(/\s+/g, ' ')
    .trim();

const unreadable = (text: string): LengthProblem => ({
  problem: 'unreadable',
  message: `'${text}' cannot be read as a length.`,
  try: 'Write one number and its unit, such as 27 1/2 in, 70.5 cm or 705 mm.',
});

const ambiguous = (text: string, number: string): LengthProblem => {
  const marks = number.match(/[ ,.']/g) ?? [];
  return {
    problem: 'ambiguous',
    message: `'${text}' can be read in two ways: the mark in ${number} may divide thousands or decimals.`,
    try:
      marks.length === 1
        ? `Write ${number.replace(/[ ,.']/, '')} or ${number.replace(/[ ,.']/, '.')}, whichever is meant.`
        : 'Write the number without marks between the thousands, and a point before the decimals.',
  };
};

/** `271/2` may be 27 1/2 without its blank: the whole number and the rest, where that is a fraction less than one. */
const withBlankLost = (top: string, bottom: number): string | undefined => {
  const rests = Array.from({ length: top.length - 1 }, (_, i) => [top.slice(0, i + 1), top.slice(i + 1)] as const);
  const found = rests.find(([, rest]) => !rest.startsWith('0') && Number(rest) < bottom);
  return found && `${found[0]} ${found[1]}/${bottom}`;
};

const blankLost = (text: string, number: string): LengthProblem => {
  const [top = '', bottom = ''] = number.split('/').map((part) => part.trim());
  const whole = Math.floor(Number(top) / Number(bottom));
  const rest = Number(top) % Number(bottom);
  return {
    problem: 'ambiguous',
    message: `'${text}' can be read in two ways: a blank between the whole number and the fraction may be lost.`,
    try: `Write ${withBlankLost(top, Number(bottom))} or ${whole}${rest === 0 ? '' : ` ${rest}/${bottom}`}, whichever is meant.`,
  };
};

/**
 * Reads a length: `27 1/2 in`, `27½`, `27-1/2"`, `70,5 cm`, `70.5cm`, `705 mm`, `5'4"`, `5 ft 4 in`, `+⅜ in`.
 *
 * A comma before exactly three digits (`1,234`) is refused as ambiguous, unless a lone 0 stands before it (`0,375`).
 * @param defaultUnit unit of a number that names none; without it such a number is a problem.
 */
export const parseLength = (text: string, defaultUnit?: LengthUnit): Length | LengthProblem => {
  const asWritten = text.trim();
  if (asWritten === '') {
    return { problem: 'empty', message: 'There is no length here.', try: 'Write a number and its unit.' };
  }
  const spelled = spellOut(asWritten);
  const sign = /^[+-]/.exec(spelled)?.[0];
  const rest = sign === undefined ? spelled : spelled.slice(1).trim();
  const mixed = mixedUnits(rest);
  const found = mixed ?? oneUnit(rest, asWritten, defaultUnit);
  if ('problem' in found) return found;
  return {
    mm: sign === '-' ? -clean(found.mm) : clean(found.mm),
    unit: found.unit,
    unitWritten: found.unitWritten,
    signed: sign !== undefined,
    asWritten,
  };
};

/** Without the last bits of a multiplication: 26 1/2 in is 673.1 mm, not 673.0999999999999. */
const clean = (mm: number): number => Number(mm.toFixed(9));

export const isProblem = (read: Length | LengthProblem): read is LengthProblem => 'problem' in read;

interface Magnitude {
  readonly mm: number;
  readonly unit: LengthUnit;
  readonly unitWritten: boolean;
}

/** Feet and inches together: 5'4", 5 ft 4 1/2 in. Undefined for everything else. */
const mixedUnits = (text: string): Magnitude | undefined => {
  const match = /^(\d+) ?(?:'|ft\.?|foot|feet) ?(\d[\d ./,-]*?) ?(?:"|in\.?|inch|inches)?$/i.exec(text);
  if (match === null) return undefined;
  const inches = parseNumber(match[2] ?? '');
  if (typeof inches !== 'number' || inches >= 12) return undefined;
  return { mm: (Number(match[1]) * 12 + inches) * MM_PER_INCH, unit: 'in', unitWritten: true };
};

const oneUnit = (text: string, asWritten: string, defaultUnit?: LengthUnit): Magnitude | LengthProblem => {
  const match = /^(\d(?:[\d ./,'-]*\d)?|[.,]\d+) ?(\p{L}+\.?|["'])?$/u.exec(text);
  if (match === null) return unreadable(asWritten);
  const number = parseNumber(match[1] ?? '');
  if (number === 'ambiguous') return ambiguous(asWritten, match[1] ?? '');
  if (number === 'blank lost') return blankLost(asWritten, match[1] ?? '');
  if (number === undefined) return unreadable(asWritten);
  const word = match[2];
  const written = word === undefined ? undefined : unitWord(word);
  if (word !== undefined && written === undefined) {
    return {
      problem: 'unreadable',
      message: `'${word}' in '${asWritten}' is not a unit of length known here.`,
      try: 'Write in, cm or mm behind the number.',
    };
  }
  const unit = written ?? (defaultUnit === undefined ? undefined : unitWord(defaultUnit));
  if (unit === undefined) {
    return {
      problem: 'no unit',
      message: `'${asWritten}' does not say whether it is inches, centimetres or millimetres.`,
      try: `Write the unit behind the number: ${asWritten} in, ${asWritten} cm or ${asWritten} mm.`,
    };
  }
  return { mm: number * unit.mm, unit: unit.unit, unitWritten: written !== undefined };
};

/** A number with decimals or a fraction: 27, 27.5, 70,5, 1/2, 27 1/2, 27-1/2. Undefined: not a number. */
const parseNumber = (text: string): number | 'ambiguous' | 'blank lost' | undefined => {
  const fraction = /^(?:(\d+)(?:[ -]|- ))?(\d+) ?\/ ?(\d+)$/.exec(text);
  if (fraction !== null) {
    const [whole, top, bottom] = [Number(fraction[1] ?? 0), Number(fraction[2]), Number(fraction[3])];
    if (bottom === 0 || (fraction[1] !== undefined && top >= bottom)) return undefined;
    if (fraction[1] === undefined && withBlankLost(fraction[2] ?? '', bottom) !== undefined) return 'blank lost';
    return (whole * bottom + top) / bottom;
  }
  if (/^\d*\.\d+$|^\d+$/.test(text)) return Number(text);
  if (/^0?,\d+$|^\d+,(?:\d{1,2}|\d{4,})$/.test(text)) return Number(text.replace(',', '.'));
  return /^\d{1,3}(?:[ ,.']\d{3})+(?:[.,]\d+)?$/.test(text) ? 'ambiguous' : undefined;
};

/** A length as shown, and whether the text says all of it: off by no more than 0.05 mm, less than a pencil line. */
export interface ShownLength {
  readonly text: string;
  readonly exact: boolean;
}
const EXACT_WITHIN = 0.05;

/**
 * A length for people: inches in sixteenths, or thirty-seconds where that is nearer (`27 3/16 in`, `⅜ in`);
 * centimetres to 0.01, millimetres to 0.1. The sign is kept (−).
 */
export const showLength = (mm: number, show: LengthUnit): ShownLength => {
  if (show === 'in') return showInches(mm);
  const size = Math.abs(mm);
  const shown = show === 'mm' ? size.toFixed(1) : (size / 10).toFixed(2).replace(/0$/, '');
  return { text: `${minus(mm, Number(shown))}${shown} ${show}`, exact: true };
};

const minus = (mm: number, shown: number): string => (mm < 0 && shown !== 0 ? '−' : '');

const showInches = (mm: number): ShownLength => {
  const inches = Math.abs(mm) / MM_PER_INCH;
  const off = (parts: number) => Math.abs(inches - Math.round(inches * parts) / parts);
  const parts = off(32) < off(16) - 1e-9 ? 32 : 16;
  const count = Math.round(inches * parts);
  const whole = Math.floor(count / parts);
  const fraction = fractionText(count - whole * parts, parts);
  const glued = fraction.length === 1 || whole === 0 ? '' : ' ';
  const number = fraction === '' ? `${whole}` : whole === 0 ? fraction : `${whole}${glued}${fraction}`;
  return { text: `${minus(mm, count)}${number} in`, exact: off(parts) * MM_PER_INCH <= EXACT_WITHIN };
};

const fractionText = (top: number, bottom: number): string => {
  if (top === 0) return '';
  let [n, d] = [top, bottom];
  while (n % 2 === 0) [n, d] = [n / 2, d / 2];
  return glyphOf.get(`${n}/${d}`) ?? `${n}/${d}`;
};

/** `showLength` as one text, with ≈ before a value that was rounded. */
export const formatLength = (mm: number, show: LengthUnit): string => {
  const { text, exact } = showLength(mm, show);
  return exact ? text : `≈ ${text}`;
};

/** `formatLength` for a change: + before a gain, − before a loss. */
export const formatChange = (mm: number, show: LengthUnit): string => {
  const { text, exact } = showLength(mm, show);
  const signed = mm > 0 && /[1-9½¼¾⅛⅜⅝⅞]/.test(text) ? `+${text}` : text;
  return exact ? signed : `≈ ${signed}`;
};
