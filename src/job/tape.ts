import type { LengthShown } from '../alterations/contract.ts';
import { isProblem, MM_PER_INCH, parseLength, showLength } from '../measurements/units.ts';

/*
 * Lengths on pages for people, as a tape or a ruler shows them: eighths of an inch or millimetres on a tape, sixteenths
 * or half millimetres on a ruler (common practice, no source). What was reckoned stands in the ledger, exactly.
 */

type Marks = Readonly<Record<LengthShown, number>>;
/** mm from mark to mark. */
const TAPE: Marks = { in: MM_PER_INCH / 8, cm: 1, mm: 1 };
const RULER: Marks = { in: MM_PER_INCH / 16, cm: 0.5, mm: 0.5 };
const FINEST: Readonly<Record<LengthShown, string>> = { in: '1/16 in', cm: '0.05 cm', mm: '0.5 mm' };

/** At the nearest mark: `27½ in`, `69 cm`. */
const atMark = (mm: number, show: LengthShown, marks: Marks): string =>
  showLength(Math.round(mm / marks[show]) * marks[show], show).text.replace(/\.0+(?= [cm]m$)/, '');

const isNothing = (mm: number, show: LengthShown, marks: Marks): boolean => Math.abs(mm) < marks[show] / 2;

const signedAtMark = (mm: number, show: LengthShown, marks: Marks): string =>
  isNothing(mm, show, marks) ? 'no change' : `${mm > 0 ? '+' : ''}${atMark(mm, show, marks)}`;

/** What is measured on the pieces: lengths of edges, girths. */
export const taped = (mm: number, show: LengthShown): string => atMark(mm, show, TAPE);

/** What is asked for, shared and set off on the paper. */
export const ruled = (mm: number, show: LengthShown): string => atMark(mm, show, RULER);
export const ruledChange = (mm: number, show: LengthShown): string => signedAtMark(mm, show, RULER);

/** Whether a tape shows that a length changed. */
export const isToldApart = (before: number, after: number, show: LengthShown): boolean =>
  !isNothing(after - before, show, TAPE) && taped(before, show) !== taped(after, show);

/** How a length changed: `+¼ in`, or `no change` where no tape shows any. */
export const tapedChange = (before: number, after: number, show: LengthShown): string =>
  isToldApart(before, after, show) ? signedAtMark(after - before, show, TAPE) : 'no change';

/** After a change; as before where no tape shows any. */
export const tapedAfter = (before: number, after: number, show: LengthShown): string =>
  taped(isToldApart(before, after, show) ? after : before, show);

/** `27½ in → 28½ in`, or the one length. */
export const tapedFromTo = (before: number, after: number, show: LengthShown): string =>
  isToldApart(before, after, show) ? `${taped(before, show)} → ${taped(after, show)}` : taped(before, show);

const INCHES = /(≈ )?([+−]?)(\d+(?: \d+\/\d+|[½¼¾⅛⅜⅝⅞])?|\d+\/\d+|[½¼¾⅛⅜⅝⅞]) in(?!\p{L})/gu;
const DECIMALS = /()([+−]?)(\d+\.\d+) (mm|cm)(?!\p{L})/gu;

/** A text whose inches are finer than sixteenths, or rounded already, with those that a ruler shows. */
export const inSixteenths = (text: string, known: readonly number[] = []): string =>
  text.replace(INCHES, (whole, near, sign, number) =>
    near === undefined && !number.endsWith('/32') ? whole : onRuler(whole, sign, number, 'in', known),
  );

/**
 * The same with millimetres and centimetres too: for texts that quote nothing that was written by the user.
 *
 * @param known amounts that the text tells of, mm: they are rounded as they are, not as the text has them
 */
export const asRuled = (text: string, known: readonly number[] = []): string =>
  inSixteenths(text, known).replace(DECIMALS, (whole, _, sign, number, unit) =>
    onRuler(whole, sign, number, unit, known),
  );

/** How far a text is from the amount it tells of, at most, mm: half of 1/32 in. */
const ROUNDED = MM_PER_INCH / 64 + 1e-6;

const onRuler = (whole: string, sign: string, number: string, unit: LengthShown, known: readonly number[]): string => {
  // With its whole number: 13/32 alone may be 1 3/32 without its blank.
  const read = parseLength(/^\d+\//.test(number) ? `0 ${number}` : number, unit);
  if (isProblem(read)) return whole;
  const off = (mm: number): number => Math.abs(mm - read.mm);
  const [nearest = read.mm] = known.map(Math.abs).toSorted((a, b) => off(a) - off(b));
  const meant = off(nearest) <= ROUNDED ? nearest : read.mm;
  return isNothing(meant, unit, RULER) ? `under ${FINEST[unit]}` : `${sign}${ruled(meant, unit)}`;
};
