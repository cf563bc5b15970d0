import type { CodeMeaning } from '../finding.ts';

/** Findings of the recogniser. */
export const recogniseCodes: Record<string, CodeMeaning> = {
  'recognise-no-piece': { level: 'error', means: 'The drawing holds no closed outline that could be a pattern piece.' },
  'recognise-outline-open': { level: 'error', means: 'A line runs nearly round a piece but does not close.' },
  'recognise-gap-closed': { level: 'warning', means: 'An outline was open by a hair and has been read as closed.' },
  'recognise-line-twice': { level: 'warning', means: 'The same outline is drawn twice, one on the other.' },
  'recognise-placed-twice': {
    level: 'note',
    means: 'One shape is placed more than once; the others follow the first.',
  },
  'recognise-several-sizes': {
    level: 'error',
    means: 'A piece has more outlines inside one another than one size needs.',
  },
  'recognise-outline-crosses': { level: 'error', means: 'An outline crosses itself.' },
  'recognise-no-seam-line': {
    level: 'warning',
    means: 'A piece has one outline and nothing says whether it is the cutting line or the seam line.',
  },
  'recognise-seam-line-failed': {
    level: 'error',
    means: 'No seam line could be drawn inside the cutting line by the stated allowance.',
  },
  'recognise-part-unknown': { level: 'warning', means: 'Nothing says what a piece is of the garment.' },
  'recognise-part-doubtful': { level: 'warning', means: 'What a piece is of the garment can be read two ways.' },
  'recognise-roles-doubtful': {
    level: 'warning',
    means: 'The edges of a piece can be read two ways that are equally likely.',
  },
  'recognise-roles-unknown': { level: 'warning', means: 'The edges of a piece could not be told apart.' },
  'recognise-fold-doubtful': {
    level: 'warning',
    means: 'A centre edge may lie on the fold or be a seam; nothing says which.',
  },
  'recognise-cut-unknown': {
    level: 'warning',
    means: 'The sleeves are cut in a way (raglan, kimono) for which the edges are not told by themselves.',
  },
  'recognise-upright-unknown': { level: 'warning', means: 'Nothing says which way up a piece stands.' },
  'recognise-grain-doubtful': {
    level: 'warning',
    means: 'Two lines of a piece could both be its grainline, or little says that a line across a skirt or leg is it.',
  },
  'recognise-bust-point-assumed': {
    level: 'note',
    means: 'No bust point is marked; it was taken where the darts point.',
  },
  'recognise-inner-dart-unsure': {
    level: 'warning',
    means: 'A closed line is shaped like a dart with two tips, and nothing else says that it is one.',
  },
  'recognise-waist-unknown': { level: 'warning', means: 'A dress in one piece does not say where its waist lies.' },
  'recognise-waist-assumed': {
    level: 'warning',
    means: 'The waist of a dress in one piece is not drawn; it was taken where the side goes in furthest.',
  },
  'recognise-yoke-at-waist': {
    level: 'note',
    means: 'A yoke is sewn to the upper edge of a piece: its waist edge is the yoke seam.',
  },
  'recognise-no-grain': { level: 'note', means: 'A piece has no grainline.' },
  'recognise-cut-count-assumed': {
    level: 'note',
    means: 'Nothing says how often a piece is cut; the usual number was taken.',
  },
  'recognise-cut-count-doubtful': { level: 'warning', means: 'A piece states two different cut counts.' },
  'recognise-mates-doubtful': { level: 'warning', means: 'It cannot be told which edges are sewn together.' },
  'recognise-mates-unequal': { level: 'warning', means: 'Edges that seem to be sewn together differ in length.' },
  'recognise-size-implausible': {
    level: 'error',
    means: 'A piece is far too large or too small, as if drawn in another unit.',
  },
  'recognise-loose-lines': { level: 'note', means: 'Some lines lie on no piece; they stay as they are.' },
  'recognise-sheet-piece-missing': {
    level: 'error',
    means: 'The pattern sheet names a piece that the drawing does not have.',
  },
  'recognise-sheet-place-missing': {
    level: 'error',
    means: 'The pattern sheet names a place where the drawing has no such corner or line.',
  },
  'recognise-sheet-edge-missing': {
    level: 'error',
    means: 'The pattern sheet names an edge that the piece does not have.',
  },
};
