import type { CodeMeaning } from '../../finding.ts';

/** Findings of writing HP-GL/2. */
export const hpglCodes: Record<string, CodeMeaning> = {
  'hpgl-frame-too-large': { level: 'error', means: 'A frame is larger than the coordinates the machine takes.' },
  'hpgl-file': { level: 'note', means: 'The unit, the pages and the size of a plot file.' },
  'hpgl-letters-missing': { level: 'warning', means: 'Letters that the stroked alphabet or the machine has not.' },
  'hpgl-lines-solid': { level: 'note', means: 'Dashed lines are drawn solid, since the machine may not know dashes.' },
};
