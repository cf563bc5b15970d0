import { add, scale } from '../geometry/point.ts';
import type {
  AdjustmentMark,
  Dart,
  Edge,
  Level,
  Notch,
  PaperText,
  PartName,
  Piece,
  Upright,
} from '../pattern/piece.ts';
import { acrossOf, heightOf } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import { cutOf } from './cut-order.ts';
import type { DartFound } from './darts.ts';
import type { EdgePlan } from './edges.ts';
import { makeEdges, planEdges } from './edges.ts';
import { placeMissing, statedEdge } from './from-sheet.ts';
import { judge, stated } from './judging.ts';
import { landmarksOf } from './landmarks.ts';
import type { NotchFound } from './notches.ts';
import { linesOf, pointsOf } from './paper-marks.ts';
import { adjustmentsOf, levelsOf } from './piece-levels.ts';
import type { ReadPiece } from './piece-reading.ts';
import { seamOf } from './seam.ts';
import type { Shape, Stretch } from './shape.ts';
import { raise } from './tell.ts';
import { outlineOf, placeAt } from './trace.ts';

/** Makes the Piece of a piece that has been read. Doubts and findings go to the context. */
export const assemble = (read: ReadPiece, context: Context): Piece => {
  const stretchPlans = sheetEdges(read, context);
  const plans = planEdges(read.shape, read.roles.roles, stretchPlans);
  const seam = seamOf(read, plans, context);
  const edges = makeEdges(seam.shape, plans, seam.beside);
  const edgeOfStretch = (i: number): Edge | undefined => {
    const k = plans.findIndex((p) => p.stretches.includes(i));
    return edges[k];
  };
  const landmarks = landmarksOf(read, seam, context);
  const stands = { seam, edges, upright: uprightOf(read, seam.shape) };
  const { upright, levels } = atZero(read.part.part, stands.upright, levelsOf(read, stands, landmarks, context));
  const adjustments = adjustmentsOf(read, upright.up, context);
  const piece: Piece = {
    id: read.id,
    name: read.name,
    part: read.part.part,
    partJudged: { evidence: read.part.evidence, confidence: read.part.confidence },
    upright,
    half: read.sheet?.onFold ?? edges.some((e) => e.role === 'fold'),
    cut: cutOf(read, edges, context),
    seamLine: outlineOf(seam.shape.trace),
    seamLineFrom: seam.from,
    ...(seam.from === 'only outline' && read.outlines.is === 'cutting line' ? { allowanceUnknown: true } : {}),
    ...(seam.cutting ? { cuttingLine: outlineOf(seam.cutting) } : {}),
    edges,
    levels,
    darts: seam.darts.map((d, i) => dartOf(stoodUp(d, upright), i, edgeOfStretch)),
    notches: seam.notches.map((n, i) => notchOf(n, i, seam.shape, edgeOfStretch)),
    lines: linesOf(read, seam, adjustments),
    points: pointsOf(read, seam, landmarks, context),
    texts: read.drawn.texts.map(
      (t): PaperText => ({ id: t.id, text: t.text, at: t.at, angle: t.angle, height: t.height }),
    ),
    ...(read.grain ? { grainline: grainMark(read.grain) } : {}),
    landmarks,
    adjustmentLines: adjustments.map(
      (a): AdjustmentMark => ({
        lines: a.strokes.map((s) => s.drawable.id),
        height: heightOf(upright, a.middle),
        ...judge(a.evidence),
      }),
    ),
  };
  raise(read, piece, edgeOfStretch, context);
  return piece;
};

const grainMark = (grain: NonNullable<ReadPiece['grain']>): NonNullable<Piece['grainline']> => ({
  lines: grain.strokes.map((s) => s.drawable.id),
  from: grain.from,
  to: grain.to,
  evidence: grain.evidence,
  confidence: grain.confidence,
});

/** Edges that the pattern sheet states, as stretches of the outline that was read. */
const sheetEdges = (read: ReadPiece, context: Context): EdgePlan[] => {
  const { sheet } = read;
  if (!sheet || !context.sheet) return [];
  const reach = read.outlines.is === 'seam line' ? undefined : 60;
  return sheet.edges.flatMap((e): EdgePlan[] => {
    const found = statedEdge(read.shape, e, context.drawing, reach);
    if (found) return [{ ...found, ...stated('the pattern sheet says so') }];
    context.tell(
      placeMissing(
        context.sheet as NonNullable<Context['sheet']>,
        read.id,
        `corners of the ${e.role} edge`,
        e.from,
        e.line,
      ),
    );
    return [];
  });
};

const uprightOf = (read: ReadPiece, shape: Shape): Upright => {
  const { up, upright } = read.roles;
  const places = read.roles.origin.map((o) => (shape.stretches[o.stretch] as Stretch)[o.at]);
  const origin = scale(places.reduce(add), 1 / places.length);
  return read.sheet?.up
    ? { up: read.sheet.up, origin, ...stated('the pattern sheet says so') }
    : { up, origin, ...upright };
};

/**
 * Heights are counted from the waist, on a sleeve from the biceps. Where that is a line across the piece, the origin is
 * moved along the upright to it.
 */
const atZero = (part: PartName, upright: Upright, levels: readonly Level[]): { upright: Upright; levels: Level[] } => {
  const zero = levels.find((l) => l.name === (part.endsWith('sleeve') ? 'biceps' : 'waist'))?.height ?? 0;
  return {
    upright: zero === 0 ? upright : { ...upright, origin: add(upright.origin, scale(upright.up, zero)) },
    levels: levels.map((l) => (zero === 0 ? l : { ...l, height: l.height - zero })),
  };
};

/** A dart inside has its upper tip first, and its left side before its right. */
const stoodUp = (d: DartFound, upright: Upright): DartFound => {
  const { otherTip, tip, mouth } = d;
  if (!otherTip) return d;
  const upwards = heightOf(upright, tip) >= heightOf(upright, otherTip);
  const inOrder = acrossOf(upright, mouth[0]) <= acrossOf(upright, mouth[1]);
  return {
    ...d,
    ...(upwards ? {} : { tip: otherTip, otherTip: tip }),
    ...(inOrder ? {} : { mouth: [mouth[1], mouth[0]] as const }),
  };
};

const dartOf = (d: DartFound, i: number, edgeOf: (stretch: number) => Edge | undefined): Dart => {
  const edge = d.stretch === undefined ? undefined : edgeOf(d.stretch);
  return {
    id: i === 0 ? 'dart' : `dart-${i + 1}`,
    ...(edge ? { edge: edge.id } : {}),
    drawn: d.drawn.as === 'outline' ? d.drawn : { as: 'lines', lines: d.drawn.strokes.map((s) => s.drawable.id) },
    mouth: d.mouth,
    tip: d.tip,
    ...(d.otherTip ? { otherTip: d.otherTip } : {}),
    evidence: d.evidence,
    confidence: d.confidence,
  };
};

const notchOf = (n: NotchFound, i: number, shape: Shape, edgeOf: (stretch: number) => Edge | undefined): Notch => {
  const place = placeAt(shape.trace, n.along);
  return {
    id: i === 0 ? 'notch' : `notch-${i + 1}`,
    edge: edgeOf(n.stretch)?.id ?? '',
    at: { span: place.span, t: place.t },
    marks: n.marks,
    count: n.count,
    evidence: n.evidence,
    confidence: n.confidence,
  };
};
