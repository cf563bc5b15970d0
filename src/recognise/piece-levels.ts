import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { edgeSpans } from '../pattern/edges.ts';
import type { Edge, Level, Upright } from '../pattern/piece.ts';
import { heightOf } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import { placeMissing, placeOf } from './from-sheet.ts';
import { judge, stated } from './judging.ts';
import type { Adjustment } from './levels.ts';
import { drawnLevels, hipByNotches, readAdjustments } from './levels.ts';
import type { ReadPiece } from './read-piece.ts';
import type { Seam } from './seam.ts';
import type { Stretch } from './shape.ts';
import { distanceToStroke } from './strokes.ts';
import { outlineOf, placeAt } from './trace.ts';

/** All levels of a piece: waist and hem from its edges, others as drawn, notched, or stated in the pattern sheet. */
export const levelsOf = (
  read: ReadPiece,
  seam: Seam,
  edges: readonly Edge[],
  upright: Upright,
  context: Context,
): Level[] => {
  const isSkirt = read.part.part.startsWith('skirt');
  const ends: Level[] = [];
  const waist = edges.find((e) => e.role === 'waist');
  const hem = edges.find((e) => e.role === 'hem');
  if (isSkirt && waist)
    ends.push({ name: 'waist', height: 0, ...judge([{ says: 'the waist edge at the centre', weight: 0.9 }]) });
  if (isSkirt && hem) {
    const foot = hemAtCentre(seam, edges, hem);
    ends.push({
      name: 'hem',
      height: heightOf(upright, foot),
      ...judge([{ says: 'the hem edge at the centre', weight: 0.9 }]),
    });
  }
  const drawn = drawnLevels(read.claims.lines, upright).filter((l) => !ends.some((e) => e.name === l.name));
  const levels = [...ends, ...drawn];
  if (isSkirt && !levels.some((l) => l.name === 'hip')) {
    const sides = edges.filter((e) => e.role === 'side' || e.role === 'gore seam');
    const heights = sides.map((e) => {
      const spans = new Set(edgeSpans({ seamLine: outlineOf(seam.shape.trace) }, e));
      return seam.notches
        .map((n) => placeAt(seam.shape.trace, n.along))
        .filter((p) => spans.has(p.span))
        .map((p) => heightOf(upright, p.point));
    });
    const hip = hipByNotches(heights, 0);
    if (hip) levels.push(hip);
  }
  return withSheetLevels(levels, read, upright, context);
};

/** Where the hem meets the centre: at the centre edge of a half piece, else midway. */
const hemAtCentre = (seam: Seam, edges: readonly Edge[], hem: Edge): Point => {
  const centre = edges.find((e) => e.role === 'fold' || e.role === 'centre');
  const stretch = seam.shape.stretches.find((s) => s.first === hem.first) as Stretch;
  if (!centre) return stretch.middle;
  const { segments } = seam.shape.trace;
  const ends = [stretch.start, seam.shape.stretches.find((s) => s.last === hem.last)?.end ?? stretch.end];
  const centreEnds = [segments[centre.first]?.from, segments[centre.last]?.to].filter(
    (p): p is Point => p !== undefined,
  );
  return ends.reduce((a, b) => (leastTo(centreEnds, a) <= leastTo(centreEnds, b) ? a : b));
};
const leastTo = (points: readonly Point[], p: Point): number => Math.min(...points.map((q) => distance(p, q)));

const withSheetLevels = (levels: readonly Level[], read: ReadPiece, upright: Upright, context: Context): Level[] => {
  const result = [...levels];
  for (const l of read.sheet?.levels ?? []) {
    const above =
      l.lies.by === 'distance' ? result.find((r) => l.lies.by === 'distance' && r.name === l.lies.below) : undefined;
    const height =
      l.lies.by === 'place'
        ? heightOf(upright, placeOf(context.drawing, l.lies.at))
        : above
          ? above.height - l.lies.distance
          : undefined;
    if (height === undefined) continue;
    const at = result.findIndex((r) => r.name === l.name);
    const line = at >= 0 && Math.abs((result[at] as Level).height - height) < 0.01 ? result[at]?.line : undefined;
    const level: Level = { name: l.name, height, ...(line ? { line } : {}), ...stated('the pattern sheet says so') };
    if (at >= 0) result[at] = level;
    else result.push(level);
  }
  return result;
};

/** Adjustment lines, as drawn and as the pattern sheet points them out. */
export const adjustmentsOf = (read: ReadPiece, up: Point, context: Context): Adjustment[] => {
  const levelled = new Set(read.claims.lines.filter((c) => c.evidence.weight > 0.5).map((c) => c.stroke));
  const free = read.free.filter((s) => !levelled.has(s));
  const { bounds } = read.shape.trace;
  const width = Math.min(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const found = readAdjustments(free, read.labels, context.hints, up, width);
  for (const place of read.sheet?.adjustmentLines ?? []) {
    const p = placeOf(context.drawing, place);
    if (found.some((a) => a.strokes.some((s) => distanceToStroke(s, p) <= 5))) continue;
    const stroke = read.free
      .filter((s) => s.straight)
      .sort((a, b) => distanceToStroke(a, p) - distanceToStroke(b, p))[0];
    if (stroke && distanceToStroke(stroke, p) <= 5) {
      found.push({ strokes: [stroke], middle: p, evidence: [{ says: 'the pattern sheet says so', weight: 1 }] });
    } else if (context.sheet) {
      context.tell(placeMissing(context.sheet, read.id, 'an adjustment line', place, read.sheet?.line ?? 1));
    }
  }
  return found;
};
