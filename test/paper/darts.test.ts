import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { distance, type Point, subtract, turn, turnBetween } from '../../src/geometry/point.ts';
import { capDart, capHeight, widenDart } from '../../src/paper/darts.ts';
import { NoRoom } from '../../src/paper/no-room.ts';
import { at, intake, mouthIndex, neighbourRun, pointsOf, sewnLength } from '../../src/paper/runs.ts';
import { tape } from '../../src/paper/tape.ts';
import { type Tracing, trace } from '../../src/paper/tracing.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Edge, Piece } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';

const front = (darts: 'lines' | 'outline'): Piece => patternOf(draftSkirt(SAMPLE_BODY, { darts })).pieces[0] as Piece;
const waist = (piece: Piece): Edge => piece.edges.find((e) => e.role === 'waist') as Edge;

/** Turn of the seam where the two mouths come together when the dart is folded shut, radians. */
const foldedTurn = (tracing: Tracing): number => {
  const [a, b] = [mouthIndex(tracing, 'dart-1', 0), mouthIndex(tracing, 'dart-1', 1)];
  const tip = tracing.tips.get('dart-1')?.at as Point;
  const shut = turnBetween(subtract(at(tracing, b), tip), subtract(at(tracing, a), tip));
  const into = pointsOf(tracing, neighbourRun(tracing, a, 'before')).slice(-2) as [Point, Point];
  const beyond = pointsOf(tracing, neighbourRun(tracing, b, 'after'))
    .slice(-2)
    .map((p) => turn(p, shut, tip)) as [Point, Point];
  return turnBetween(subtract(into[1], into[0]), subtract(beyond[0], beyond[1]));
};

describe.each(['lines', 'outline'] as const)('a dart drawn as %s', (drawn) => {
  it.each([-8, -3, 4, 9.5])('made wider by %s mm takes just that from the waist, near enough', (by) => {
    const before = trace(front(drawn));
    const after = widenDart(before, 'dart-1', by);
    expect(intake(after, 'dart-1') - intake(before, 'dart-1')).toBeCloseTo(by, 6);
    // Half of it comes off each neighbour; what the turned seam bends is second order.
    expect(sewnLength(after, 'waist') - sewnLength(before, 'waist')).toBeCloseTo(-by, 0);
  });

  it.each([-8, 4, 9.5])('folds as fair as it did after %s mm', (by) => {
    const before = trace(front(drawn));
    const degrees = ((foldedTurn(widenDart(before, 'dart-1', by)) - foldedTurn(before)) * 180) / Math.PI;
    expect(Math.abs(degrees)).toBeLessThan(0.6);
  });

  it('keeps its legs equal and its tip where it was', () => {
    const after = widenDart(trace(front(drawn)), 'dart-1', 7);
    const tip = after.tips.get('dart-1')?.at as Point;
    const legs = ([0, 1] as const).map((w) => distance(at(after, mouthIndex(after, 'dart-1', w)), tip));
    expect(legs[0]).toBeCloseTo(legs[1] as number, 2);
    expect(tip).toEqual(trace(front(drawn)).tips.get('dart-1')?.was);
  });

  it('is measured alike on the tracing and on the piece drawn from it', () => {
    const after = widenDart(trace(front(drawn)), 'dart-1', 9);
    const piece = tape(after);
    expect(edgeLength(piece, waist(piece))).toBeCloseTo(sewnLength(after, 'waist'), 2);
  });

  it('cannot give more than it is wide', () => {
    expect(() => widenDart(trace(front(drawn)), 'dart-1', -30)).toThrow(NoRoom);
  });
});

describe('the cap', () => {
  it('is what the fold needs over a straight edge: 0.127 in for a dart 4 in long and 1 in wide (derived)', () => {
    const mouths = [
      { x: 0.5, y: 4 },
      { x: -0.5, y: 4 },
    ] as const;
    expect(capHeight(mouths, { x: 0, y: 0 }, 2 * Math.atan(0.5 / 4))).toBeCloseTo(0.127, 3);
  });

  const riseOf = (tracing: Tracing): number => {
    const [a, b] = ([0, 1] as const).map((w) => at(tracing, mouthIndex(tracing, 'dart-1', w))) as [Point, Point];
    const [from, to] = ([0, 1] as const).map((w) => mouthIndex(tracing, 'dart-1', w)) as [number, number];
    return Math.max(...tracing.seam.slice(from, to + 1).map((p) => p.at.y)) - (a.y + b.y) / 2;
  };
  const needed = (tracing: Tracing): number => {
    const [a, b] = ([0, 1] as const).map((w) => at(tracing, mouthIndex(tracing, 'dart-1', w))) as [Point, Point];
    const tip = tracing.tips.get('dart-1')?.at as Point;
    return capHeight([a, b], tip, 2 * Math.asin(distance(a, b) / 2 / distance(a, tip)));
  };

  it('is drawn by mending, and grows with the dart from then on', () => {
    const capped = capDart(trace(front('lines')), 'dart-1');
    expect(riseOf(capped)).toBeCloseTo(needed(capped), 1);
    const wider = widenDart(capped, 'dart-1', 10);
    expect(riseOf(wider)).toBeCloseTo(needed(wider), 0);
  });

  it('is left out where the pattern leaves it out', () => {
    const before = trace(front('lines'));
    expect(Math.abs(riseOf(widenDart(before, 'dart-1', 10)) - riseOf(before))).toBeLessThan(0.5);
  });
});
