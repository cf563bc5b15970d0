import { onPiece } from '../paper/garment.ts';
import { crotchPointOut, crotchWedge } from '../paper/trouser-crotch.ts';
import type { Alteration } from './alteration.ts';
import type { AlterationOption } from './contract.ts';
import { legs } from './garment-parts.ts';
import { kneeNotes, legsLack, wholeToLegs } from './leg-shares.ts';
import { spreadOrLapped, told } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/* What front and back crotch length have in common. */

/** Customary most (common practice). */
export const MOST_AT_CROTCH_SEAM = inches(3 / 4);

export const crotchLengthOptions: readonly AlterationOption[] = [
  {
    name: 'method',
    means: 'bring the crotch point out, or open a wedge across the crotch seam on the hip line',
    values: ['crotch point', 'wedge'],
    default: 'crotch point',
  },
];

type Doing = Pick<Alteration, 'stage' | 'evenAt' | 'divide' | 'alter' | 'says'>;

/** Lengthening and shortening the crotch seam of fronts or of backs. */
export const crotchLength = (side: 'front' | 'back'): Doing => {
  const name = `${side} crotch length`;
  const places = [`trouser ${side}`] as const;
  return {
    stage: 'shape',
    evenAt: 'waist',
    divide: ({ pattern, amount, beyondLimits, show, options }) => {
      const shares = wholeToLegs(pattern, amount, `${side} crotch seam`, MOST_AT_CROTCH_SEAM, places);
      const undarted = legs(pattern, places).filter((p) => options.method === 'wedge' && p.darts.length === 0);
      return {
        shares,
        findings: [
          ...legsLack(pattern, name, { places, edges: ['crotch', 'inseam', 'side', 'waist'] }),
          ...(options.method === 'wedge' ? [] : kneeNotes(pattern, name, places)),
          ...undarted.map((p) =>
            missing(
              name,
              `${p.name || p.id} has no waist dart to take what the waist gains`,
              `Choose the other method: --choose "${name} method=crotch point".`,
            ),
          ),
          ...limitFindings(
            name,
            shares,
            beyondLimits,
            show,
            'Part of it may be crotch depth; share it with the other side.',
          ),
        ],
        explanation:
          options.method === 'wedge'
            ? `${signed(amount, show)} by a wedge on the hip line, nothing at the side`
            : `${signed(amount, show)} at the ${side} crotch point, nothing at the knee`,
      };
    },
    alter: (garment, step) =>
      step.shares.reduce(
        (g, { piece, amount }) =>
          onPiece(g, piece, (t) =>
            step.options.method === 'wedge' ? crotchWedge(t, amount) : crotchPointOut(t, amount),
          ),
        garment,
      ),
    says: (share, step, show) =>
      step.options.method === 'wedge'
        ? `wedge across the crotch seam on the hip line, ${spreadOrLapped(share.amount, show)} along the seam; darts ${share.amount > 0 ? 'deepened' : 'made narrower'} to keep the waist`
        : `crotch point ${outOrInBy(share.amount, show)} along the crotch seam, inseam kept in length, nothing at the knee`,
  };
};

const outOrInBy = told('out by', 'in by');
