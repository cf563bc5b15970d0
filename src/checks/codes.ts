import type { CodeMeaning } from '../finding.ts';

export const checkCodes: Record<string, CodeMeaning> = {
  'check-mates-apart': {
    level: 'error',
    means:
      'Two edges that are sewn together no longer differ as they did: one of them should have changed and did not.',
  },
  'check-notches-apart': {
    level: 'warning',
    means: 'Notches of two mates met before the alteration and do not after it.',
  },
  'check-outline-open': { level: 'error', means: 'An outline does not close after the alteration.' },
  'check-outline-crosses': { level: 'error', means: 'An outline crosses itself after the alteration.' },
  'check-outline-reversed': { level: 'error', means: 'An outline is turned inside out after the alteration.' },
  'check-not-fair': {
    level: 'warning',
    means: 'A seam that ran smoothly has a point or a hollow after the alteration.',
  },
  'check-corner-turned': { level: 'warning', means: 'Two corners that met in a straight line no longer do.' },
  'check-allowance-changed': { level: 'warning', means: 'The allowance beside an edge is not what it was.' },
  'fault-seams-uneven': { level: 'warning', means: 'The pattern came with mates of unequal length.' },
  'fault-corners-meet': { level: 'note', means: 'The pattern came with corners that do not meet in a straight line.' },
  'fault-dart-legs': { level: 'warning', means: 'The pattern came with a dart of unequal legs.' },
  'fault-not-square': {
    level: 'note',
    means: 'The pattern came with a waist or hem that is not square to the centre.',
  },
  'check-grain-turned': { level: 'error', means: 'The grainline is bent or stands at another angle to the upright.' },
};
