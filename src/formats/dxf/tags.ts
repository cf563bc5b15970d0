import type { Finding, FindingLevel, Where } from '../../finding.ts';

/**
 * A DXF file as its tags: pairs of a group code and a value, each with the bytes it stands in.
 * The bytes are the truth; everything else only points into them.
 */
export interface Tags {
  readonly bytes: Uint8Array;
  /** The bytes as Latin-1, one character a byte, so that offsets agree. */
  readonly text: string;
  readonly form: 'ascii' | 'binary';
  /** Bytes of a group code in the binary form: 1 (up to R12) or 2. */
  readonly codeBytes: 1 | 2;
  readonly count: number;
  readonly code: Int32Array;
  /** Where the tag begins; one more entry than tags, so that `start[i + 1]` is where tag i ends. */
  readonly start: Uint32Array;
  readonly valueStart: Uint32Array;
  readonly valueEnd: Uint32Array;
  /** 1-based line of the group code; in the binary form 0. */
  readonly line: Uint32Array;
  /** Tags after which bytes were skipped because code and value lines had fallen out of step. */
  readonly damaged: ReadonlySet<number>;
}

/** A run of tags: from `start` up to, not including, `end`. */
export interface TagRange {
  readonly start: number;
  readonly end: number;
}

/** Reports a finding at a tag. */
export type Report = (code: string, level: FindingLevel, where: Where, message: string, suggestion: string) => void;

/** Collects findings; at most `most` of each code are kept, so that a broken file does not drown its reader. */
export const reporter = (file: string, findings: Finding[], most = 20): Report => {
  const counts = new Map<string, number>();
  return (code, level, where, message, suggestion) => {
    const n = (counts.get(code) ?? 0) + 1;
    counts.set(code, n);
    if (n <= most) findings.push({ code, level, where: { file, ...where }, message, try: suggestion });
  };
};

export type BinaryKind = 'text' | 'double' | 'int16' | 'int32' | 'int64' | 'byte' | 'chunk';

/** How the binary form stores the value of a group code (AutoCAD DXF reference, "Group code value types"). */
export const binaryKind = (code: number): BinaryKind => {
  if ((code >= 310 && code <= 319) || code === 1004) return 'chunk';
  if (code < 10) return 'text';
  if (code < 60) return 'double';
  if (code < 80) return 'int16';
  if (code >= 90 && code < 100) return 'int32';
  if (code >= 110 && code < 150) return 'double';
  if (code >= 160 && code < 170) return 'int64';
  if (code >= 170 && code < 180) return 'int16';
  if (code >= 210 && code < 240) return 'double';
  if (code >= 270 && code < 290) return 'int16';
  if (code >= 290 && code < 300) return 'byte';
  if ((code >= 370 && code < 390) || (code >= 400 && code < 410)) return 'int16';
  if ((code >= 420 && code < 430) || (code >= 440 && code < 460)) return 'int32';
  if (code >= 460 && code < 470) return 'double';
  if (code >= 1010 && code < 1060) return 'double';
  if (code >= 1060 && code < 1071) return 'int16';
  return code === 1071 ? 'int32' : 'text';
};

/** The value as it stands in the file, spaces included (ASCII), or as its shortest decimal text (binary). */
export const rawValue = (tags: Tags, i: number): string => {
  const from = tags.valueStart[i] ?? 0;
  const to = tags.valueEnd[i] ?? 0;
  if (tags.form === 'ascii') return tags.text.slice(from, to);
  const kind = binaryKind(tags.code[i] ?? 0);
  if (kind === 'text' || kind === 'chunk') return tags.text.slice(from, to);
  return String(binaryNumber(tags, i, kind));
};

/** The value without the blanks around it. Bytes of letters that look like a no-break space (0xA0) are none. */
export const textAt = (tags: Tags, i: number): string => {
  const value = rawValue(tags, i);
  const isBlank = (at: number): boolean => value.charCodeAt(at) <= 0x20;
  let [from, to] = [0, value.length];
  while (from < to && isBlank(from)) from++;
  while (to > from && isBlank(to - 1)) to--;
  return value.slice(from, to);
};

