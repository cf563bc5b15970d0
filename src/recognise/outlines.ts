import type { PathDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { line } from '../geometry/segment.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { Hints } from './hints.ts';
import type { Loop, OpenChain } from './loops.ts';
import { chainsOf } from './loops.ts';
import { areFewAllowances, runsBeside } from './nesting.ts';
import type { DrawnPiece } from './pieces.ts';
import type { StatedAllowance } from './stating.ts';
import type { Trace } from './trace.ts';
import { distanceToPolygon, isInside, trace } from './trace.ts';

/** Which of a piece's outlines is which. */
export interface Outlines {
  /** The line edges are read on: the seam line, or the only outline. */
  readonly read: Trace;
  /** What the read line is. 'unsaid': one outline, and nothing says which line it is. */
  readonly is: 'seam line' | 'cutting line' | 'unsaid';
  /** The cutting line, where the seam line is drawn too. */
  readonly cutting?: Trace;
  readonly evidence: readonly Evidence[];
  /** Drawables that draw the outlines. */
  readonly drawables: readonly PathDrawable[];
  /** Further outlines that run beside these: a nest of sizes. */
  readonly surplus: readonly Loop[];
  readonly gapsOf: readonly Loop[];
}

const hintedAs = (
  loop: Pick<Loop, 'drawables'>,
  hints: Hints,
  meaning: 'seam line' | 'cutting line',
): Evidence | undefined => loop.drawables.map((d) => hints.says(d, meaning)).find((h) => h !== undefined);

/** Sorts a piece's closed lines, and a seam line left open at the fold, into seam line and cutting line. */
export const readOutlines = (
  piece: DrawnPiece,
  hints: Hints,
  stated: StatedAllowance | undefined,
  sheetSays: 'cutting line' | 'seam line' | undefined,
): Outlines => {
  const { outer } = piece;
  const beside = piece.inner.filter((l) => runsBeside(outer, l) || hintedAs(l, hints, 'seam line'));
  const named = beside.find((l) => hintedAs(l, hints, 'seam line'));
  const seam = named ?? beside[0];
  if (seam) {
    const says = hintedAs(seam, hints, 'seam line');
    return {
      read: seam.trace,
      is: 'seam line',
      cutting: outer.trace,
      evidence: [...(says ? [says] : []), { says: 'it runs inside another outline, at even distances', weight: 0.9 }],
      drawables: [...outer.drawables, ...seam.drawables],
      surplus: beside.filter((l) => l !== seam && runsBeside(outer, l)),
      gapsOf: [outer, seam],
    };
  }
  const open = openSeam(piece, hints);
  if (open) {
    return {
      read: open.trace,
      is: 'seam line',
      cutting: outer.trace,
      evidence: [{ says: 'it runs inside the cutting line and ends on its fold', weight: 0.85 }],
      drawables: [...outer.drawables, ...open.drawables],
      surplus: [],
      gapsOf: [outer],
    };
  }
  const { is, evidence } = onlyOutline(outer, hints, stated, sheetSays);
  return { read: outer.trace, is, evidence, drawables: outer.drawables, surplus: [], gapsOf: [outer] };
};

/** What an outline alone is: by the pattern sheet, by its layer, by a text on allowances. */
const onlyOutline = (
  outer: Loop,
  hints: Hints,
  stated: StatedAllowance | undefined,
  sheetSays: 'cutting line' | 'seam line' | undefined,
): { is: Outlines['is']; evidence: Evidence[] } => {
  if (sheetSays) return { is: sheetSays, evidence: [{ says: 'the pattern sheet says so', weight: 1 }] };
  const seam = hintedAs(outer, hints, 'seam line');
  if (seam) return { is: 'seam line', evidence: [seam] };
  if (stated?.outline === 'seam line')
    return { is: 'seam line', evidence: [{ says: `“${stated.text}”`, weight: 0.9 }] };
  const hasAllowance = stated?.seam !== undefined;
  if (hasAllowance) return { is: 'cutting line', evidence: [{ says: `“${stated.text}”`, weight: 0.9 }] };
  const cut = hintedAs(outer, hints, 'cutting line');
  return cut ? { is: 'cutting line', evidence: [cut] } : { is: 'unsaid', evidence: [] };
};

/** A line inside the outline that runs beside it from one place on a straight edge to another: a seam line open at the fold. */
const openSeam = (
  piece: DrawnPiece,
  hints: Hints,
): { trace: Trace; drawables: readonly PathDrawable[] } | undefined => {
  const { polygon, length } = piece.outer.trace;
  const lines = piece.lines.filter((d) => !d.path.closed);
  const fits = (chain: OpenChain): boolean => {
    if ([chain.from, chain.to].some((p) => distanceToPolygon(polygon, p) > 1)) return false;
    const segments = chain.spans.flatMap((s) => s.segments);
    const points = segments.flatMap((s): Point[] => [
      s.from,
      { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 },
    ]);
    const walked = segments.reduce((sum, s) => sum + distance(s.from, s.to), 0);
    if (walked < 0.4 * length || points.some((p) => !isInside(polygon, p) && distanceToPolygon(polygon, p) > 0.5))
      return false;
    if (!runsStraight(piece.outer.trace, chain.from, chain.to)) return false;
    const spread = spreadAlong(
      segments.map((s) => [s.from, s.to] as const),
      48,
    );
    return (
      chain.drawables.some((d) => hints.weight(d, 'seam line') > 0) ||
      areFewAllowances(spread.map((p) => distanceToPolygon(polygon, p)))
    );
  };
  const chain = chainsOf(lines).find(fits);
  if (!chain) return undefined;
  return { trace: trace([...chain.spans, { segments: [line(chain.to, chain.from)] }]), drawables: chain.drawables };
};

const spreadAlong = (stretches: readonly (readonly [Point, Point])[], count: number): Point[] => {
  const total = stretches.reduce((sum, [a, b]) => sum + distance(a, b), 0);
  const points: Point[] = [];
  let before = 0;
  for (const [a, b] of stretches) {
    const length = distance(a, b);
    for (let k = points.length; k < count && ((k + 0.5) / count) * total <= before + length; k++) {
      const t = length === 0 ? 0 : (((k + 0.5) / count) * total - before) / length;
      points.push({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
    }
    before += length;
  }
  return points;
};

/** Whether the outline runs straight from a to b, both on it. */
const runsStraight = (t: Trace, a: Point, b: Point): boolean => {
  const points = Array.from({ length: 9 }, (_, i) => ({
    x: a.x + ((b.x - a.x) * (i + 1)) / 10,
    y: a.y + ((b.y - a.y) * (i + 1)) / 10,
  }));
  return distance(a, b) > 50 && points.every((p) => distanceToPolygon(t.polygon, p) <= 0.5);
};
