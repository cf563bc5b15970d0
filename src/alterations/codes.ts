import type { CodeMeaning } from '../finding.ts';

export const alterationCodes: Record<string, CodeMeaning> = {
  'plan-not-drafted-for': {
    level: 'error',
    means: 'The wearer is measured at a place for which the pattern does not say what it was drafted for.',
  },
  'plan-measurement-unused': {
    level: 'warning',
    means: 'A measurement is given that no alteration of this pattern uses.',
  },
  'plan-unknown-alteration': { level: 'error', means: 'An amount is given for an alteration that does not exist.' },
  'plan-unknown-option': { level: 'error', means: 'An option is chosen that the alteration does not have.' },
  'plan-missing-piece': { level: 'error', means: 'No piece has what the alteration needs.' },
  'plan-past-limit': { level: 'error', means: 'More is asked of a seam, dart or line than is customary.' },
  'plan-beyond-limit': { level: 'warning', means: 'A place takes more than is customary, because it was asked for.' },
  'plan-doubt': { level: 'error', means: 'What an edge is could not be settled, and the alteration needs it.' },
  'plan-nothing': { level: 'note', means: 'The wearer needs nothing altered.' },
  'plan-hip-level': {
    level: 'note',
    means: 'No hip line is marked; the hip level was established down the side seam.',
  },
  'plan-line-spread': { level: 'note', means: 'A length change is spread over several lines.' },
  'alter-hidden-in-tuck': {
    level: 'warning',
    means: 'A mark would be hidden in the fold of a tuck; it lies on the fold now.',
  },
  'alter-no-room': {
    level: 'error',
    means: 'The paper has no room for the change: it would fold a corner or a seam away.',
  },
  'alter-band-unmatched': {
    level: 'warning',
    means: 'A waistband has no notches at the side seams; it was changed at its middle.',
  },
};
