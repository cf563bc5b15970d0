import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { apart, inOwnFrame } from './comparing.ts';
import { bodice, type Drafted, dress, skirt, trousers } from './garments.ts';
import { alterOnly, carryOut, deedCalled, greatestAmount, lay, readAgain, type Sample } from './laying.ts';
import { deedsFor, layOnce, parts, positions, sampleFrom, spellings, unitsOf } from './samples.ts';

/* The same piece comes of it wherever and however the pattern is drawn. */

/** DESIGN's bound, mm. */
const SAME = 0.01;
/** Outlines are compared at chords that stray by 0.002 mm, on both sides. */
const COMPARED = 0.004;
/** A file that draws curves as chords of 6 mm turns its last chord where a curve turns its tangent, and sags, mm. */
const CHORDS = 0.25;
/** A piece drawn whole has its two darts set one after the other, to 0.003 mm each: mirrored, the other comes first. mm */
const IN_TURN = 0.02;
/** Where lips of a fold meet between the points of a line of chords, it is found from the one or the other end. mm */
const FOLDED_CHORDS = 0.005;

/**
 * Greatest distance between the seam lines of the same pieces, each in its own frame. A straight band has no upright
 * that a mirror leaves alone; its length follows the waists, which are compared.
 */
const greatestApart = (a: Pattern, framesA: Pattern, b: Pattern, framesB: Pattern, mirrored: boolean): number =>
  Math.max(
    ...a.pieces
      .filter((p) => p.part !== 'waistband')
      .map((piece) => {
        const [frameA, other, frameB] = [framesA, b, framesB].map((of) =>
          of.pieces.find((p) => p.part === piece.part),
        ) as [Piece, Piece, Piece];
        return apart(inOwnFrame(piece, frameA, false), inOwnFrame(other, frameB, mirrored));
      }),
  );

const isChorded = (variant: string): boolean => variant === 'apparel' || variant === 'polylines';

/** Blocks that differ in how they are drawn; few, so that each is read once as drawn. */
const drawn = fc.constantFrom<Drafted[]>(
  skirt({ flare: 30 }),
  skirt({ darts: 'outline', back: 'centre seam' }),
  skirt({ whole: true }),
  skirt({ gores: 6 }),
  bodice(),
  bodice({ darts: 'outline', whole: true }),
  bodice({ panels: true, sleeve: 'two pieces' }),
  trousers(),
  dress(),
);
const deedsOn = (drafteds: fc.Arbitrary<Drafted>) =>
  drafteds.chain((drafted) =>
    fc.record({ drafted: fc.constant(drafted), says: fc.constantFrom(...deedsFor(drafted)) }),
  );

describe('the same altered piece', () => {
  it.each(spellings)(
    'comes of a %s file (%s) that is turned, mirrored, moved and in another unit',
    (format, variant) => {
      const place = fc.record({ position: positions, units: unitsOf(variant) });
      let worst = 0;
      fc.assert(
        fc.property(deedsOn(drawn), place, parts, ({ drafted, says }, { position, units }, { part, sign }) => {
          const deed = deedCalled(says);
          const upright = layOnce(sampleFrom(drafted, { format, variant }));
          const amount = sign * part * greatestAmount(upright.pattern, deed, sign);
          fc.pre(amount !== 0);
          const sample: Sample = sampleFrom(drafted, { format, variant, units, ...position });
          const turned = lay(sample);
          const before = greatestApart(
            upright.pattern,
            upright.pattern,
            turned.pattern,
            turned.pattern,
            position.mirror,
          );
          const altered = [upright.pattern, turned.pattern].map((p) => alterOnly(p, deed, amount).pattern) as [
            Pattern,
            Pattern,
          ];
          const after = greatestApart(altered[0], upright.pattern, altered[1], turned.pattern, position.mirror);
          worst = Math.max(worst, after - before);
          expect(before).toBeLessThanOrEqual(SAME);
          expect(after - before, `${deed.says} ${amount}`).toBeLessThanOrEqual(
            SAME + COMPARED + ('whole' in drafted.block ? IN_TURN : 0) + (isChorded(variant) ? FOLDED_CHORDS : 0),
          );
        }),
        { numRuns: 4, endOnFailure: true },
      );
      console.info(`turned, ${variant}: ${worst.toFixed(4)} mm`);
    },
  );

  it('comes of every format: what the files differ by as drawn does not grow', () => {
    const other = fc.constantFrom(...spellings.filter(([, variant]) => variant !== 'cubics'));
    const few = fc.constantFrom<Drafted[]>(
      skirt({ flare: 40 }),
      skirt({ darts: 'outline' }),
      bodice(),
      trousers(),
      dress(),
    );
    let worst = 0;
    fc.assert(
      fc.property(deedsOn(few), other, parts, ({ drafted, says }, [format, variant], { part, sign }) => {
        const deed = deedCalled(says);
        const one = layOnce(sampleFrom(drafted));
        const two = layOnce(sampleFrom(drafted, { format, variant }));
        const amount = sign * part * greatestAmount(one.pattern, deed, sign);
        fc.pre(amount !== 0);
        const before = greatestApart(one.pattern, one.pattern, two.pattern, two.pattern, false);
        const written = [one, two].map(
          (laid) => readAgain(laid.format, carryOut(laid, deed, amount).bytes, laid.fileName).pattern,
        ) as [Pattern, Pattern];
        const after = greatestApart(written[0], one.pattern, written[1], two.pattern, false);
        worst = Math.max(worst, after - before);
        const chords = isChorded(variant) ? CHORDS : 0;
        // Biarcs stand in for reshaped curves in files that hold no splines: within 0.02 mm.
        const biarcs = format === 'dxf' ? 0.02 : 0;
        expect(after, `${deed.says} ${amount} ${variant}`).toBeLessThanOrEqual(
          before + SAME + COMPARED + chords + biarcs,
        );
      }),
      { numRuns: 8, endOnFailure: true },
    );
    console.info(`across formats: ${worst.toFixed(4)} mm more than as drawn`);
  });
});
