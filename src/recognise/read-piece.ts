import type { PathDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import { cross, distance } from '../geometry/point.ts';
import type { PartName } from '../pattern/piece.ts';
import type { TemplateFacts } from './align.ts';
import type { Beside } from './allowances.ts';
import { cuttingBeside } from './allowances.ts';
import { readBand } from './band.ts';
import type { Claims } from './claims.ts';
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
import type { PartReading } from './parts.ts';
import { readPart } from './parts.ts';
import type { DrawnPiece } from './pieces.ts';
import { readPlain } from './plain.ts';
import { readTemplate } from './read-template.ts';
import type { RoleDoubt, RoleReading, Stated } from './roles.ts';
import type { Shape } from './shape.ts';
import { readShape } from './shape.ts';
import type { SheetPiece } from './sheet/types.ts';
import { readSkirt } from './skirt.ts';
import type { StatedAllowance, StatedCut } from './stating.ts';
import { readStatedAllowance, readStatedCut } from './stating.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, distanceToStroke, middleOfStroke, strokeOf } from './strokes.ts';
import { placeAt } from './trace.ts';
import { says } from './vocabulary.ts';

/** A piece as far as it is told by its own drawing. */
export interface ReadPiece {
  readonly drawn: DrawnPiece;
  readonly id: string;
  readonly name: string;
  readonly sheet?: SheetPiece;
  readonly part: PartReading;
  /** A second answer to what it is that is about as likely. */
  readonly doubt?: RoleDoubt;
  /** How much more its shape is that of a front than of a back, where shape alone tells. */
  readonly lean?: number;
  readonly outlines: Outlines;
  readonly shape: Shape;
  readonly beside?: readonly (Beside | undefined)[];
  readonly strokes: readonly Stroke[];
  readonly labels: readonly Label[];
  readonly drills: readonly { readonly id: string; readonly at: Point }[];
  readonly grain?: Grain;
  readonly rivalGrain?: Grain;
  readonly darts: readonly DartFound[];
  readonly notches: readonly NotchFound[];
  readonly claims: Claims;
  /** Lines of fold marks. */
  readonly foldMarks: ReadonlySet<Stroke>;
  /** Lines that are neither grain nor fold marks; `free` are those that are no darts, notches or drill holes either. */
  readonly others: readonly Stroke[];
  readonly free: readonly Stroke[];
  readonly cut: StatedCut;
  readonly allowance?: StatedAllowance;
  readonly roles: RoleReading;
}

/** What the words on a piece say, before its lines are looked at. */
export interface Named {
  readonly drawn: DrawnPiece;
  readonly name: string;
  readonly part: PartReading;
  readonly labels: readonly Label[];
}

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
  return { ...parted, roles: rolesOf(parted, facts) };
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

/** Half pieces and count as texts and sheet state them. */
export const statedOf = (p: Pick<ReadPiece, 'cut' | 'sheet' | 'labels'>): Stated => {
  const counts = new Set(p.cut.counts.map((c) => c.count));
  const count = p.sheet?.cut ?? (counts.size === 1 ? [...counts][0] : undefined);
  const onFold = p.sheet?.onFold ?? (p.cut.onFold ? true : undefined);
  return {
    ...(onFold === undefined ? {} : { onFold }),
    ...(count === undefined ? {} : { count }),
    pair: p.sheet?.mirrored ?? p.cut.pair,
  };
};

const isSkirtPart = (part: PartName): boolean => part === 'skirt' || part.startsWith('skirt ');

/** A piece whose lines are sorted, before its part and roles are known. */
type Sorted = Omit<ReadPiece, 'roles' | 'part' | 'doubt' | 'lean'>;

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

const rolesOf = (p: Omit<ReadPiece, 'roles'>, template: TemplateFacts): RoleReading => {
  const letters = p.labels.map(readingUp);
  const up = p.sheet?.up;
  const facts = statedOf(p);
  if (p.part.part === 'waistband' || p.part.part === 'cuff') {
    const band = readBand(p.shape, p.claims.edges, p.notches, letters, facts.onFold, up);
    if (band) return band;
  }
  if (isSkirtPart(p.part.part)) {
    const centreLine = centreLineOf(p);
    const skirt = readSkirt(p.shape, {
      claims: p.claims.edges,
      ...(p.grain ? { grain: p.grain } : {}),
      hips: p.claims.lines.filter((c) => c.meaning === 'hip').map((c) => middleOfStroke(c.stroke)),
      notches: p.notches.map((n) => placeAt(p.shape.trace, n.along).point),
      ...(centreLine ? { centreLine } : {}),
      letters,
      stated: facts,
      isGore: p.part.part === 'skirt gore',
      isFront: p.part.part === 'skirt front',
      ...(up ? { up } : {}),
    });
    if (skirt) return skirt;
  }
  const read = readTemplate(p.shape, p.part.part, template);
  if (read) return read;
  return readPlain(p.shape, p.claims.edges, p.grain, letters, facts, up);
};

/** A line said to be the centre, or an unnamed one, that runs down the middle from edge to edge. */
const centreLineOf = (p: Sorted): { from: Point; to: Point } | undefined => {
  const said = p.claims.lines.find((c) => c.meaning.startsWith('centre') && c.stroke.straight);
  if (said) return { from: said.stroke.from, to: said.stroke.to };
  const { bounds, length } = p.shape.trace;
  const extent = Math.hypot(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const line = p.free.find((s) => s.straight && s.length > Math.min(0.5 * extent, 0.15 * length) && halves(p.shape, s));
  return line ? { from: line.from, to: line.to } : undefined;
};

/** Whether a line parts the outline in two halves equally wide, within 2 %. */
const halves = (shape: Shape, s: Stroke): boolean => {
  const d = directionOf(s);
  const touches = [s.from, s.to].every((p) => shape.stretches.some((e) => distanceToStroke(e, p) < 5));
  if (!touches) return false;
  const side = shape.trace.polygon.map((p) => cross(d, { x: p.x - s.from.x, y: p.y - s.from.y }));
  const [right, left] = [Math.min(...side), Math.max(...side)];
  return Math.abs(left + right) < 0.02 * (left - right);
};
