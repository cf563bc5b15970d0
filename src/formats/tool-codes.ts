import type { CodeMeaning } from '../finding.ts';

/** Findings of turning a sheet into what a machine's tools do, the same for every format. */
export const toolCodes: Record<string, CodeMeaning> = {
  'tool-purpose-left-out': {
    level: 'note',
    means: 'The machine has no pen or tool for some purposes; their marks are left out.',
  },
  'tool-cut-left-out': { level: 'error', means: 'The machine has no tool for the lines to be cut.' },
  'tool-lines-joined': { level: 'note', means: 'Lines that meet within a hair were joined to one.' },
  'tool-cut-open': { level: 'warning', means: 'A line to be cut does not close.' },
  'tool-notch-beside': {
    level: 'note',
    means: 'A notch could not be taken into the outline and is a stroke of its own.',
  },
};
