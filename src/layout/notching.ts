import type { NotchMark, PathMark } from '../formats/sheet.ts';
import { crossingsWithLine } from '../geometry/intersect.ts';
import { nearestOnPath, type Path, pointAtDistance, polyline } from '../geometry/path.ts';
import { add, distance, dot, left, type Point, scale, subtract } from '../geometry/point.ts';
import { lengthOf, parameterAtLength, pointAt, type Segment, tangentAt } from '../geometry/segment.ts';
import { outlineSegments } from '../pattern/edges.ts';
import type { Notch, Piece } from '../pattern/piece.ts';
import type { Contour } from './contour.ts';

/** Between the strokes of a double or triple notch, mm; common practice, no source. */
const APART = 8;
/** The deepest a notch is cut, mm, and never past half the allowance: the seam must hold. Common practice, no source. */
const DEEPEST = 5;
const WIDEST = 4;
/** The stroke on the seam line, mm, into the piece. */
const STROKE = 4;

/**
 * Notches on both lines, in the piece's own position: on the cutting line as notches that a machine may cut, on the
 * seam line as strokes. Without allowance they are strokes only, since a cut would open the seam.
 */
export const notchesOn = (piece: Piece, contour: Contour): (NotchMark | PathMark)[] =>
  piece.notches.flatMap((notch) => placesOf(piece, notch).flatMap((p) => marksAt(piece, notch, contour, p)));

interface Place {
  readonly at: Point;
  readonly inward: Point;
}

/** Where the strokes of a notch meet the seam line: one, or several evenly about its place. */
const placesOf = (piece: Piece, notch: Notch): Place[] => {
  const segments = piece.seamLine.spans[notch.at.span]?.segments ?? [];
  const found = alongSegments(segments, notch.at.t);
  if (!found) return [];
  if (notch.count === 1) return [found];
  const seam: Path = { segments: outlineSegments(piece.seamLine), closed: true };
  const middle = nearestOnPath(seam, found.at)?.along ?? 0;
  return Array.from({ length: notch.count }, (_, i) => middle + (i - (notch.count - 1) / 2) * APART).flatMap(
    (along) => {
      const place = pointAtDistance(seam, along);
      return place ? [{ at: place.point, inward: left(place.tangent) }] : [];
    },
  );
};

const alongSegments = (segments: readonly Segment[], t: number): Place | undefined => {
  const [only] = segments;
  if (!only) return undefined;
  if (segments.length === 1) return { at: pointAt(only, t), inward: left(tangentAt(only, t)) };
  let rest = t * segments.reduce((sum, s) => sum + lengthOf(s), 0);
  for (const s of segments) {
    const length = lengthOf(s);
    if (rest <= length || s === segments.at(-1)) {
      const at = parameterAtLength(s, rest);
      return { at: pointAt(s, at), inward: left(tangentAt(s, at)) };
    }
    rest -= length;
  }
  return undefined;
};

const marksAt = (piece: Piece, notch: Notch, contour: Contour, place: Place): (NotchMark | PathMark)[] => {
  const stroke: PathMark = {
    kind: 'path',
    purpose: contour.allowed ? 'seam' : 'internal',
    path: polyline([place.at, add(place.at, scale(place.inward, STROKE))]),
    inner: false,
  };
  const allowance = piece.edges.find((e) => e.id === notch.edge)?.allowance ?? 0;
  const cut = contour.allowed && allowance > 0 ? onCuttingLine(contour.path, place, allowance) : undefined;
  if (!cut) return [stroke];
  const depth = Math.min(DEEPEST, allowance / 2);
  return [
    stroke,
    {
      kind: 'notch',
      purpose: 'notch',
      ...{ at: cut.at, inward: cut.inward, on: 'cut', shape: 'unstated', depth, width: Math.min(WIDEST, depth) },
    },
  ];
};

/** Straight out from the seam line to the cutting line, no further than half as far again as the allowance. */
const onCuttingLine = (path: Path, { at, inward }: Place, allowance: number): Place | undefined => {
  const out = scale(inward, -1);
  const hit = crossingsWithLine(path, at, out)
    .filter((c) => dot(subtract(c.point, at), out) > 0)
    .sort((a, b) => distance(a.point, at) - distance(b.point, at))[0];
  const segment = hit && path.segments[hit.index];
  if (!hit || !segment || distance(hit.point, at) > 1.5 * allowance + 1) return undefined;
  return { at: hit.point, inward: left(tangentAt(segment, hit.t)) };
};
