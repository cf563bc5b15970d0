import { onPiece } from '../paper/garment.ts';
import { type SeamGains, swingLeg } from '../paper/trouser-legs.ts';
import type { Alteration } from './alteration.ts';
import type { PlannedStep } from './contract.ts';
import { kneeNotes, legsLack, wholeToLegs } from './leg-shares.ts';
import { longerOrShorter } from './sayings.ts';
import { inches, limitFindings, signed } from './shares.ts';

/** Customary most of the wedge (common practice: ¼ to ½ in). */
const MOST = inches(1 / 2);

/**
 * Bow legs and knock knees, front and back alike: cut across the leg at the knee or the crotch, and a wedge opened at
 * the side, hinged at the inseam (bow legs), or opened at the inseam, hinged at the side (knock knees); the leg below
 * swings inwards, or outwards. The part above stays and the grain is drawn straight through it again; the hem swings with
 * the leg. The wedge is taken as many thin ones below the cut, so that no seam has a kink.
 *
 * With the hinge in the middle of the leg one seam gains what the other loses (Hertzer, Garment Cutting, page 20). The
 * rest: common practice.
 */
export const legTilt: Alteration = {
  card: {
    name: 'leg tilt',
    title: 'Bow legs, knock knees',
    synonyms: [
      { name: 'bow leg', sign: 1 },
      { name: 'bow legs', sign: 1 },
      { name: 'knock knee', sign: -1 },
      { name: 'knock knees', sign: -1 },
    ],
    plus: 'bow legs: wedge opened at the side',
    minus: 'knock knees: wedge opened at the inseam',
    needs: [
      'trouser fronts and backs with crotch seam, inseam and side seam',
      'a knee level (established where none is marked)',
    ],
    options: [
      { name: 'from', means: 'where the leg is cut across', values: ['knee', 'crotch'], default: 'knee' },
      {
        name: 'hinge',
        means: 'at the far seam, or in the middle of the leg, where one seam gains what the other loses',
        values: ['seam', 'mid-grain'],
        default: 'seam',
      },
    ],
    limits: [{ place: 'wedge across the leg', most: MOST, source: 'common practice' }],
    moves: ['the leg below the cut, with levels, marks and hem', 'length of one seam, or of both'],
    keeps: ['waist', 'hip', 'crotch seam', 'leg width along its own line', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Cut across the leg at the knee or crotch, hinge at the inseam (bow legs) or the side (knock knees), and open a wedge; or hinge in the middle.',
    source: 'mid-grain hinge: Hertzer, Garment Cutting, page 20; the rest: common practice',
  },
  stage: 'shape',
  evenAt: 'waist',
  divide: ({ pattern, amount, beyondLimits, show, options }) => {
    const shares = wholeToLegs(pattern, amount, 'wedge across the leg', MOST);
    const { side, inseam } = gainsOf(amount, options.hinge);
    return {
      shares,
      findings: [
        ...legsLack(pattern, 'leg tilt', { edges: ['crotch', 'inseam', 'side'] }),
        ...kneeNotes(pattern, 'leg tilt'),
        ...limitFindings('leg tilt', shares, beyondLimits, show, 'Take part of it at the knee and part at the crotch.'),
      ],
      explanation: `side ${signed(side, show)}, inseam ${signed(inseam, show)} at the ${options.from}, front and back alike`,
    };
  },
  alter: (garment, step) =>
    step.shares.reduce(
      (g, s) =>
        onPiece(g, s.piece, (t) =>
          swingLeg(t, step.options.from === 'crotch' ? 'crotch' : 'knee', gainsOf(s.amount, step.options.hinge)),
        ),
      garment,
    ),
  says: (share, step, show) => {
    const { side, inseam } = gainsOf(share.amount, step.options.hinge);
    const seams = [
      ...(side === 0 ? [] : [`side seam ${longerOrShorter(side, show)}`]),
      ...(inseam === 0 ? [] : [`inseam ${longerOrShorter(inseam, show)}`]),
    ];
    return `leg swung ${share.amount > 0 ? 'in' : 'out'} from the ${step.options.from} down: ${seams.join(', ')}`;
  },
  examples: [
    { says: 'bow legs, wedge of 3/8 in at the side', amount: 0.375, share: 0.375, source: 'common practice' },
    { says: 'knock knees, wedge of 1/4 in at the inseam', amount: -0.25, share: -0.25, source: 'common practice' },
  ],
};

/** What each seam gains by a wedge: hinged in the middle, the leg swings as far, and each seam takes half. */
const gainsOf = (amount: number, hinge: PlannedStep['options'][string] | undefined): SeamGains => {
  if (hinge === 'mid-grain') return { side: amount / 2, inseam: -amount / 2 };
  return amount > 0 ? { side: amount, inseam: 0 } : { side: 0, inseam: -amount };
};
