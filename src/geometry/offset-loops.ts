import { distanceToBounds } from './bounds.ts';
import { selfMeetings } from './crossings.ts';
import type { Piece } from './offset-corner.ts';
import type { Path } from './path.ts';
import { distance, type Point, same } from './point.ts';
import { boundsOf, line, nearestOn, part, pointAt, type Segment, withEnds } from './segment.ts';

/** A place counts as too near to its outline when it lacks this much of the allowance, mm. */
const SLACK = 0.02;
/** Ends this near, mm, are put on each other; further ones get a line between. */
const TOGETHER = 1e-4;

/**
 * The pieces without the loops that a raw parallel makes where the outline is narrower or more sharply hollow than the
 * allowance. Cut at its crossings, every part that lies nearer to some segment than that segment's distance goes.
 */
export const withoutLoops = (path: Path, allowances: readonly number[], pieces: readonly Piece[]): Piece[] => {
  const crossings = selfMeetings({ segments: pieces.map((p) => p.segment), closed: true });
  if (crossings.length === 0) return [...pieces];
  const cuts = pieces.map((): { t: number; point: Point }[] => []);
  for (const { point, first, second } of crossings) {
    cuts[first.index]?.push({ t: first.t, point });
    cuts[second.index]?.push({ t: second.t, point });
  }
  const tooNear = nearness(path, allowances);
  const kept = pieces
    .flatMap((piece, i) => cutUp(piece, cuts[i] ?? []))
    .filter((p) => !tooNear(pointAt(p.segment, 0.5)));
  return kept.length === 0 ? [...pieces] : endToEnd(kept);
};

const nearness = (path: Path, allowances: readonly number[]): ((p: Point) => boolean) => {
  const boxes = path.segments.map(boundsOf);
  return (p) =>
    path.segments.some((s, i) => {
      const least = Math.abs(allowances[i] as number) - SLACK;
      if (least <= 0 || distanceToBounds(boxes[i] as (typeof boxes)[number], p) >= least) return false;
      const place = nearestOn(s, p);
      // Nearest to a segment's end is a matter of the corner, which may be mitred, squared or cut off.
      return place.distance < least && place.t > 1e-9 && place.t < 1 - 1e-9;
    });
};

const cutUp = (piece: Piece, cuts: readonly { t: number; point: Point }[]): Piece[] => {
  const sorted = [...cuts].sort((a, b) => a.t - b.t).filter((c) => c.t > 1e-9 && c.t < 1 - 1e-9);
  const parts: Piece[] = [];
  let t = 0;
  let from = piece.segment.from;
  for (const cut of [...sorted, { t: 1, point: piece.segment.to }]) {
    if (cut.t - t > 1e-9 && !same(from, cut.point)) {
      parts.push({ segment: withEnds(part(piece.segment, t, cut.t), from, cut.point), source: piece.source });
    }
    t = cut.t;
    from = cut.point;
  }
  return parts;
};

const endToEnd = (pieces: readonly Piece[]): Piece[] =>
  pieces.flatMap((piece, i) => {
    const next = (pieces[(i + 1) % pieces.length] as Piece).segment.from;
    const { segment, source } = piece;
    if (same(segment.to, next)) return [piece];
    if (distance(segment.to, next) > TOGETHER) return [piece, { segment: line(segment.to, next), source }];
    const snapped: Segment = withEnds(segment, segment.from, next);
    return [{ segment: snapped, source }];
  });
