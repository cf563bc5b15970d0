import { neckTurns, slopeShoulders } from '../paper/bodice-slope.ts';
import { cloths } from '../pattern/pattern.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import { bodiceLayers, groupsOf, hasArmhole, hasShoulder, hasShoulderAtArmhole, shareAt } from './bodice-parts.ts';
import { raisedOrLowered } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/** Customary most (common practice). */
const MOST = inches(1 / 2);

/**
 * Square or sloping shoulders, front and back alike: the shoulder tip is raised (lowered) d, to nothing at the neck, and
 * the underarm by the same d, so that the armhole keeps its size. The shoulder is swung about the neck point and keeps
 * its length; the underarm goes up along the side seam, which gains just d on front and back, so they still match. The
 * levels of the armhole, its notches and a dart in the shoulder go along. Common practice.
 *
 * Panels of one shoulder swing as one. Where a panel seam runs from the armhole, its upper end goes up by d as well.
 */
export const shoulderSlope: Alteration = {
  card: {
    name: 'shoulder slope',
    title: 'Square shoulders, sloping shoulders',
    synonyms: [
      { name: 'square shoulders', sign: 1 },
      { name: 'high shoulders', sign: 1 },
      { name: 'sloping shoulders', sign: -1 },
      { name: 'low shoulders', sign: -1 },
    ],
    plus: 'square',
    minus: 'sloping',
    needs: ['fronts and backs with a shoulder and an armhole', 'side edges'],
    measurement: 'shoulder drop',
    options: [],
    limits: [{ place: 'shoulder tip', most: MOST, source: 'common practice' }],
    moves: [
      'shoulder',
      'armhole',
      'side edge at the underarm',
      'levels of the armhole',
      'neck where it meets the shoulder',
      'cutting line',
    ],
    keeps: ['shoulder length', 'armhole length', 'neck length', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: false,
    construction:
      'Raise or lower the shoulder tip, to nothing at the neck, and the underarm by as much; front and back alike.',
    source: 'common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: (request) => divide(request),
  alter: (garment, step) =>
    cloths(garment.pattern).reduce((layered, cloth) => {
      const groups = groupsOf(
        garment.pattern,
        step.shares.filter((s) => s.cloth === cloth),
      );
      const turns = neckTurns(layered, groups, step.amount);
      return groups.reduce((g, pieces, i) => slopeShoulders(g, pieces, step.amount, turns[i] as number), layered);
    }, garment),
  says: (share, _step, show) =>
    share.place === 'underarm'
      ? `armhole and underarm ${raisedOrLowered(share.amount, show)} with the shoulder`
      : `shoulder tip ${raisedOrLowered(share.amount, show)}, nothing at the neck; the underarm by as much`,
  examples: [
    { says: 'square shoulders, 1/2 in', amount: 0.5, share: 0.5, source: 'common practice' },
    { says: 'sloping shoulders, 3/8 in', amount: -0.375, share: -0.375, source: 'common practice' },
  ],
};

const divide = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const pieces = bodiceLayers(pattern).flatMap((layer) =>
    layer.pieces.some(hasShoulder) ? layer.pieces.filter((p) => hasShoulder(p) || hasArmhole(p)) : [],
  );
  const shares = pieces.map((p) => shareAt(p, placeOn(p), amount, MOST));
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [
            missing(
              'shoulder slope',
              'no front or back with a shoulder was found',
              'Name the pieces and their edges in the pattern sheet.',
            ),
          ]
        : []),
      ...limitFindings('shoulder slope', shares, beyondLimits, show, 'Take part of it with a shoulder pad.'),
    ],
    explanation: `${signed(amount, show)} at the shoulder tip and at the underarm, nothing at the neck`,
  };
};

const placeOn = (piece: Parameters<typeof hasShoulder>[0]): string =>
  hasShoulderAtArmhole(piece) ? 'shoulder tip' : hasShoulder(piece) ? 'shoulder at the panel seam' : 'underarm';
