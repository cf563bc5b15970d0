import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { lengthenAt } from '../../src/paper/lengthen.ts';
import { moveSeamOut } from '../../src/paper/move-edge.ts';
import { NoRoom } from '../../src/paper/no-room.ts';
import { letDown } from '../../src/paper/run-out.ts';
import { edgeRun, pointsOf, sewnLength } from '../../src/paper/runs.ts';
import { tape } from '../../src/paper/tape.ts';
import { trace } from '../../src/paper/tracing.ts';
import { outlineSegments } from '../../src/pattern/edges.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';

const block = (flare = 30): Piece => patternOf(draftSkirt(SAMPLE_BODY, { flare })).pieces[0] as Piece;

describe('a tracing', () => {
  it('that nothing moved gives back the very piece', () => {
    const piece = block();
    expect(tape(trace(piece))).toBe(piece);
  });

  it('leaves every segment that did not move the very object it was', () => {
    const piece = block();
    const moved = tape(
      moveSeamOut(trace(piece), 'side', [
        { height: -203.2, by: 0 },
        { height: 0, by: 6 },
      ]),
    );
    const fold = piece.edges.find((e) => e.role === 'fold');
    const hem = piece.edges.find((e) => e.role === 'hem');
    for (const edge of [fold, hem]) {
      for (let i = edge?.first ?? 0; i <= (edge?.last ?? -1); i++) {
        expect(moved.seamLine.spans[i]).toBe(piece.seamLine.spans[i]);
      }
    }
  });

  it('draws a shifted seam with few segments: each source segment becomes at most eight', () => {
    fc.assert(
      fc.property(fc.integer({ min: -12, max: 12 }), fc.integer({ min: -12, max: 12 }), (waist, hip) => {
        const piece = block();
        const outs = [
          { height: -203.2, by: hip },
          { height: 0, by: waist },
        ];
        const spans = tape(moveSeamOut(trace(piece), 'side', outs)).seamLine.spans;
        for (const span of spans) expect(span.segments.length).toBeLessThanOrEqual(8);
      }),
      { numRuns: 20 },
    );
  });

  it('closes its outlines end to end', () => {
    const piece = tape(
      moveSeamOut(trace(block()), 'side', [
        { height: -203.2, by: 9 },
        { height: 0, by: -4 },
      ]),
    );
    for (const outline of [piece.seamLine, piece.cuttingLine]) {
      const segments = outlineSegments(outline as NonNullable<typeof outline>);
      segments.forEach((s, i) => {
        expect(s.to).toEqual(segments[(i + 1) % segments.length]?.from);
      });
    }
  });
});

describe('lengthening at a line', () => {
  it('adds its amount to the upright edge and keeps a straight seam straight', () => {
    const before = trace(block(60));
    const after = lengthenAt(before, -350, 38, { top: -203.2, bottom: -609.6 });
    expect(sewnLength(after, 'fold') - sewnLength(before, 'fold')).toBeCloseTo(38, 9);
    const below = pointsOf(after, edgeRun(after, 'side')).filter((p) => p.y < -210);
    const [a, b] = [below[0], below.at(-1)] as [(typeof below)[0], (typeof below)[0]];
    for (const p of below) {
      const away = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / Math.hypot(b.x - a.x, b.y - a.y);
      expect(Math.abs(away)).toBeLessThan(0.01);
    }
  });

  it('refuses to fold a corner away', () => {
    expect(() => lengthenAt(trace(block()), -20, -80, { top: 0, bottom: -203 })).toThrow(NoRoom);
  });
});

describe('letting the hem down', () => {
  it('changes the seams by the amount over the cosine of their slant', () => {
    const before = trace(block(60));
    const after = letDown(before, 'hem', { start: 40, end: 40 });
    const run = pointsOf(before, edgeRun(before, 'side'));
    const [low, next] = [run[0], run[1]] as [(typeof run)[0], (typeof run)[0]];
    const cosine = (next.y - low.y) / Math.hypot(next.x - low.x, next.y - low.y);
    expect(sewnLength(after, 'side') - sewnLength(before, 'side')).toBeCloseTo(40 / cosine, 6);
  });

  it('cannot take off more than there is', () => {
    expect(() => letDown(trace(block()), 'hem', { start: -900, end: -900 })).toThrow(NoRoom);
  });
});
