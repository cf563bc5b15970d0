import type { CodeMeaning } from '../../finding.ts';

/** Findings of writing DXF for cutters, and of the apparel exchange layout. */
export const dxfSheetCodes: Record<string, CodeMeaning> = {
  'dxf-cutter-file': { level: 'note', means: 'The unit and the size of a file written for a cutter.' },
  'dxf-cutter-coarse': { level: 'warning', means: 'The machine asks for chords coarser than cutting should have.' },
  'dxf-letters-escaped': {
    level: 'note',
    means: 'Letters beyond ASCII are written as codes that a machine may show raw.',
  },
  'dxf-apparel-no-grain': { level: 'warning', means: 'A piece without grainline goes out as it lies.' },
  'dxf-apparel-relations': { level: 'note', means: 'The apparel layout cannot say which edges are sewn together.' },
};
