import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { checkPattern } from '../../src/checks/index.ts';
import type { Drawable } from '../../src/formats/drawing.ts';
import { nearestOnPath, selfCrossings } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import { contestedLines } from '../../src/job/redraw.ts';
import { edgeRuns } from '../../src/pattern/edges.ts';
import type { Pattern, SewnEdge } from '../../src/pattern/pattern.ts';
import type { Edge, Piece, Span } from '../../src/pattern/piece.ts';
import { chordLength, closedPath, outlineFaults } from './comparing.ts';
import { FOLLOWERS, isDeclared, mayLeaveMates, turnedMore } from './declared.ts';
import { carryOut, deedCalled, greatestAmount, lay, readAgain } from './laying.ts';
import { deedsFor, garments, parts, samplesOf } from './samples.ts';

/* After an alteration within the customary limits the pieces still sew together, and only what was to move has moved. */

/** Lengths of mates may come to differ by so much more than they did, mm. */
const MATES = 0.5;
/** A file's last decimals may leave a gap of this, mm. */
const GAP = 0.01;
/** Each segment of the source becomes at most so many. */
const SEGMENTS = 8;

/** What the seam measures across the mouth of a dart drawn as lines, its cap with it. */
const across = (piece: Piece, edge: Edge, mouth: readonly [Point, Point]): number => {
  const path = { segments: edgeRuns(piece, edge).flat(), closed: false };
  const [a, b] = mouth.map((p) => nearestOnPath(path, p)?.along ?? Number.NaN) as [number, number];
  return Math.abs(b - a);
};

/** Difference of two mates, along chords: computed apart from what the checks use. */
const mateDifferences = (pattern: Pattern): Map<string, number> =>
  new Map(
    pattern.mates.map((mates) => {
      const row = (edges: (typeof mates)['one']): number =>
        edges.reduce((sum, s) => {
          const piece = pattern.pieces.find((p) => p.id === s.piece) as Piece;
          const edge = piece.edges.find((e) => e.id === s.edge);
          if (!edge) return sum;
          const mouths = piece.darts
            .filter((d) => d.edge === edge.id && d.drawn.as === 'lines')
            .reduce((all, d) => all + across(piece, edge, d.mouth), 0);
          return sum + s.times * (chordLength(edgeRuns(piece, edge)) - mouths);
        }, 0);
      return [mates.id, row(mates.one) - row(mates.other)];
    }),
  );

/** How much longer the one row of two mates is meant to come out than the other: ease. */
const meantEase = ({ mates }: Pattern, id: string, eased: ReadonlyMap<string, number>): number => {
  const sewn = mates.find((m) => m.id === id);
  const row = (edges: readonly SewnEdge[] = []): number =>
    edges.reduce((sum, s) => sum + s.times * (eased.get(`${s.piece}/${s.edge}`) ?? 0), 0);
  return row(sewn?.one) - row(sewn?.other);
};

/** A garment in a file, and the name of a deed that it can take. */
const deedsOn = (garment: string) =>
  samplesOf(garments[garment] as (typeof garments)[string]).chain((sample) =>
    fc.record({ sample: fc.constant(sample), says: fc.constantFrom(...deedsFor(sample.drafted)) }),
  );

/** How near each mark of each notch lies to the seam line. */
const notchesFromSeam = (piece: Piece): number[] =>
  piece.notches.flatMap((n) =>
    n.marks.map((id) => {
      const line = piece.lines.find((l) => l.id === id);
      const mark = piece.points.find((p) => p.id === id);
      const ends: Point[] = mark
        ? [mark.at]
        : (line?.spans ?? []).flatMap((s) => s.segments.flatMap((x: Segment) => [x.from, x.to]));
      return Math.min(
        ...ends.map((p) => nearestOnPath(closedPath(piece.seamLine), p)?.distance ?? Number.POSITIVE_INFINITY),
      );
    }),
  );

const spansOf = (piece: Piece): readonly Span[] => [
  ...piece.seamLine.spans,
  ...(piece.cuttingLine?.spans ?? []),
  ...piece.lines.flatMap((l) => l.spans),
];

/** A drawable without its place in the file, which moves when a number before it gets longer. */
const drawnAs = (d: Drawable) => ({ ...d, id: '', definition: '', container: '', line: 0 });

/** How often each kind of garment is tried: the skirt has most ways of being drawn. */
const RUNS: Readonly<Record<string, number>> = { skirts: 14, bodices: 14, trousers: 8, dresses: 8 };

