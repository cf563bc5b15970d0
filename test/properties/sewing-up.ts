import type { Point } from '../../src/geometry/point.ts';
import { pointAt } from '../../src/geometry/segment.ts';
import { edgeCalled, edgeLength, edgeWithRole, outlineSegments } from '../../src/pattern/edges.ts';
import { timesOnLimb } from '../../src/pattern/parts.ts';
import { type Pattern, pieceCalled, type SewnEdge } from '../../src/pattern/pattern.ts';
import type { EdgeRole, Outline, Piece } from '../../src/pattern/piece.ts';

/* Whether a pattern still sews up, looked at without the program's own checks. */

/** How much longer the one row of every two mates is than the other, mm. */
export const mateDifferences = (pattern: Pattern, eased: ReadonlyMap<string, number> = new Map()): number[] => {
  const row = (edges: readonly SewnEdge[]): number =>
    edges.reduce((sum, s) => {
      const piece = pieceCalled(pattern, s.piece);
      const edge = piece && edgeCalled(piece, s.edge);
      const meant = eased.get(`${s.piece}/${s.edge}`) ?? 0;
      return piece && edge ? sum + s.times * (edgeLength(piece, edge) - meant) : Number.NaN;
    }, 0);
  return pattern.mates.map((m) => row(m.one) - row(m.other));
};

const lengthOfRole = (piece: Piece, role: EdgeRole): number =>
  edgeWithRole(piece, role).reduce((sum, e) => sum + edgeLength(piece, e), 0);

/** What the cap of the shell's sleeve is longer than the armhole of one side, mm; undefined without a sleeve. */
export const capEase = ({ pieces }: Pattern): number | undefined => {
  const shell = pieces.filter((p) => p.cut.cloth === 'shell');
  const cap = shell.reduce((sum, p) => sum + lengthOfRole(p, 'cap') * timesOnLimb(p), 0);
  const armhole = shell.reduce((sum, p) => sum + lengthOfRole(p, 'armhole'), 0);
  return cap === 0 ? undefined : cap - armhole;
};

/** Outlines that cross themselves, by chords: 'front, cutting line'. */
export const crossed = ({ pieces }: Pattern): string[] =>
  pieces.flatMap((piece) => [
    ...(crosses(piece.seamLine) ? [`${piece.id}, seam line`] : []),
    ...(piece.cuttingLine && crosses(piece.cuttingLine) ? [`${piece.id}, cutting line`] : []),
  ]);

/** Chords to a curve, fine enough for a loop of a millimetre. */
const CHORDS = 12;
/** Chords shorter than this are nothing, mm. */
const NOTHING = 1e-6;

const crosses = (outline: Outline): boolean => {
  const ring = outlineSegments(outline).flatMap((s) =>
    s.kind === 'line' ? [s.from] : Array.from({ length: CHORDS }, (_, i) => pointAt(s, i / CHORDS)),
  );
  const points = ring.filter((p, i) => {
    const before = ring.at(i - 1) as Point;
    return Math.hypot(p.x - before.x, p.y - before.y) > NOTHING;
  });
  const chords = points.map((a, i) => ({ a, b: points[(i + 1) % points.length] as Point, i }));
  // Swept from left to right, so that only chords that lie over each other are compared.
  const byLeft = chords.toSorted((s, t) => Math.min(s.a.x, s.b.x) - Math.min(t.a.x, t.b.x));
  return byLeft.some((s, k) => {
    const right = Math.max(s.a.x, s.b.x);
    for (let m = k + 1; m < byLeft.length; m++) {
      const t = byLeft[m] as typeof s;
      if (Math.min(t.a.x, t.b.x) > right) return false;
      const apart = Math.abs(s.i - t.i);
      if (apart > 1 && apart < points.length - 1 && cut(s.a, s.b, t.a, t.b)) return true;
    }
    return false;
  });
};

/** Whether two chords cut each other inside both. */
const cut = (a: Point, b: Point, c: Point, d: Point): boolean =>
  side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;

const side = (a: Point, b: Point, p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
