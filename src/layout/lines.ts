import type { PathMark } from '../formats/sheet.ts';
import { diagonalOf } from '../geometry/bounds.ts';
import { type Path, pathBounds } from '../geometry/path.ts';
import type { InnerLine, InnerLineKind, Piece } from '../pattern/piece.ts';
import { isDrilledCircle } from './points.ts';

/** What the inner lines of a pattern are to a machine. Notches and drill holes are marks of their own. */
const PURPOSES: Readonly<Record<InnerLineKind, PathMark['purpose'] | undefined>> = {
  grain: 'grain',
  adjustment: 'internal',
  level: 'internal',
  centre: 'internal',
  'fold mark': 'internal',
  dart: 'internal',
  notch: 'internal',
  drill: 'internal',
  cutout: 'cut',
  tuck: 'internal',
  internal: 'internal',
};

/** Shorter than this is no line, mm. */
const NOTHING = 1e-6;

/** The inner lines of a piece, in its own position. */
export const linesOn = (piece: Piece): PathMark[] => {
  const notched = new Set(piece.notches.flatMap((n) => n.marks));
  return piece.lines
    .filter((l) => !notched.has(l.id) && !isDrilledCircle(l))
    .flatMap((l): PathMark[] => {
      const purpose = PURPOSES[l.kind];
      const path = pathOfLine(l);
      if (purpose === undefined || diagonalOf(pathBounds(path)) < NOTHING) return [];
      return [{ kind: 'path', purpose, path, inner: purpose === 'cut' }];
    });
};

const pathOfLine = (line: InnerLine): Path => ({
  segments: line.spans.flatMap((s) => s.segments),
  closed: line.closed,
});