const worst = new Map<string, number>();
const note = (what: string, value: number): void => {
  worst.set(what, Math.max(worst.get(what) ?? 0, value));
};
afterAll(() => console.info([...worst].map(([what, most]) => `${what}: ${most.toFixed(3)}`).join('\n')));

describe.each(Object.keys(garments))('within the limits: %s', (garment) => {
  it('every piece stays sound, mates meet, marks go along, and nothing else moves', () => {
    fc.assert(
      fc.property(deedsOn(garment), parts, ({ sample, says }, { part, sign }) => {
        const laid = lay(sample);
        const deed = deedCalled(says);
        const amount = sign * part * greatestAmount(laid.pattern, deed, sign);
        fc.pre(amount !== 0);
        const done = carryOut(laid, deed, amount);
        // What the paper has no room for is refused in words: it stays as it was.
        if (done.altered.findings.some((f) => f.code === 'alter-no-room')) {
          expect(done.altered.steps).toEqual([]);
          return;
        }
        const { pattern } = done.altered;
        const told = `${says} ${amount.toFixed(2)}`;

        const found = [
          ...checkPattern(laid.pattern, pattern, done.altered.eased),
          ...contestedLines(laid.drawing, pattern),
          ...done.altered.findings,
        ];
        for (const f of found) note(`${garment}: turned more, degrees`, turnedMore(f));
        const faults = found
          .filter((f) => f.level !== 'note' && f.code !== 'alter-hidden-in-tuck')
          .filter(
            (f) => !isDeclared(deed, f, ['apparel', 'polylines'].includes(sample.write.variant), laid.pattern, amount),
          );
        expect(
          faults.map((f) => `${told}: ${f.code} ${f.where.piece ?? ''} ${f.where.edge ?? ''} ${f.message}`),
        ).toEqual([]);

        const was = mateDifferences(laid.pattern);
        for (const [id, is] of mateDifferences(pattern)) {
          if (mayLeaveMates(deed, id)) continue;
          const off = Math.abs(is - (was.get(id) ?? Number.NaN) - meantEase(pattern, id, done.altered.eased));
          note(`${garment}: mates apart, mm`, off);
          expect(off, `${told}: ${id}`).toBeLessThanOrEqual(MATES);
        }

        const named = new Set(done.plan.steps.flatMap((s) => s.shares.map((x) => x.piece)));
        for (const before of laid.pattern.pieces) {
          const after = pattern.pieces.find((p) => p.id === before.id) as Piece;
          // A piece that no share names, and that follows no other, is the very same.
          if (!named.has(before.id) && !FOLLOWERS.includes(before.part))
            expect(after, `${told}: ${before.id}`).toBe(before);
          if (after === before) continue;
          for (const line of ['seamLine', 'cuttingLine'] as const) {
            const [drawn, outline] = [before[line], after[line]];
            if (!drawn || !outline) continue;
            expect(outlineFaults(outline, GAP), `${told}: ${before.id} ${line}`).toEqual([]);
            // Arcs that meet smoothly may, by the file's last decimal, meet twice: a block that came so stays so.
            const [came, is] = [drawn, outline].map((o) => selfCrossings(closedPath(o)).length) as [number, number];
            expect(is, `${told}: ${before.id} ${line} crosses itself`).toBeLessThanOrEqual(came);
          }
          const near = [notchesFromSeam(before), notchesFromSeam(after)] as const;
          for (const [i, d] of near[1].entries()) {
            expect(Math.abs(d - (near[0][i] as number)), `${told}: notch of ${before.id}`).toBeLessThanOrEqual(0.2);
          }
          expect(Math.max(...spansOf(after).map((s) => s.segments.length)), `${told}: segments`).toBeLessThanOrEqual(
            SEGMENTS,
          );
        }

        // What no change names is in the written file as it was read, to the last bit; no text has another size.
        const again = readAgain(laid.format, done.bytes, laid.fileName).drawing;
        const { changes } = done;
        laid.drawing.drawables.forEach((d, i) => {
          if (changes.additions.length > 0 || changes.removals) return;
          const is = again.drawables[i] as Drawable;
          if (d.kind === 'text')
            expect(is.kind === 'text' && Math.abs(is.height / d.height - 1) < 1e-6, `${told}: ${d.text}`).toBe(true);
          const shared = laid.drawing.drawables.some((o) => o !== d && o.definition === d.definition);
          if (shared || [changes.paths, changes.texts, changes.points].some((moved) => moved.has(d.id))) return;
          expect(drawnAs(is), `${told}: ${d.id}`).toEqual(drawnAs(d));
        });
      }),
      { numRuns: RUNS[garment] ?? 8, endOnFailure: true },
    );
  });
});
