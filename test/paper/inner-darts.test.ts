import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { distance, type Point, turn } from '../../src/geometry/point.ts';
import { widenDart } from '../../src/paper/darts.ts';
import { lengthenAt } from '../../src/paper/lengthen.ts';
import { NoRoom } from '../../src/paper/no-room.ts';
import { intake } from '../../src/paper/runs.ts';
import { tape } from '../../src/paper/tape.ts';
import { trace } from '../../src/paper/tracing.ts';
import type { Dart, Piece } from '../../src/pattern/piece.ts';
import { intakeAt, straightWidth } from '../../src/pattern/taking/across.ts';
import { patternOf } from '../drafted.ts';

/* Darts that lie inside, from above the waist to below it: the waist darts of a dress in one piece. */

const dress = patternOf(draftDress(SAMPLE_DRESS_BODY, { sleeve: false })).pieces;
const pieces = dress.map((piece) => [piece.part, piece] as const);
const innerOf = (piece: Piece): Dart => piece.darts.find((d) => d.otherTip) as Dart;
const ZONE = { top: 180, bottom: 0 };
const LINE = 85;

const points = (dart: Dart): readonly Point[] => [dart.mouth[0], dart.tip, dart.mouth[1], dart.otherTip as Point];
const near = (a: Point, b: Point, within = 1e-6): void => expect(distance(a, b)).toBeLessThan(within);

/** The ends of the segments that draw a dart, in their order. */
const drawnAs = (piece: Piece, dart: Dart): readonly Point[] => {
  const id = dart.drawn.as === 'lines' ? dart.drawn.lines[0] : '';
  return (piece.lines.find((l) => l.id === id)?.spans ?? []).flatMap((s) => s.segments.map((segment) => segment.from));
};

describe.each(pieces)('%s: a dart with two tips', (_, piece) => {
  const dart = innerOf(piece);

  it('takes in its width at the waist, and by similar triangles less towards its tips', () => {
    const width = distance(...dart.mouth);
    const [up, down] = [dart.tip.y, (dart.otherTip as Point).y];
    for (const [height, share] of [
      [0, 1],
      [up / 2, 0.5],
      [up * 0.9, 0.1],
      [down / 4, 0.75],
      [down * 0.99, 0.01],
      [down - 1, 0],
    ] as const) {
      const own = intakeAt({ ...piece, darts: [dart] }, height);
      expect(own).toBeCloseTo(width * share, 9);
    }
  });

  it('leaves its intake out of the waist: a quarter of body and ease, ¼ in more in front and less in the back', () => {
    const front = piece.part === 'dress front' ? 6.35 : -6.35;
    expect(straightWidth(piece, 0)).toBeCloseTo((SAMPLE_DRESS_BODY.waist + 25.4) / 4 + front, 6);
  });

  it.each([-12, 6, 15])('made wider by %s mm takes just that from the waist, nothing from bust and hip', (by) => {
    const after = tape(widenDart(trace(piece), dart.id, by));
    expect(straightWidth(after, 0) - straightWidth(piece, 0)).toBeCloseTo(-by, 6);
    const untouched = [dart.tip.y + 1, -SAMPLE_DRESS_BODY.waistToHip];
    for (const height of untouched) expect(straightWidth(after, height)).toBe(straightWidth(piece, height));
    const now = innerOf(after);
    expect([now.tip, now.otherTip]).toEqual([dart.tip, dart.otherTip]);
    drawnAs(after, now).forEach((p, i) => {
      near(p, points(now)[i] as Point);
    });
    after.seamLine.spans.forEach((span, i) => {
      expect(span).toBe(piece.seamLine.spans[i]);
    });
  });

  it('cannot give more than it is wide; closed to nothing it opens again', () => {
    const before = trace(piece);
    const wide = intake(before, dart.id);
    expect(() => widenDart(before, dart.id, -wide - 0.01)).toThrow(NoRoom);
    const again = innerOf(tape(widenDart(widenDart(before, dart.id, -wide), dart.id, wide)));
    points(again).forEach((p, i) => {
      near(p, points(dart)[i] as Point);
    });
  });

  it.each([-18, 9, 25])(
    'cut by a slash above the waist and spread %s mm: what lies below goes down, legs stay straight',
    (by) => {
      const after = tape(lengthenAt(trace(piece), LINE, by, ZONE));
      const now = innerOf(after);
      near(now.tip, dart.tip);
      for (const [is, was] of [
        [now.mouth[0], dart.mouth[0]],
        [now.mouth[1], dart.mouth[1]],
        [now.otherTip as Point, dart.otherTip as Point],
      ] as const) {
        near(is, { x: was.x, y: was.y - by });
      }
      const drawn = drawnAs(after, now);
      expect(drawn).toHaveLength(4);
      drawn.forEach((p, i) => {
        near(p, points(now)[i] as Point);
      });
      const drill = piece.points.findIndex((p) => p.kind === 'drill' && distance(p.at, { x: dart.tip.x, y: 0 }) < 1);
      near(after.points[drill]?.at as Point, { x: dart.tip.x, y: -by });
      expect(intakeAt({ ...after, darts: [now] }, -by)).toBeCloseTo(distance(...dart.mouth), 6);
    },
  );

  it('goes with a piece that is turned: altered and turned is turned and altered', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: -15, max: 15, noNaN: true }),
        (a, by) => {
          const turnedDart = points(innerOf(tape(widenDart(trace(turnedPiece(piece, a)), dart.id, by))));
          const plain = points(innerOf(tape(widenDart(trace(piece), dart.id, by))));
          turnedDart.forEach((p, i) => {
            near(p, turn(plain[i] as Point, a), 1e-6);
          });
        },
      ),
      { numRuns: 6 },
    );
  });

  it('is the very same piece when nothing is asked', () => {
    expect(tape(widenDart(trace(piece), dart.id, 0))).toBe(piece);
  });
});

const turnedPiece = (piece: Piece, a: number): Piece => {
  const segments = <S extends Piece['seamLine']['spans'][number]>(s: S): S => ({
    ...s,
    segments: s.segments.map((g) => {
      const ends = { from: turn(g.from, a), to: turn(g.to, a) };
      if (g.kind === 'line') return { ...g, ...ends };
      if (g.kind === 'arc') return { ...g, ...ends, centre: turn(g.centre, a) };
      return { ...g, ...ends, control1: turn(g.control1, a), control2: turn(g.control2, a) };
    }),
  });
  return {
    ...piece,
    upright: { ...piece.upright, up: turn(piece.upright.up, a), origin: turn(piece.upright.origin, a) },
    seamLine: { spans: piece.seamLine.spans.map(segments) },
    ...(piece.cuttingLine ? { cuttingLine: { spans: piece.cuttingLine.spans.map(segments) } } : {}),
    lines: piece.lines.map((l) => ({ ...l, spans: l.spans.map(segments) })),
    points: piece.points.map((p) => ({ ...p, at: turn(p.at, a) })),
    darts: piece.darts.map((d) => ({
      ...d,
      mouth: [turn(d.mouth[0], a), turn(d.mouth[1], a)] as const,
      tip: turn(d.tip, a),
      ...(d.otherTip ? { otherTip: turn(d.otherTip, a) } : {}),
    })),
    landmarks: piece.landmarks.map((l) => ({ ...l, at: turn(l.at, a) })),
  };
};
