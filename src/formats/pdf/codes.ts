import type { CodeMeaning, Finding, Where } from '../../finding.ts';

/** Every finding of the PDF writer, with how much it matters. */
export const pdfCodes: Record<string, CodeMeaning> = {
  'pdf-page-too-long': {
    level: 'error',
    means: 'A frame is longer than a PDF page can be (14400 units, 5080 mm), so nothing was written.',
  },
  'pdf-user-unit': {
    level: 'warning',
    means: 'A page is longer than 5080 mm and states a larger unit, which some programs ignore and print too small.',
  },
  'pdf-letters-missing': {
    level: 'warning',
    means: 'No font at hand has some letters of a text; boxes stand in their place.',
  },
  'pdf-faint': { level: 'note', means: 'A line colour is so light that it may not show in print.' },
};

/** A finding of this format; its level is the table's. */
export const report = (code: string, where: Where, message: string, tryThis: string): Finding => ({
  code,
  level: pdfCodes[code]?.level ?? 'error',
  where,
  message,
  try: tryThis,
});
