import type { CodeMeaning } from '../../finding.ts';

/** Findings about the pattern sheet itself. */
export const sheetCodes: Record<string, CodeMeaning> = {
  'sheet-unreadable': { level: 'error', means: 'The pattern sheet is not YAML.' },
  'sheet-empty': { level: 'warning', means: 'The pattern sheet says nothing.' },
  'sheet-version': { level: 'error', means: 'The pattern sheet is of a version this program does not know.' },
  'sheet-key-unknown': { level: 'error', means: 'A word of the pattern sheet is not one of its keys.' },
  'sheet-key-missing': { level: 'error', means: 'Something that must be stated is missing.' },
  'sheet-value-unknown': { level: 'error', means: 'A value is none of those possible in its place.' },
  'sheet-value-wrong': { level: 'error', means: 'A value is not of the form its place needs.' },
  'sheet-length-unreadable': { level: 'error', means: 'A length cannot be read, or has no unit.' },
  'sheet-measurement-unknown': { level: 'error', means: 'A name under "drafted for" is not a body measurement.' },
  'sheet-edge-unknown': { level: 'error', means: 'A text does not name a piece and its edge.' },
  'sheet-given-twice': { level: 'error', means: 'The same piece or measurement stands in the sheet twice.' },
};
