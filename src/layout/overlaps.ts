import type { Finding } from '../finding.ts';
import { type Bounds, boundsOfPoints } from '../geometry/bounds.ts';
import { areaOf, intersectionArea } from '../geometry/clip.ts';
import { flatten } from '../geometry/flatten.ts';
import type { Point } from '../geometry/point.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Arrangement, PlacedPiece } from './arrange.ts';
import { placing } from './draw.ts';

/* What is cut by a layout is looked at twice: here by clipping polygons, which the search that laid it does not use. */

/** Pieces may share this much, mm²: what chords leave of curves that touch. */
const SHARED = 100;
/** Chords stay this near to the outline, mm. */
const NEAR = 0.1;

interface Lying {
  readonly piece: PlacedPiece;
  readonly ring: readonly Point[];
  readonly box: Bounds;
}

/** Pairs of pieces that lie on each other, each told. */
export const overlapFindings = ({ pieces }: Pick<Arrangement, 'pieces'>): Finding[] => {
  const lying = pieces.map(lyingAt).sort((a, b) => a.box.minX - b.box.minX);
  const findings: Finding[] = [];
  let open: Lying[] = [];
  for (const here of lying) {
    open = open.filter((o) => o.box.maxX > here.box.minX);
    for (const other of open) {
      if (other.box.minY >= here.box.maxY || here.box.minY >= other.box.maxY) continue;
      const shared = sharedArea(here.ring, other.ring);
      if (shared > SHARED) findings.push(onEachOther(here.piece, other.piece, shared));
    }
    open.push(here);
  }
  return findings;
};

const lyingAt = (piece: PlacedPiece): Lying => {
  const chords = flatten(transformPath(placing(piece), piece.template.outline), NEAR);
  const ring = areaOf([chords]) < 0 ? chords.reverse() : chords;
  return { piece, ring, box: boundsOfPoints(ring) };
};

/** mm². Of outlines that cannot be clipped (one that crosses itself many times) nothing is known, and nothing said. */
const sharedArea = (a: readonly Point[], b: readonly Point[]): number => {
  try {
    return areaOf(intersectionArea([a], [b]));
  } catch {
    return 0;
  }
};

const onEachOther = (a: PlacedPiece, b: PlacedPiece, shared: number): Finding => ({
  code: 'layout-overlap',
  level: 'error',
  where: { piece: a.template.id },
  message: `${nameOf(a)} and ${nameOf(b)} lie on each other by ${(shared / 100).toFixed(1)} cm².`,
  try: 'Do not cut by this layout. Lay it out with another --seed or --gap, and report the pattern that does this.',
});

const nameOf = ({ template, copy, of }: PlacedPiece): string => {
  const name = [template.name, template.fitting].filter((part) => part !== '').join(', ');
  return of > 1 ? `${name} (${copy} of ${of})` : name;
};
