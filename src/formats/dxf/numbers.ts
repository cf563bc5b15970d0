/** How a number is written, so that a changed one can be written the same way. */
const FORM = /^(\s*)([+-]?)(\d*)(?:([.,])(\d*))?(?:([eEdD])([+-]?)(\d+))?(\s*)$/;

/** The commonest form by far: a decimal with a point and nothing about it. */
const PLAIN = /^-?\d*\.\d*$/;

/** Decimals that let a coordinate be right to half of 0.001 mm when one unit is `millimetresPerUnit` mm long. */
export const decimalsFor = (millimetresPerUnit: number): number =>
  Math.max(0, Math.min(15, Math.ceil(Math.log10(millimetresPerUnit * 1000) - 1e-9)));

/** Above this, decimals are the whole precision of the machine, not a chosen number of places. */
const CHOSEN_PLACES = 10;

export interface Written {
  readonly text: string;
  /** True when it has more decimals than the number it replaces. */
  readonly widened: boolean;
}

/**
 * `value` in the notation of `original`: its width, sign, decimal mark, exponent, decimals and trailing zeros,
 * but with at least the `decimals` it needs.
 */
export const reformat = (original: string, value: number, decimals: number): Written => {
  if (PLAIN.test(original)) {
    const places = original.length - 1 - original.indexOf('.');
    const text = fixed(Object.is(value, -0) ? 0 : value, places, decimals, true);
    return { text, widened: decimalsOf(text) > places };
  }
  const form = FORM.exec(original);
  if (form === null) return { text: plainNumber(value, decimals), widened: false };
  const [, before = '', sign = '', , mark, fraction = '', exponentMark, exponentSign = '', exponent = '', after = ''] =
    form;
  const places = fraction.length;
  const clean = Object.is(value, -0) ? 0 : value;
  const digits =
    exponentMark === undefined
      ? fixed(clean, places, decimals, mark !== undefined)
      : scientific(clean, places, decimals, exponentMark, exponentSign === '+', exponent.length);
  const signed = sign === '+' && clean >= 0 ? `+${digits}` : digits;
  const body = mark === ',' ? signed.replace('.', ',') : signed;
  return { text: padded(body, before, after, original.length), widened: decimalsOf(digits) > places };
};

const decimalsOf = (digits: string): number => {
  const point = digits.indexOf('.');
  if (point < 0) return 0;
  let end = point + 1;
  while (end < digits.length && digits.charCodeAt(end) >= 48 && digits.charCodeAt(end) <= 57) end++;
  return end - point - 1;
};

const fixed = (value: number, places: number, decimals: number, marked: boolean): string => {
  const whole = Math.max(1, Math.floor(Math.log10(Math.max(Math.abs(value), 1))) + 1);
  const most = Math.max(0, 17 - whole);
  const wanted = Math.min(Math.max(places, decimals), most);
  const text = value.toFixed(wanted);
  const keep = Math.min(places >= CHOSEN_PLACES ? 1 : places, wanted);
  const trimmed = stripZeros(text, places >= CHOSEN_PLACES || wanted > places ? keep : wanted);
  if (trimmed.includes('.') || !marked) return negativeZero(trimmed);
  return negativeZero(`${trimmed}.`);
};

const negativeZero = (text: string): string => (text.startsWith('-') && /^-0*\.?0*$/.test(text) ? text.slice(1) : text);

/** Drops trailing zeros, but keeps at least `keep` decimals. */
const stripZeros = (text: string, keep: number): string => {
  const dot = text.indexOf('.');
  if (dot < 0) return text;
  let end = text.length;
  while (end > dot + 1 + keep && text[end - 1] === '0') end--;
  return text.slice(0, end === dot + 1 ? dot : end);
};

const scientific = (
  value: number,
  places: number,
  decimals: number,
  mark: string,
  plus: boolean,
  exponentWidth: number,
): string => {
  const exponent = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  const wanted = Math.min(16, Math.max(places, exponent + decimals, 0));
  const [mantissa = '0', power = '0'] = value.toExponential(wanted).split('e');
  const n = Number(power);
  const sign = n < 0 ? '-' : plus ? '+' : '';
  return `${stripZeros(mantissa, Math.min(places, wanted))}${mark}${sign}${String(Math.abs(n)).padStart(exponentWidth, '0')}`;
};

const padded = (body: string, before: string, after: string, width: number): string => {
  if (before !== '' && after === '') return body.padStart(width);
  if (after !== '') return `${before}${body}`.padEnd(width);
  return body;
};

/** A number written afresh: `decimals` places without trailing zeros, at least one decimal (as DXF reals have). */
export const plainNumber = (value: number, decimals: number): string => {
  const text = negativeZero(stripZeros(value.toFixed(decimals), 1));
  return text.includes('.') ? text : `${text}.0`;
};

/** An integer in the width of the one it replaces. */
export const reformatInteger = (original: string, value: number): string =>
  original.startsWith(' ') ? String(value).padStart(original.length) : String(value);
