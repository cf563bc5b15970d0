import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkPattern } from '../../src/checks/index.ts';
import type { Drawable } from '../../src/formats/drawing.ts';
import { nearestOnPath, selfCrossings } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import { contestedLines } from '../../src/job/redraw.ts';
import { edgeRuns } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Edge, Piece, Span } from '../../src/pattern/piece.ts';
import { chordLength, closedPath, outlineFaults } from './comparing.ts';
import { carryOut, deedCalled, deedNames, greatestAmount, lay, readAgain } from './laying.ts';
import { parts, samples } from './samples.ts';

/* After an alteration within the customary limits the pieces still sew together, and only what was to move has moved. */

/** Lengths of mates may come to differ by so much more than they did, mm. */
const MATES = 0.5;
/** A file's last decimals may leave a gap of this, mm. */
const GAP = 0.01;
/** Each segment of the source becomes at most so many. */
const SEGMENTS = 8;

/**
 * A cross edge that is raised at one end only must bend on its way there, by 4a/L² for each mm of a step of two
 * parabolas (the least sharp there is) over the length L. DESIGN's degree comes on top of that.
 */
const MEANT_TO_BEND = ['uneven length', 'sway back', 'hip slope', 'abdomen'];

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

describe('within the limits', () => {
  it('every piece stays sound, mates meet, marks go along, and nothing else moves', () => {
    fc.assert(
      fc.property(samples, fc.constantFrom(...deedNames), parts, (sample, says, { part, sign }) => {
        const laid = lay(sample);
        const deed = deedCalled(says);
        const amount = sign * part * greatestAmount(laid.pattern, deed, sign);
        fc.pre(amount !== 0);
        const done = carryOut(laid, deed, amount);
        const { pattern } = done.altered;
        const told = `${says} ${amount.toFixed(2)}`;

        const bends = MEANT_TO_BEND.includes(deed.alteration.card.name);
        const faults = [
          ...checkPattern(laid.pattern, pattern),
          ...contestedLines(laid.drawing, pattern),
          ...done.altered.findings,
        ]
          .filter((f) => f.level !== 'note' && f.code !== 'alter-hidden-in-tuck')
          .filter((f) => !(bends && f.code === 'check-not-fair'));
        expect(
          faults.map((f) => `${told}: ${f.code} ${f.where.piece ?? ''} ${f.where.edge ?? ''} ${f.message}`),
        ).toEqual([]);

        const was = mateDifferences(laid.pattern);
        for (const [id, is] of mateDifferences(pattern)) {
          expect(Math.abs(is - (was.get(id) ?? Number.NaN)), `${told}: ${id}`).toBeLessThanOrEqual(MATES);
        }

        const named = new Set(done.plan.steps.flatMap((s) => s.shares.map((x) => x.piece)));
        for (const before of laid.pattern.pieces) {
          const after = pattern.pieces.find((p) => p.id === before.id) as Piece;
          // A piece that no share names, and no band that follows the waist, is the very same.
          if (!named.has(before.id) && before.part !== 'waistband') expect(after, `${told}: ${before.id}`).toBe(before);
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
          if (changes.additions.length > 0) return;
          const is = again.drawables[i] as Drawable;
          if (d.kind === 'text')
            expect(is.kind === 'text' && Math.abs(is.height / d.height - 1) < 1e-6, `${told}: ${d.text}`).toBe(true);
          const shared = laid.drawing.drawables.some((o) => o !== d && o.definition === d.definition);
          if (shared || [changes.paths, changes.texts, changes.points].some((moved) => moved.has(d.id))) return;
          expect(drawnAs(is), `${told}: ${d.id}`).toEqual(drawnAs(d));
        });
      }),
      { numRuns: 30, endOnFailure: true },
    );
  });
});
