import { onPiece } from '../paper/garment.ts';
import { letHemDown } from '../paper/skirt-lengths.ts';
import type { Alteration } from './alteration.ts';
import { hemRounds, tiersCalled, wholeToEveryPiece } from './length-parts.ts';
import { takenOrLet } from './sayings.ts';
import { missing, signed } from './shares.ts';

/**
 * Length at the hem: the hem is let down (taken up) parallel to the hem line, every piece alike; the seams run on along
 * their own lines, so the sweep changes; the hem allowance is mirrored again (Central Washington University costume
 * text, chapter 17).
 */
export const lengthAtHem: Alteration = {
  card: {
    name: 'length at the hem',
    title: 'Longer or shorter at the hem',
    synonyms: [
      { name: 'longer at the hem', sign: 1 },
      { name: 'shorter at the hem', sign: -1 },
    ],
    plus: 'longer',
    minus: 'shorter',
    needs: ['a hem edge'],
    options: [],
    limits: [],
    moves: ['hem', 'lower ends of the seams', 'hem allowance'],
    keeps: ['waist', 'hip', 'mates', 'grain', 'allowances', 'corner angles'],
    additive: true,
    construction: 'The hem is let down parallel to the hem line; the seams run on along their own lines.',
    source: 'Central Washington University costume text, chapter 17',
  },
  stage: 'length',
  evenAt: 'hem',
  divide: ({ pattern, amount, show }) => {
    const shares = wholeToEveryPiece(hemRounds(pattern), amount, 'hem', Number.POSITIVE_INFINITY);
    const hemless = pattern.pieces.filter(
      (p) => shares.some((s) => s.piece === p.id) && !p.edges.some((e) => e.role === 'hem'),
    );
    return {
      shares,
      findings: [
        ...(shares.length === 0
          ? [missing('length at the hem', 'no piece with a hem was found', 'Name the hem in the pattern sheet.')]
          : []),
        ...hemless.map((p) =>
          missing('length at the hem', `${p.name} has no hem edge`, 'Name its hem in the pattern sheet.'),
        ),
      ],
      explanation: `${signed(amount, show)} at the hem, every piece alike${tiersCalled(pattern, hemRounds(pattern))}`,
    };
  },
  alter: (garment, step) => step.shares.reduce((g, s) => onPiece(g, s.piece, (t) => letHemDown(t, s.amount)), garment),
  says: (share, _step, show) => `hem ${takenOrLet(share.amount, show)}, parallel to the hem line`,
  examples: [
    { says: 'longer by 1 1/2 in', amount: 1.5, share: 1.5, source: 'derived: a straight seam redrawn end to end' },
  ],
};
