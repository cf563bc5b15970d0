import type { CodeMeaning } from '../finding.ts';

/** Findings of laying pieces out on a roll or on sheets. */
export const layoutCodes: Record<string, CodeMeaning> = {
  'layout-seam-as-cut': {
    level: 'warning',
    means: 'A piece has no cutting line, or none is wanted: its seam line is cut, without allowance.',
  },
  'layout-no-grain': {
    level: 'warning',
    means: 'A piece laid on cloth has no grainline; its upright is taken for the grain.',
  },
  'layout-count-unsure': { level: 'warning', means: 'How often a piece is cut is not stated; it is laid once.' },
  'layout-piece-too-wide': {
    level: 'error',
    means: 'A piece does not fit between the margins at any turn it may have; it is left out.',
  },
  'layout-piece-too-long': {
    level: 'error',
    means: 'A piece is longer than one frame may be, so no cut between frames can keep it whole.',
  },
  'layout-fold-kept': {
    level: 'warning',
    means: 'A half piece could not be opened out or put on the fold; it is laid as drawn.',
  },
  'layout-odd-on-fold': {
    level: 'warning',
    means: 'Folded cloth gives two of a piece of which an odd number is needed; one is spare.',
  },
  'layout-overlap': { level: 'error', means: 'Two pieces of a layout lie on each other: it is not to be cut by.' },
  'layout-outline-hulled': { level: 'warning', means: 'An outline crosses itself and was laid by the room it spans.' },
  'layout-in-lots': {
    level: 'note',
    means:
      'So many different pieces are laid in lots, one after the other along the roll, and not all among each other.',
  },
  'layout-text-tight': { level: 'note', means: 'A text did not fit inside its piece and was made smaller.' },
  'layout-text-outside': { level: 'warning', means: 'A text does not fit inside its piece at any readable size.' },
  'layout-frame-beyond-roll': { level: 'error', means: 'Margins leave nothing of the roll or the sheet.' },
  'layout-blank-tiles': { level: 'note', means: 'Sheets on which nothing would be drawn are left out.' },
  'layout-moved-for-frames': {
    level: 'note',
    means: 'Pieces were moved along the roll, so that a frame ends between pieces.',
  },
  'layout-machine-caution': { level: 'warning', means: 'What to check before a machine that cuts is started.' },
};
