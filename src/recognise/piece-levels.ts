import type { Point } from '../geometry/point.ts';
import { edgeSpans } from '../pattern/edges.ts';
import type { Landmark, Level, PartName, Upright } from '../pattern/piece.ts';
import { heightOf } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import type { Levelled } from './edge-levels.ts';
import { levelsFromShape, levelsOnEdges, waistBySides } from './edge-levels.ts';
import { placeMissing, placeOf } from './from-sheet.ts';
import { judge, stated } from './judging.ts';
import type { Adjustment } from './levels.ts';
import { drawnLevels, hipByNotches, readAdjustments } from './levels.ts';
import type { ReadPiece } from './piece-reading.ts';
import { distanceToStroke } from './strokes.ts';
import { outlineOf, placeAt } from './trace.ts';

/** All levels of a piece: of its edges, as drawn, as follows from its shape, and as stated in the pattern sheet. */
export const levelsOf = (
  read: ReadPiece,
  piece: Levelled,
  landmarks: readonly Landmark[],
  context: Context,
): Level[] => {
  const { part } = read.part;
  const { upright } = piece;
  const isSkirt = part.startsWith('skirt');
  const levels = isWorn(part) ? levelsOnEdges(piece) : [];
  const enter = (more: readonly Level[]): void => {
    for (const l of more) if (!levels.some((known) => known.name === l.name)) levels.push(l);
  };
  enter(drawnLevels(read.claims.lines, upright));
  if (isWorn(part) && !isSkirt) enter(levelsFromShape(piece, part.endsWith('back')));
  enter(bustLevel(landmarks, upright));
  if (part.startsWith('dress')) enter(waistByDarts(piece));
  if (part.startsWith('dress')) enter(waistBySides(piece));
  if (isSkirt) enter(hipLevel(piece));
  return withSheetLevels(levels, read, upright, context);
};

/** Parts that stand on the body at levels; bands, collars and facings do not. */
const isWorn = (part: PartName): boolean => /^(skirt|bodice|dress|trouser)|sleeve$/.test(part);

const bustLevel = (landmarks: readonly Landmark[], upright: Upright): Level[] => {
  const [first] = landmarks;
  if (!first) return [];
  const says = 'the level of the bust point';
  return [{ name: 'bust', height: heightOf(upright, first.at), ...judge([{ says, weight: 0.9 * first.confidence }]) }];
};

/** Darts that run over the waist are widest there. */
const waistByDarts = ({ seam, upright }: Levelled): Level[] => {
  const widest = seam.darts.find((d) => d.otherTip)?.mouth.map((m) => heightOf(upright, m));
  if (!widest) return [];
  const says = 'the dart that runs over the waist is widest there';
  return [
    { name: 'waist', height: ((widest[0] as number) + (widest[1] as number)) / 2, ...judge([{ says, weight: 0.6 }]) },
  ];
};

/** The hip level by notches in all side edges. */
const hipLevel = ({ seam, edges, upright }: Levelled): Level[] => {
  const sides = edges.filter((e) => e.role === 'side' || e.role === 'gore seam');
  const heights = sides.map((e) => {
    const spans = new Set(edgeSpans({ seamLine: outlineOf(seam.shape.trace) }, e));
    return seam.notches
      .map((n) => placeAt(seam.shape.trace, n.along))
      .filter((p) => spans.has(p.span))
      .map((p) => heightOf(upright, p.point));
  });
  const hip = hipByNotches(heights, 0);
  return hip ? [hip] : [];
};

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
