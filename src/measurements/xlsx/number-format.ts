import { type LengthUnit, unitCalled } from '../units.ts';
import { walkMarkup } from './markup.ts';

/** What the format of a cell makes of its number. */
export interface NumberFormat {
  readonly isDate: boolean;
  /** The unit that the format shows behind the number: `0.0" cm"`. */
  readonly unit?: LengthUnit;
}

/** The formats of a workbook by the number that cells name them with (`s`). */
export const numberFormats = (content: Uint8Array, path: string): readonly NumberFormat[] => {
  const codes = new Map<string, string>();
  const formats: NumberFormat[] = [];
  let inCellFormats = false;
  walkMarkup(content, path, {
    open: (name, { numFmtId = '0', formatCode = '' }) => {
      if (name === 'numFmt') codes.set(numFmtId, formatCode);
      if (name === 'cellXfs') inCellFormats = true;
      if (name === 'xf' && inCellFormats) formats.push(formatOf(Number(numFmtId), codes.get(numFmtId)));
    },
    close: (name) => {
      if (name === 'cellXfs') inCellFormats = false;
    },
  });
  return formats;
};

/** Formats of dates and times that need no code (ECMA-376 part 1, 18.8.30; 27 to 36 and 50 to 58 are East Asian). */
const isDateId = (id: number): boolean =>
  (id >= 14 && id <= 22) || (id >= 27 && id <= 36) || (id >= 45 && id <= 47) || (id >= 50 && id <= 58);

const formatOf = (id: number, code: string | undefined): NumberFormat => {
  if (code === undefined) return { isDate: isDateId(id) };
  const { marks, written } = parted(code);
  const isDate = /[dmyhseg]/i.test(marks.replace(/general/gi, '').replace(/e[+-]/gi, ''));
  const unit = unitCalled(written);
  return { isDate, ...(isDate || unit === undefined ? {} : { unit }) };
};

/** The first section of a format code: its marks, and the text that it writes as it is. */
const parted = (code: string): { readonly marks: string; readonly written: string } => {
  let [marks, written] = ['', ''];
  const token = /"([^"]*)"|\\(.)|[_*].|\[([^\]]*)\]|(;)|(.)/gs;
  for (const [, quoted, escaped, bracketed, end, mark] of code.matchAll(token)) {
    if (end !== undefined) break;
    written += quoted ?? escaped ?? '';
    // Elapsed time is written in brackets, as colours and countries are.
    if (bracketed !== undefined && /^[hms]+$/i.test(bracketed)) marks += bracketed;
    marks += mark ?? '';
  }
  return { marks, written };
};
