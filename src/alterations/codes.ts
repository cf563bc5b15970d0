import type { CodeMeaning } from '../finding.ts';

export const alterationCodes: Record<string, CodeMeaning> = {
  'plan-not-drafted-for': {
    level: 'error',
    means: 'The wearer is measured at a place for which the pattern does not say what it was drafted for.',
  },
  'plan-measurement-unused': {
    level: 'note',
    means: 'A measurement is given that no alteration of this pattern uses.',
  },
  'plan-unknown-alteration': { level: 'error', means: 'An amount is given for an alteration that does not exist.' },
  'plan-unknown-option': { level: 'error', means: 'An option is chosen that the alteration does not have.' },
  'plan-missing-piece': { level: 'error', means: 'No piece has what the alteration needs.' },
  'plan-needs-unfolding': {
    level: 'error',
    means: 'One side is to differ from the other on a piece that is drawn as half, or cut as a pair.',
  },
  'plan-past-limit': { level: 'error', means: 'More is asked of a seam, dart or line than is customary.' },
  'plan-beyond-limit': { level: 'warning', means: 'A place takes more than is customary, because it was asked for.' },
  'plan-doubt': { level: 'error', means: 'What an edge is could not be settled, and the alteration needs it.' },
  'plan-cannot-measure': {
    level: 'error',
    means: 'A measurement cannot be taken on the pattern, and the ease asked for there cannot be set.',
  },
  'plan-allowance-unknown': {
    level: 'error',
    means: 'The pattern has a cutting line alone, so what it measures has allowances of unknown width in it.',
  },
  'plan-not-measured': {
    level: 'warning',
    means: 'A measurement cannot be taken on the altered pieces, so nothing says whether it came out.',
  },
  'plan-ease-without-body': {
    level: 'warning',
    means: 'Ease is asked for at a place where the wearer was not measured.',
  },
  'plan-target-missed': { level: 'error', means: 'A measurement does not come out as the wearer needs it.' },
  'plan-measurements-disagree': {
    level: 'warning',
    means: 'A measurement comes out otherwise than given, because other measurements decide it.',
  },
  'plan-ease-least': {
    level: 'error',
    means: 'The garment would have less wearing ease than the least that is customary.',
  },
  'plan-ease-design': {
    level: 'note',
    means: 'The pattern as drafted has less than the least wearing ease: a close design, or the cloth stretches.',
  },
  'plan-dart-whole': {
    level: 'note',
    means: 'All of a dart is taken, because what would be left of it is too narrow to sew.',
  },
  'plan-nothing': { level: 'note', means: 'The wearer needs nothing altered.' },
  'plan-hip-level': {
    level: 'note',
    means: 'No hip line is marked; the hip level was established down the side seam.',
  },
  'plan-armhole-level': {
    level: 'note',
    means: 'Nothing marks where the width of back or chest is taken; halfway up the armhole was used.',
  },
  'plan-cap-height': {
    level: 'note',
    means: 'The shoulder reaches further (less far) over the arm, which a sleeve cap may have to follow.',
  },
  'plan-shoulder-ease': {
    level: 'note',
    means: 'A back shoulder without a dart gains or loses ease over the front shoulder.',
  },
  'plan-line-spread': { level: 'note', means: 'A length change is spread over several lines.' },
  'plan-knee-level': {
    level: 'note',
    means: 'No knee line is marked; the knee was taken a little above the middle of the inside leg.',
  },
  'plan-line-midway': {
    level: 'note',
    means: 'No adjustment line is printed; the level midway between two levels was taken.',
  },
  'plan-no-notches': {
    level: 'note',
    means: 'A cap has no notches; where its crown begins was taken from its length.',
  },
  'plan-cap-ease': {
    level: 'warning',
    means: 'The cap comes to have more or less ease over its armhole than is usual.',
  },
  'alter-cap-followed': {
    level: 'note',
    means: 'The armhole changed, and the cap was altered so that its ease stays.',
  },
  'alter-cap-needed': {
    level: 'note',
    means: 'The armhole changed and the pattern has no sleeve; a sleeve drafted elsewhere needs as much at its cap.',
  },
  'alter-armholes-differ': {
    level: 'warning',
    means: 'The right and the left armhole changed by different amounts, and one sleeve pattern serves both.',
  },
  'alter-hidden-in-tuck': {
    level: 'warning',
    means: 'A mark would be hidden in the fold of a tuck; it lies on the fold now.',
  },
  'alter-dart-narrow': {
    level: 'note',
    means: 'A dart has been left, or drawn, so narrow that it is hardly worth sewing.',
  },
  'alter-no-room': {
    level: 'error',
    means: 'The paper has no room for the change: it would fold a corner or a seam away.',
  },
  'alter-band-unmatched': {
    level: 'error',
    means: 'A waistband has no notches where the seams come to lie; it was not changed.',
  },
  'alter-pocket-unplaced': {
    level: 'error',
    means: 'A pocket is set into a seam that was altered, and no notches say where on the seam it lies.',
  },
  'alter-facing-unplaced': {
    level: 'error',
    means: 'A facing lies on no piece as drafted, so it could not follow an edge of its kind that was altered.',
  },
  'alter-follower-left': {
    level: 'error',
    means: 'A piece no longer matches the altered edge it is sewn to, and could not be made to follow.',
  },
};
