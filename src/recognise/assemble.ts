import type { AdjustmentMark, Dart, Edge, Notch, PaperText, Piece, Upright } from '../pattern/piece.ts';
import { heightOf } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import { cutOf } from './cut-order.ts';
import type { DartFound } from './darts.ts';
import type { EdgePlan } from './edges.ts';
import { makeEdges, planEdges } from './edges.ts';
import { placeMissing, statedEdge } from './from-sheet.ts';
import { judge, stated } from './judging.ts';
import type { NotchFound } from './notches.ts';
import { linesOf, pointsOf } from './paper-marks.ts';
import { adjustmentsOf, levelsOf } from './piece-levels.ts';
import type { ReadPiece } from './read-piece.ts';
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
  const upright = uprightOf(read, seam.shape);
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
    ...(seam.cutting ? { cuttingLine: outlineOf(seam.cutting) } : {}),
    edges,
    levels: levelsOf(read, seam, edges, upright, context),
    darts: seam.darts.map((d, i) => dartOf(d, i, edgeOfStretch)),
    notches: seam.notches.map((n, i) => notchOf(n, i, seam.shape, edgeOfStretch)),
    lines: linesOf(read, seam, adjustments),
    points: pointsOf(read, seam, context),
    texts: read.drawn.texts.map(
      (t): PaperText => ({ id: t.id, text: t.text, at: t.at, angle: t.angle, height: t.height }),
    ),
    ...(read.grain ? { grainline: grainMark(read.grain) } : {}),
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
  const origin = (shape.stretches[read.roles.origin.stretch] as Stretch)[read.roles.origin.at];
  return read.sheet?.up
    ? { up: read.sheet.up, origin, ...stated('the pattern sheet says so') }
    : { up, origin, ...upright };
};

const dartOf = (d: DartFound, i: number, edgeOf: (stretch: number) => Edge | undefined): Dart => {
  const edge = d.stretch === undefined ? undefined : edgeOf(d.stretch);
  return {
    id: i === 0 ? 'dart' : `dart-${i + 1}`,
    ...(edge ? { edge: edge.id } : {}),
    drawn: d.drawn.as === 'outline' ? d.drawn : { as: 'lines', lines: d.drawn.strokes.map((s) => s.drawable.id) },
    mouth: d.mouth,
    tip: d.tip,
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
