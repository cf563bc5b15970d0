import type { Finding } from '../../finding.ts';
import { isProblem, type LengthUnit, parseLength } from '../../measurements/units.ts';
import type { SheetPath, SheetSource } from './source.ts';

/** What every part of the reading needs: where things stand, and where to put what is wrong. */
export interface Reading {
  readonly source: SheetSource;
  readonly fileName: string;
  readonly findings: Finding[];
}

/** The finding that something stands in the sheet twice. */
export const givenTwice = (what: string, where: Finding['where']): Finding => ({
  code: 'sheet-given-twice',
  level: 'error',
  where,
  message: `${what} stands in the pattern sheet twice.`,
  try: 'Keep the one that is right.',
});

/** A length of the sheet, mm; never negative. */
export const lengthAt = (path: SheetPath, text: string, reading: Reading): number | undefined =>
  readLengthAt(path, text, (mm) => mm >= 0, 'less than nothing', reading)?.mm;

/** A length that must be more than nothing, with the unit it was written in. */
export const positiveLengthAt = (path: SheetPath, text: string, reading: Reading) =>
  readLengthAt(path, text, (mm) => mm > 0, 'not more than nothing', reading);

const readLengthAt = (
  path: SheetPath,
  text: string,
  fits: (mm: number) => boolean,
  otherwise: string,
  reading: Reading,
): { readonly mm: number; readonly unit: LengthUnit } | undefined => {
  const read = parseLength(text);
  if (!isProblem(read) && fits(read.mm)) return read;
  reading.findings.push({
    code: 'sheet-length-unreadable',
    level: 'error',
    where: reading.source.where(path),
    message: `${String(path.findLast((step) => typeof step === 'string'))}: ${isProblem(read) ? read.message : `'${text}' is ${otherwise}.`}`,
    try: isProblem(read) ? read.try : 'Correct the number.',
  });
  return undefined;
};
