import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hipDepth } from '../../src/alterations/alter.ts';
import { alterationCalled } from '../../src/alterations/index.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { notchPlaces } from '../../src/checks/walk.ts';
import { type Garment, layOut, settle, tapeAll } from '../../src/paper/garment.ts';
import { NoRoom } from '../../src/paper/no-room.ts';
import { notchesMeet } from '../../src/paper/notches-meet.ts';
import { along, edgeRun, pointsOf } from '../../src/paper/runs.ts';
import { placesAlong, proportionally, slideAlong } from '../../src/paper/slide.ts';
import { trace } from '../../src/paper/tracing.ts';
import type { Pattern, SewnEdge } from '../../src/pattern/pattern.ts';
import type { Edge, Piece } from '../../src/pattern/piece.ts';
import { bodice, type Drafted, dress, trousers } from '../properties/garments.ts';
import { layOnce, sampleFrom } from '../properties/samples.ts';

/* Notches of mates that a change has brought apart slide together again: by what they were apart, and no further. */

/** What the redrawn seam may measure otherwise than its pricks, mm. */
const DRAWN = 0.02;

/** As read from a file: the drafts state no notches of their own. */
const read = (drafted: Drafted): Pattern => layOnce(sampleFrom(drafted)).pattern;
const blocks: Readonly<Record<string, Pattern>> = {
  'half bodice': read(bodice()),
  'whole bodice': read(bodice({ whole: true })),
  'whole bodice, darts in the outline': read(bodice({ whole: true, darts: 'outline' })),
  'whole dress': read(dress({ whole: true })),
  trousers: read(trousers()),
};

const deeds: readonly (readonly [name: string, choices: Readonly<Record<string, string>>])[] = [
  ['bust', {}],
  ['bust height', {}],
  ['bust height', { method: 'tip only' }],
  ['hip', {}],
  ['thigh', {}],
  ['waist', {}],
  ['seat', {}],
];

interface Sewn {
  readonly pattern: Pattern;
  readonly garment: Garment;
  readonly touched: ReadonlySet<string>;
}

/** The seams settled, their notches not yet brought together. */
const settled = (pattern: Pattern, deed: (typeof deeds)[number], amount: number): Sewn | undefined => {
  const [name, choices] = deed;
  const plan = planFitting(
    pattern,
    { fitting: 'Zerlina', measurements: {}, direct: { [name]: { amount, column: name } } },
    { beyondLimits: true, choices: { [name]: choices }, show: 'mm' },
  );
  const [step] = plan.steps;
  const alteration = alterationCalled(name);
  if (!step || !alteration) return undefined;
  const touched = new Set(step.shares.map((s) => s.piece));
  try {
    const altered = alteration.alter(layOut(pattern, hipDepth(pattern)), step);
    return { pattern, garment: settle(altered, touched, alteration.evenAt), touched };
  } catch (fault) {
    if (fault instanceof NoRoom) return undefined;
    throw fault;
  }
};

const placesOn = (pattern: Pattern, s: SewnEdge | undefined): number[] => {
  const piece = pattern.pieces.find((p) => p.id === s?.piece) as Piece;
  return notchPlaces({ piece, edge: piece.edges.find((e) => e.id === s?.edge) as Edge, times: 1 });
};

describe('notches of mates', () => {
  it('meet as they did, and none slides further than they were apart', () => {
    let slid = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...Object.keys(blocks)),
        fc.constantFrom(...deeds),
        fc.integer({ min: -25, max: 25 }),
        (block, deed, amount) => {
          const done = settled(blocks[block] as Pattern, deed, amount);
          if (!done) return;
          const { pattern, garment, touched } = done;
          const [was, is] = [tapeAll(garment), tapeAll(notchesMeet(garment, touched))];
          for (const mates of pattern.mates.filter((m) => m.one.length === 1 && m.other.length === 1)) {
            const rows = [mates.one[0], mates.other[0]];
            const [drawn, before, after] = [pattern, was, is].map((p) => rows.map((s) => placesOn(p, s)));
            if (drawn?.[0]?.length !== drawn?.[1]?.length) continue;
            drawn?.[0]?.forEach((_, i) => {
              const [d, b, a] = [drawn, before, after].map((p) => (p?.[0]?.[i] ?? 0) - (p?.[1]?.[i] ?? 0));
              const apart = Math.abs((b as number) - (d as number));
              const told = `${deed[0]} ${amount} on ${block}, ${mates.id}`;
              for (const k of [0, 1]) {
                const moved = Math.abs((after?.[k]?.[i] ?? 0) - (before?.[k]?.[i] ?? 0));
                slid = Math.max(slid, moved);
                expect(moved, told).toBeLessThanOrEqual(apart + DRAWN);
              }
              expect(Math.abs((a as number) - (d as number)), told).toBeLessThanOrEqual(apart + DRAWN);
            });
          }
        },
      ),
      { numRuns: 40, endOnFailure: true },
    );
    // Some had come apart, so that the bound means something.
    expect(slid).toBeGreaterThan(0.25);
  });
});

describe('sliding along a seam', () => {
  it('counts points that lie on one another once', () => {
    const points = [0, 5, 5, 10, 15].map((x) => ({ x, y: 0 }));
    expect(placesAlong(points, [2, 7, 12]).map((p) => p.x)).toEqual([2, 7, 12].map((x) => expect.closeTo(x, 9)));
  });

  const piece = blocks['whole bodice']?.pieces.find((p) => p.part.endsWith('front')) as Piece;
  const sides = piece.edges.filter((e) => e.role === 'side').map((e) => e.id);

  it('brings a place just where it is asked for, on either side of the body, mouths of darts staying', () => {
    expect(sides.length).toBe(2);
    for (const id of sides) {
      const tracing = trace(piece);
      const run = edgeRun(tracing, id);
      const was = along(pointsOf(tracing, run));
      // Between the waist and the dart, from whichever end the side runs.
      const corners = run.flatMap((i, k) => (tracing.seam[i]?.corner ? [was[k] as number] : []));
      const [from, to] = corners
        .slice(1)
        .reduce(([a, b], c, k) => (c - (corners[k] as number) > b - a ? [corners[k] as number, c] : [a, b]), [0, 0]);
      const middle = (from + to) / 2;
      const asked = proportionally(
        [...corners.map((w) => ({ from: w, to: w })), { from: middle, to: middle + 1 }].sort((a, b) => a.from - b.from),
      );
      const is = along(pointsOf(slideAlong(tracing, run, asked), run));
      was.forEach((w, k) => {
        expect(Math.abs((is[k] as number) - asked(w)), `${id} at ${w.toFixed(1)}`).toBeLessThan(0.01);
      });
      expect(Math.max(...was.map((w, k) => Math.abs((is[k] as number) - w)))).toBeGreaterThan(0.9);
    }
  });
});
