import type { SheetWriter } from '../sheet.ts';
import { GREATEST_SIDE } from './page.ts';

export { pdfCodes } from './codes.ts';

/**
 * Portable Document Format (ISO 32000-1), one page a frame, at true scale. The PDF library is loaded at the first
 * sheet that is written: it costs a fifth of a second, which every other command would pay too.
 */
export const pdf: SheetWriter = {
  name: 'pdf',
  extension: 'pdf',
  greatestFrame: GREATEST_SIDE,
  write: async (sheet, machine, options) => (await import('./document.ts')).writePdf(sheet, machine, options),
};
