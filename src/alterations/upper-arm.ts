import { spreadSleeves } from '../paper/sleeve-two-pieces.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { sleeves } from './garment-parts.ts';
import { letOutAtUnderarm, MOST_AT_UNDERARM, overUnderarmEdges } from './let-out-underarm.ts';
import { outOrIn, spreadOrLapped } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';
import { roundTheArm, sleevesLack } from './sleeve-shares.ts';

/** Customary most that one sleeve is spread, and tucked, at the biceps (common practice). */
const MOST_SPREAD = inches(1);
const MOST_TUCKED = inches(3 / 4);

/**
 * Upper arm larger or smaller.
 *
 * Slash: lengthwise from the top of the cap to the middle of the wrist, and crosswise at the biceps; the four parts
 * hinge at both underarm points, the cap's top and the middle of the wrist. Spread (overlapped) at the biceps by the
 * change, the crosswise slash overlaps: the cap drops (rises) and keeps the length of its edge, so it still fits the
 * armhole. Each half of the cap keeps the chord √(w² + h²) from its top to its underarm point: 6½ in wide and 5½ in
 * high, ½ in wider at each half, it is √(6½² + 5½² − 7²) = 4.848 in high. Then the seams are drawn evenly from the
 * underarm to the wrist, and the length of the cap is made exactly what it was. A sleeve in two pieces takes a quarter
 * at each of its four seams.
 *
 * Other method: the underarm edges go out by half the change each, to nothing at the wrist, and so does the side of the
 * bodice, to nothing at its waist: cap and armhole both gain. Where they gain otherwise the crown makes it good.
 *
 * Construction: listed in U.S.D.A. Home Economics Research Report 32 and Montana bulletin 265; details and limits are
 * common practice.
 */
export const upperArm: Alteration = {
  card: {
    name: 'upper arm',
    title: 'Larger upper arm, smaller upper arm',
    synonyms: [
      { name: 'larger upper arm', sign: 1 },
      { name: 'large upper arm', sign: 1 },
      { name: 'full upper arm', sign: 1 },
      { name: 'smaller upper arm', sign: -1 },
      { name: 'thin upper arm', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: [
      'a sleeve with cap and sleeve seams',
      'for the underarm seam: a sleeve in one piece, and a bodice with armholes and side edges',
    ],
    measurement: 'upper-arm girth',
    options: [
      {
        name: 'method',
        means: 'slash and spread, which lowers the cap, or let out the underarm edges of sleeve and bodice',
        values: ['slash', 'underarm seam'],
        default: 'slash',
      },
      {
        name: 'to',
        means: 'with the slash: where the sleeve seams run out into their old line',
        values: ['wrist', 'elbow'],
        default: 'wrist',
      },
    ],
    limits: [
      { place: 'slash at the biceps, spread', most: MOST_SPREAD, source: 'common practice' },
      { place: 'slash at the biceps, overlapped', most: MOST_TUCKED, source: 'common practice' },
      { place: 'underarm edge', most: MOST_AT_UNDERARM, source: 'common practice' },
    ],
    moves: [
      'sleeve seams',
      'cap',
      'cap notches',
      'wrist corners',
      'with underarm seam: bodice side edges and armholes',
    ],
    keeps: ['cap length', 'wrist', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Slash from the top of the cap to the middle of the wrist and across at the biceps, spread there; the cap drops and keeps its length.',
    source: 'U.S.D.A. Home Economics Research Report 32 lists it; details and limits: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => (request.options.method === 'slash' ? slashed(request) : overUnderarmEdges(request)),
  alter: (garment, step) => {
    if (step.options.method === 'slash') {
      return sleeves(garment.pattern).reduce((g, { pieces }) => {
        const own = step.shares.filter((s) => pieces.some((p) => p.id === s.piece));
        const change = own.reduce((sum, s) => sum + s.amount * s.counted, 0);
        return spreadSleeves(g, pieces, change, step.options.to === 'elbow' ? 'elbow' : 'wrist');
      }, garment);
    }
    return letOutAtUnderarm(garment, step.shares);
  },
  says: (share, step, show) =>
    share.edge !== undefined
      ? `${share.place} ${outOrIn(share.amount, show)} at the underarm, the armhole and the cap alike`
      : `slashed and ${spreadOrLapped(share.amount, show)} at the biceps, nothing at the ${step.options.to}; the cap ${share.amount > 0 ? 'drops' : 'rises'} and keeps its length`,
  examples: [
    { says: 'upper arm 1 in larger', amount: 1, share: 1, source: 'common practice' },
    { says: 'upper arm 1/2 in smaller', amount: -0.5, share: -0.5, source: 'common practice' },
  ],
};

const slashed = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = roundTheArm(pattern, amount, 'slash at the biceps', amount > 0 ? MOST_SPREAD : MOST_TUCKED);
  return {
    shares,
    findings: [
      ...sleevesLack(pattern, 'upper arm', ['cap', 'sleeve seam']),
      ...limitFindings(
        'upper arm',
        shares,
        beyondLimits,
        show,
        'Take part of it at the underarm seam of the next size.',
      ),
    ],
    explanation: `${signed(amount, show)} round the arm at the biceps`,
  };
};
