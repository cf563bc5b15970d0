import { pathLength, pathOf, pointAtDistance } from '../geometry/path.ts';
import { add, distance, type Point, scale } from '../geometry/point.ts';
import { line, pointAt, type Segment, tangentAt } from '../geometry/segment.ts';
import { type Affine, apply, applyToVector } from '../geometry/transform.ts';
import { edgeSegments, outlineSegments, ringRange } from '../pattern/edges.ts';
import type { Edge, InnerLine, Notch, Piece, Span } from '../pattern/piece.ts';
import type { LineOf, Mark } from './figure.ts';
import type { LookName } from './looks.ts';
import { startOfEdge } from './moves.ts';
import { transformed } from './standing.ts';

/* The lines of one piece as marks of a figure. `m` leads from the drawing to the figure. */

/** Half the length of a notch and of a cross, mm printed. */
const NOTCH = 1.1;
const CROSS = 0.8;
const CORNER = 0.55;

export const outlineRing = (piece: Piece, m: Affine): Segment[] => transformed(m, outlineSegments(piece.seamLine));

const drawn = (look: LookName, segments: readonly Segment[], closed = false, of?: LineOf): Mark[] =>
  segments.length === 0 ? [] : [{ kind: 'line', look, segments, closed, ...(of ? { of } : {}) }];

/** Each edge as a line of its own, that says which edge it is. */
export const edgeLines = (
  piece: Piece,
  m: Affine,
  look: LookName,
  when: LineOf['when'],
  says: (edge: string) => string,
): Mark[] =>
  piece.edges.flatMap((edge) =>
    drawn(look, transformed(m, edgeSegments(piece, edge)), false, {
      ...{ piece: piece.id, edge: edge.id, when, says: says(edge.id) },
    }),
  );

/** Legs of the darts that are drawn in the outline. */
export const dartLegs = (piece: Piece, m: Affine, look: LookName): Mark[] =>
  piece.darts.flatMap(({ drawn: how }) => {
    if (how.as !== 'outline') return [];
    const spans = ringRange(how.first, how.last, piece.seamLine.spans.length).map((i) => piece.seamLine.spans[i]);
    return drawn(
      look,
      transformed(
        m,
        spans.flatMap((s) => [...(s?.segments ?? [])]),
      ),
    );
  });

export const cuttingRing = (piece: Piece, m: Affine): Segment[] =>
  piece.cuttingLine ? transformed(m, outlineSegments(piece.cuttingLine)) : [];

export const cuttingLine = (piece: Piece, m: Affine): Mark[] => drawn('cut', cuttingRing(piece, m), true);

const segmentsOf = (spans: readonly Span[]): Segment[] => spans.flatMap((s) => [...s.segments]);

/** All lines within the outline. */
export const innerSegments = (piece: Piece, m: Affine): Segment[] =>
  piece.lines.flatMap((l) => transformed(m, segmentsOf(l.spans)));

/** Lines on the paper as they are, and as they were where they moved. Notches are drawn by themselves. */
export const innerLines = (before: Piece, after: Piece, m: Affine): Mark[] => {
  const was = new Map(before.lines.map((l) => [l.id, segmentsOf(l.spans)]));
  const isDrawn = (l: InnerLine): boolean => l.kind !== 'notch';
  return after.lines.filter(isDrawn).flatMap((l) => {
    const now = segmentsOf(l.spans);
    const old = was.get(l.id);
    const stays = !old || isWhereItWas(old, now);
    return [
      ...(stays ? [] : drawn('inner-was', transformed(m, old), l.closed)),
      ...drawn(l.kind === 'grain' ? 'grain' : 'inner', transformed(m, now), l.closed),
    ];
  });
};

/** What a file's decimals may shift a line by, mm. */
const SAME = 0.05;
const isWhereItWas = (old: readonly Segment[], now: readonly Segment[]): boolean =>
  old.length === now.length &&
  old.every((s, i) => {
    const twin = now[i] as Segment;
    return distance(s.from, twin.from) < SAME && distance(s.to, twin.to) < SAME;
  });

/** Drill holes and other points, as small crosses. */
export const pointCrosses = (piece: Piece, m: Affine): Mark[] =>
  piece.points
    .filter((p) => p.kind === 'drill' || p.kind === 'landmark')
    .flatMap(({ at }) => {
      const c = apply(m, at);
      const arm = (x: number, y: number): Segment => line({ x: c.x - x, y: c.y - y }, { x: c.x + x, y: c.y + y });
      return [...drawn('inner', [arm(CROSS, 0)]), ...drawn('inner', [arm(0, CROSS)])];
    });

export const cornerDots = (piece: Piece, m: Affine): Mark[] =>
  piece.edges.flatMap((edge) => {
    const at = startOfEdge(piece, edge);
    return at ? [dot('corner', apply(m, at), CORNER)] : [];
  });

/** A filled disc, as two half circles. */
export const dot = (look: LookName, centre: Point, radius: number): Mark => {
  const [a, b] = [
    { x: centre.x - radius, y: centre.y },
    { x: centre.x + radius, y: centre.y },
  ];
  const half = (from: Point, to: Point): Segment => ({ kind: 'arc', from, to, centre, sweep: Math.PI });
  return { kind: 'line', look, segments: [half(a, b), half(b, a)], closed: true };
};

/** Where a notch stands on the seam line, and the way the line runs there. The parameter runs evenly over the segments. */
export const notchPlace = (piece: Piece, notch: Notch): { readonly at: Point; readonly along: Point } | undefined => {
  const segments = piece.seamLine.spans[notch.at.span]?.segments ?? [];
  const place = Math.min(notch.at.t * segments.length, segments.length);
  const index = Math.min(Math.floor(place), segments.length - 1);
  const s = segments[index];
  return s && { at: pointAt(s, place - index), along: tangentAt(s, place - index) };
};

/** Notches as strokes across the seam line, as many as the notch counts. */
export const notchStrokes = (piece: Piece, m: Affine): Mark[] =>
  piece.notches.flatMap((notch) => {
    const place = notchPlace(piece, notch);
    if (!place) return [];
    const [at, along] = [apply(m, place.at), applyToVector(m, place.along)];
    const size = Math.hypot(along.x, along.y) || 1;
    const [t, n] = [scale(along, 1 / size), { x: -along.y / size, y: along.x / size }];
    return Array.from({ length: notch.count }, (_, i) => add(at, scale(t, (i - (notch.count - 1) / 2) * 1.3))).flatMap(
      (p) => drawn('notch', [line(add(p, scale(n, NOTCH)), add(p, scale(n, -NOTCH)))]),
    );
  });

/** The middle of an edge, and the way out of the piece there: a unit vector of the figure. */
export const middleOf = (
  piece: Piece,
  edge: Edge,
  m: Affine,
): { readonly at: Point; readonly out: Point } | undefined => {
  const path = pathOf(edgeSegments(piece, edge));
  const middle = pointAtDistance({ ...path, closed: false }, pathLength(path) / 2);
  if (!middle) return undefined;
  const { x, y } = middle.tangent;
  const out = applyToVector(m, { x: y, y: -x });
  const size = Math.hypot(out.x, out.y) || 1;
  return { at: apply(m, middle.point), out: scale(out, 1 / size) };
};