const binaryNumber = (tags: Tags, i: number, kind: BinaryKind): number => {
  const view = new DataView(tags.bytes.buffer, tags.bytes.byteOffset, tags.bytes.byteLength);
  const at = tags.valueStart[i] ?? 0;
  if (kind === 'double') return view.getFloat64(at, true);
  if (kind === 'int16') return view.getInt16(at, true);
  if (kind === 'int32') return view.getInt32(at, true);
  if (kind === 'int64') return Number(view.getBigInt64(at, true));
  return view.getUint8(at);
};

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eEdD][+-]?\d+)?$/;
const COMMA = /^[+-]?\d*,\d+$/;
/** `1,234` could be a little over one or more than a thousand. */
const AMBIGUOUS_COMMA = /^[+-]?\d{1,3},\d{3}$/;

export type NumberReading = 'plain' | 'comma' | 'ambiguous' | 'bad';

/** How a value reads as a number; only `plain` and `comma` have one. */
export const numberReading = (value: string): NumberReading => {
  if (!Number.isNaN(parsePlain(value))) return 'plain';
  if (!COMMA.test(value)) return 'bad';
  return AMBIGUOUS_COMMA.test(value) ? 'ambiguous' : 'comma';
};

/** A number in plain notation; FORTRAN's exponent mark D is read as E. NaN when it is none, or beyond all measure. */
const parsePlain = (value: string): number => {
  if (!NUMBER.test(value)) return Number.NaN;
  const n = Number(value);
  const sound = Number.isNaN(n) ? Number(value.replace(/[dD]/, 'e')) : n;
  return Number.isFinite(sound) ? sound : Number.NaN;
};

/** Powers of ten that a double holds exactly. */
const TENS: readonly number[] = Array.from({ length: 16 }, (_, k) => 10 ** k);
const [POINT, PLUS, MINUS, ZERO, BLANK] = [46, 43, 45, 48, 32];

/**
 * Most numbers of a file are decimals of up to 15 digits, and are read from the bytes as they stand: such digits and such
 * a power of ten are exact, so their quotient is the double nearest to the decimal. NaN for all others.
 */
const plainDecimal = (bytes: Uint8Array, from: number, to: number): number => {
  let i = from;
  let end = to;
  while (i < end && (bytes[i] as number) <= BLANK) i++;
  while (end > i && (bytes[end - 1] as number) <= BLANK) end--;
  const isNegative = bytes[i] === MINUS;
  if (isNegative || bytes[i] === PLUS) i++;
  let [digits, count, decimals] = [0, 0, -1];
  for (; i < end; i++) {
    const digit = (bytes[i] as number) - ZERO;
    if (bytes[i] === POINT && decimals < 0) decimals = 0;
    else if (digit >= 0 && digit <= 9) {
      digits = digits * 10 + digit;
      count++;
      if (decimals >= 0) decimals++;
    } else return Number.NaN;
  }
  if (count === 0 || count > 15) return Number.NaN;
  const size = decimals > 0 ? digits / (TENS[decimals] as number) : digits;
  return isNegative ? -size : size;
};

/** The number a tag holds, NaN when it holds none. */
export const numberAt = (tags: Tags, i: number): number => {
  if (tags.form === 'binary') {
    const kind = binaryKind(tags.code[i] ?? 0);
    if (kind !== 'text' && kind !== 'chunk') {
      const n = binaryNumber(tags, i, kind);
      return Number.isFinite(n) ? n : Number.NaN;
    }
  }
  const decimal = plainDecimal(tags.bytes, tags.valueStart[i] ?? 0, tags.valueEnd[i] ?? 0);
  if (!Number.isNaN(decimal)) return decimal;
  const value = textAt(tags, i);
  const plain = parsePlain(value);
  if (!Number.isNaN(plain)) return plain;
  return numberReading(value) === 'comma' ? Number(value.replace(',', '.')) : Number.NaN;
};

/** Where a tag is, for a finding. */
export const whereOf = (tags: Tags, i: number): Where => {
  const at = Math.max(0, Math.min(i, tags.count - 1));
  if (tags.count === 0) return { offset: 0 };
  const excerpt = `${tags.code[at] ?? ''} ${textAt(tags, at)}`.replace(/[^\x20-\x7e]/g, '·').slice(0, 60);
  return tags.form === 'ascii' ? { line: tags.line[at] ?? 0, excerpt } : { offset: tags.start[at] ?? 0, excerpt };
};
