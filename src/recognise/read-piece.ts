import type { PathDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { TemplateFacts } from './align.ts';
import { cuttingBeside } from './allowances.ts';
import { readClaims } from './claims.ts';
import type { Context } from './context.ts';
import type { DartFound } from './darts.ts';
import { drillsOf, readDarts } from './darts.ts';
import { readFolds } from './folds.ts';
import { placeOf, sheetPieceFor, statedCorners } from './from-sheet.ts';
import type { Grain } from './grain.ts';
import { readGrain } from './grain.ts';
import { stated } from './judging.ts';
import type { Label } from './labels.ts';
import { labelsFor, readingUp, readLabels } from './labels.ts';
import { nameSources, printedName } from './names.ts';
import type { NotchFound } from './notches.ts';
import { readNotches } from './notches.ts';
import type { Outlines } from './outlines.ts';
import { readOutlines } from './outlines.ts';
import { decidePart } from './part-by-shape.ts';
import { readPart } from './parts.ts';
import type { Named, ReadPiece, Sorted } from './piece-reading.ts';
import { centreLineOf, rolesOf, statedOf } from './piece-roles.ts';
import type { DrawnPiece } from './pieces.ts';
import type { Shape } from './shape.ts';
import { readShape } from './shape.ts';
import type { SheetPiece } from './sheet/types.ts';
import { readStatedAllowance, readStatedCut } from './stating.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, strokeOf } from './strokes.ts';
import { says } from './vocabulary.ts';

export const readName = (drawn: DrawnPiece, context: Context): Named => {
  const labels = readLabels(drawn.texts, context.vocabulary);
  const sources = nameSources(drawn, context.vocabulary);
  const centres = [
    ...labelsFor(labels, 'centre front').map(() => 'front' as const),
    ...labelsFor(labels, 'centre back').map(() => 'back' as const),
  ];
  const part = readPart(sources, context.garment, centres, context.vocabulary);
  return { drawn, name: printedName(sources, context.vocabulary), part, labels };
};

/** Reads one piece: outlines, marks, and the roles of its edges. */
export const readPiece = (named: Named, id: string, context: Context): ReadPiece => {
  const { drawn, labels, name } = named;
  const { hints, vocabulary, drawing } = context;
  const sheet = sheetPieceFor(context.sheet, drawing, { id, name, polygon: drawn.outer.trace.polygon });
  const allowance = readStatedAllowance(drawn.texts, vocabulary) ?? context.allowance;
  const outlines = readOutlines(drawn, hints, allowance, context.sheet?.outlineIs);
  const reach = outlines.is === 'seam line' ? undefined : 60;
  const corners = sheet ? statedCorners(outlines.read, sheet.edges, drawing, reach) : [];
  const shape = readShape(outlines.read, corners);
  const inOutline = new Set(outlines.drawables.map((d) => d.id));
  const paths = [...drawn.lines, ...drawn.inner.flatMap((l) => l.drawables)].filter((d) => !inOutline.has(d.id));
  const strokes = uniqueById(paths).map(strokeOf);
  const folds = readFolds(shape, strokes, hints);
  const foldMarks = new Set(folds.flatMap((f) => f.strokes));
  const unfolded = strokes.filter((s) => !foldMarks.has(s));
  const { grain, rival } = grainOf(unfolded, labels, sheet, context);
  const others = unfolded.filter((s) => !grain?.strokes.includes(s));
  const drills = drillsOf(drawn.points, others, hints);
  const marks = markings(
    shape,
    outlines,
    others,
    drawn,
    drills.map((d) => d.at),
    labels,
    grain,
    context,
  );
  const beside = outlines.cutting ? cuttingBeside(outlines.cutting, shape) : undefined;
  const drilled = new Set(drills.map((d) => d.id));
  const free = marks.free.filter((s) => !drilled.has(s.drawable.id));
  const allowances = beside?.map((b) => b?.allowance ?? 0);
  const claims = readClaims(
    shape,
    free,
    labels,
    grain,
    marks.darts,
    marks.notches,
    allowances,
    outlines.drawables,
    folds,
    hints,
  );
  const cut = readStatedCut(drawn.texts, vocabulary);
  const base = {
    drawn,
    id,
    name: sheet?.name ?? name,
    outlines,
    shape,
    strokes,
    labels,
    drills,
    claims,
    free,
    others,
    foldMarks,
    cut,
  };
  const found = {
    ...base,
    darts: marks.darts,
    notches: marks.notches,
    ...(sheet ? { sheet } : {}),
    ...(beside ? { beside } : {}),
    ...(grain ? { grain } : {}),
    ...(rival ? { rivalGrain: rival } : {}),
    ...(allowance ? { allowance } : {}),
  };
  const facts = templateFacts(found, context);
  const decided = sheet?.part
    ? { part: { part: sheet.part, ...stated('the pattern sheet says so') } }
    : decidePart(named.part, shape, marks.darts, context.garment, facts);
  const parted = { ...found, ...decided };
  return { ...parted, roles: rolesOf(parted, facts, context) };
};

const uniqueById = (paths: readonly PathDrawable[]): PathDrawable[] => [
  ...new Map(paths.map((d) => [d.id, d])).values(),
];

/** The grainline; where the pattern sheet gives its ends, the line between them. */
const grainOf = (
  strokes: readonly Stroke[],
  labels: readonly Label[],
  sheet: SheetPiece | undefined,
  context: Context,
) => {
  if (!sheet?.grainline) return readGrain(strokes, labels, context.hints);
  const from = placeOf(context.drawing, sheet.grainline.from);
  const to = placeOf(context.drawing, sheet.grainline.to);
  const shaft = strokes.find((s) => {
    const ends = [s.shaft.from, s.shaft.to];
    return ends.some((e) => distance(e, from) <= 5) && ends.some((e) => distance(e, to) <= 5);
  });
  const read = readGrain(shaft ? strokes : [], labels, context.hints).grain;
  const own = read && shaft && read.strokes[0] === shaft ? read.strokes : shaft ? [shaft] : [];
  const same = shaft && distance(shaft.shaft.from, from) <= 5;
  const ends = shaft ? (same ? shaft.shaft : { from: shaft.shaft.to, to: shaft.shaft.from }) : { from, to };
  const grain: Grain = { from: ends.from, to: ends.to, strokes: own, ...stated('the pattern sheet gives its ends') };
  return { grain, rival: undefined };
};

/** Darts and notches on an outline, and the strokes that are neither. */
export const markings = (
  shape: Shape,
  outlines: Pick<Outlines, 'cutting'>,
  strokes: readonly Stroke[],
  drawn: DrawnPiece,
  drills: readonly Point[],
  labels: readonly Label[],
  grain: Grain | undefined,
  context: Context,
): { darts: DartFound[]; notches: NotchFound[]; free: Stroke[] } => {
  const along = grain && directionOf(grain);
  const darts = readDarts(shape, outlines.cutting, strokes, drills, labels, context.hints, along);
  const legs = new Set(darts.flatMap((d) => (d.drawn.as === 'lines' ? d.drawn.strokes : [])));
  const rest = strokes.filter((s) => !legs.has(s));
  const notches = readNotches(shape, outlines.cutting, rest, drawn.points, context.hints);
  const marks = new Set(notches.flatMap((n) => n.marks));
  return { darts, notches, free: rest.filter((s) => !marks.has(s.drawable.id)) };
};

const templateFacts = (p: Sorted, context: Context): TemplateFacts => {
  const centreLine = centreLineOf(p);
  const named = context.vocabulary.phrasesIn(p.name);
  const follows = (['neck', 'armhole', 'waist'] as const).find((m) => says(named, m));
  const on = (marks: readonly { readonly stretch?: number }[]): number[] =>
    p.shape.stretches.map((_, i) => marks.filter((m) => m.stretch === i).length);
  return {
    claims: p.claims.edges,
    marks: { darts: on(p.darts), notches: on(p.notches) },
    ...(p.grain ? { grain: p.grain } : {}),
    ...(centreLine ? { centreLine } : {}),
    letters: p.labels.map(readingUp),
    stated: statedOf(p),
    waistLine: p.claims.lines.some((c) => c.meaning === 'waist'),
    panelled: context.panelled,
    ...(follows ? { follows } : {}),
    ...(p.sheet?.up ? { up: p.sheet.up } : {}),
  };
};
