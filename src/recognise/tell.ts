import { selfCrossings } from '../geometry/path.ts';
import { distance } from '../geometry/point.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { fromPaper } from '../pattern/upright.ts';
import type { Context } from './context.ts';
import { isCutOtherwise } from './context.ts';
import type { Grain } from './grain.ts';
import { lozengesIn } from './inner-darts.ts';
import { gapFindings } from './loops.ts';
import type { ReadPiece } from './piece-reading.ts';
import type { RoleDoubt } from './roles.ts';
import { placeText } from './sheet/write-text.ts';
import { directionOf, skew } from './strokes.ts';

/** Hands doubts and findings of one piece to the context. */
export const raise = (
  read: ReadPiece,
  piece: Piece,
  edgeOf: (stretch: number) => Edge | undefined,
  context: Context,
): void => {
  const file = context.drawing.fileName;
  const where = { file, piece: piece.id };
  for (const loop of read.outlines.gapsOf)
    for (const finding of gapFindings(loop, piece.id, file)) context.tell(finding);
  tellCrossings(read, context);
  if (piece.upright.confidence < 0.2) {
    context.tell({
      code: 'recognise-upright-unknown',
      level: 'warning',
      where,
      message: `Nothing says which way up ${piece.id} stands; it is taken as it lies in the drawing.`,
      try: `In the pattern sheet, under ${piece.id}, write “up: [0, 1]”, or which way is up.`,
    });
  }
  if (read.outlines.surplus.length > 0) {
    context.tell({
      code: 'recognise-several-sizes',
      level: 'error',
      where,
      message: `${piece.id} has ${read.outlines.surplus.length + 2} outlines inside one another, as a nest of sizes has.`,
      try: 'Leave the lines of one size in the file and take the others out.',
    });
  }
  for (const d of [...(read.doubt ? [read.doubt] : []), ...read.roles.doubts]) {
    const settled =
      (d.code === 'recognise-roles-doubtful' && (read.sheet?.up !== undefined || statedByEdges(read))) ||
      (d.code === 'recognise-fold-doubtful' && read.sheet?.onFold !== undefined) ||
      (d.stretch !== undefined && edgeOf(d.stretch)?.confidence === 1);
    if (settled) continue;
    const edge = d.stretch === undefined ? undefined : edgeOf(d.stretch)?.id;
    const set = settlingLine(d, read, context);
    context.doubt({
      piece: piece.id,
      about: d.about,
      ...(edge ? { edge } : {}),
      code: d.code,
      message: d.message,
      sheetLine: set,
    });
    context.tell({
      code: d.code,
      level: 'warning',
      where: { ...where, ...(edge ? { edge } : {}) },
      message: `${piece.id}: ${d.message}.`,
      try: `In the pattern sheet, under ${piece.id}, write “${set}”, or what is right.`,
    });
  }
  if (piece.part === 'unknown') {
    context.doubt({
      piece: piece.id,
      about: 'what it is of the garment',
      code: 'recognise-part-unknown',
      message: 'nothing says what it is of the garment',
      sheetLine: 'part: skirt front',
    });
    context.tell({
      code: 'recognise-part-unknown',
      level: 'warning',
      where,
      message: `Nothing says what ${piece.id} is of the garment.`,
      try: `In the pattern sheet, under ${piece.id}, write “part: skirt front” or whatever it is.`,
    });
  } else if (read.part.confidence <= 0.5 && !read.doubt) {
    context.tell({
      code: 'recognise-part-doubtful',
      level: 'warning',
      where,
      message: `${piece.id} is taken for a ${piece.part} by its shape alone.`,
      try: `In the pattern sheet, under ${piece.id}, write “part: ${piece.part}” or whatever it is.`,
    });
  }
  tellUntold(read, piece, context);
  tellUnreadDarts(read, context);
  if (read.rivalGrain) {
    const { from, to } = read.rivalGrain;
    context.tell({
      code: 'recognise-grain-doubtful',
      level: 'warning',
      where,
      message: `${piece.id} has a second line that could be its grainline, from (${from.x.toFixed(0)}, ${from.y.toFixed(0)}) to (${to.x.toFixed(0)}, ${to.y.toFixed(0)}) mm.`,
      try: `State the grainline under ${piece.id} in the pattern sheet.`,
    });
  } else if (read.grain && isAcrossByLittle(read.grain, piece)) {
    const [from, to] = [read.grain.from, read.grain.to].map((p) => placeText(p, context.drawing));
    context.tell({
      code: 'recognise-grain-doubtful',
      level: 'warning',
      where,
      message: `The line on ${piece.id} from ${from} to ${to} is taken for its grainline, though it lies across the piece: ${read.grain.evidence.map((e) => e.says).join('; ')}.`,
      try: `If that is wrong, state the grainline under ${piece.id} in the pattern sheet, or draw arrow heads on it.`,
    });
  } else if (!read.grain) {
    context.tell({
      code: 'recognise-no-grain',
      level: 'note',
      where,
      message: `${piece.id} has no grainline.`,
      try: 'Draw one, or state its ends in the pattern sheet.',
    });
  }
};

/** Least confidence of a grainline that its layer gives, or word and arrow head together. */
const WELL_SAID = 0.88;

/** Skirts and legs mostly hang along the grain; a grain across one that a single hint speaks for may be a level line. */
const isAcrossByLittle = (grain: Grain, piece: Piece): boolean =>
  /^(skirt|trouser)/.test(piece.part) &&
  grain.confidence < WELL_SAID &&
  skew(directionOf(grain), piece.upright.up) > 0.985;

/** Parts whose edges have roles that alterations need. */
const isWorn = (part: string): boolean => /^(skirt|bodice|dress|trouser)|sleeve$/.test(part);

/** What a piece of clothing should say and does not: its edges, its waist, its bust point. */
const tellUntold = (read: ReadPiece, piece: Piece, context: Context): void => {
  const where = { file: context.drawing.fileName, piece: piece.id };
  if (isCutOtherwise(piece.part, context)) {
    if (piece.edges.every((e) => e.role !== 'unknown')) return;
    context.tell({
      code: 'recognise-cut-unknown',
      level: 'warning',
      where,
      message: `${piece.id} is of a ${context.cutOtherwise} cut, whose edges are not told by themselves; what is printed on them was read.`,
      try: `State its edges under ${piece.id} in the pattern sheet: what has its edges stated is altered.`,
    });
  } else if (isWorn(piece.part) && piece.edges.every((e) => e.role === 'unknown')) {
    const looked = piece.part.startsWith('skirt') ? 'waist, hem and two sides are' : `those of a ${piece.part} were`;
    context.tell({
      code: 'recognise-roles-unknown',
      level: 'warning',
      where,
      message: `The edges of ${piece.id} could not be told apart: ${looked} looked for between its ${read.shape.corners.length} corners.`,
      try: `State its edges under ${piece.id} in the pattern sheet; “retrue survey” prints the corners.`,
    });
  }
  const waist = piece.levels.find((l) => l.name === 'waist');
  if (piece.part.startsWith('dress') && waist && waist.confidence < 0.5) {
    context.tell({
      code: 'recognise-waist-assumed',
      level: 'warning',
      where,
      message: `Nothing says where the waist of ${piece.id} lies; it is taken where its side goes in furthest, at ${placeText(fromPaper(piece.upright, { x: 0, y: waist.height }), context.drawing)}.`,
      try: `If that is wrong, write “levels: { waist: [x, y] }” under ${piece.id} in the pattern sheet, a place that it runs through.`,
    });
  }
  if (piece.part.startsWith('dress') && !waist) {
    context.tell({
      code: 'recognise-waist-unknown',
      level: 'warning',
      where,
      message: `Nothing says where the waist of ${piece.id} lies; heights are counted from its hem.`,
      try: `In the pattern sheet, under ${piece.id}, write “levels: { waist: [x, y] }”, a place that it runs through.`,
    });
  }
  const assumed = piece.landmarks.find((l) => l.marks.length === 0 && l.confidence < 1);
  if (assumed) {
    const place = placeText(assumed.at, context.drawing);
    context.tell({
      code: 'recognise-bust-point-assumed',
      level: 'note',
      where,
      message: `No bust point is marked on ${piece.id}; it is taken where the darts point, at ${place}.`,
      try: `If that is wrong, write “landmarks: { bust point: [x, y] }” under ${piece.id} in the pattern sheet.`,
    });
  }
};

/** Closed lines shaped like a dart with two tips for which nothing else speaks: they are left as they lie, and told. */
const tellUnreadDarts = (read: ReadPiece, context: Context): void => {
  for (const { tip, otherTip } of lozengesIn(read.free, context.hints)) {
    const [from, to] = [tip, otherTip].map((p) => placeText(p, context.drawing));
    context.tell({
      code: 'recognise-inner-dart-unsure',
      level: 'warning',
      where: { file: context.drawing.fileName, piece: read.id },
      message: `A closed line on ${read.id}, from ${from} to ${to}, is shaped like a dart with two tips, but nothing else says that it is one; it is not taken for a dart.`,
      try: 'If it is a dart, print “dart” beside it, or put it on a layer of that name.',
    });
  }
};

/** The line of the pattern sheet that settles a doubt: the edge with its corners, or what the doubt names. */
const settlingLine = (d: RoleDoubt, read: ReadPiece, context: Context): string => {
  const s = d.stretch === undefined ? undefined : read.shape.stretches[d.stretch];
  if (!d.role || !s) return d.set;
  const [from, to] = [s.start, s.end].map((p) => placeText(p, context.drawing));
  return `edges: [{ role: ${d.role}, from: ${from}, to: ${to} }]`;
};

/** Crossings nearer than this to a joint are rounding, or a slit cut in and out again. mm */
const HAIR = 0.02;

const tellCrossings = (read: ReadPiece, context: Context): void => {
  for (const [what, t] of [
    ['outline', read.outlines.read],
    ['cutting line', read.outlines.cutting],
  ] as const) {
    if (!t) continue;
    const crossings = selfCrossings({ segments: t.segments, closed: true });
    const real = crossings.find((p) => t.segments.every((s) => distance(s.from, p) > HAIR));
    if (!real) continue;
    context.tell({
      code: 'recognise-outline-crosses',
      level: 'error',
      where: { file: context.drawing.fileName, piece: read.id, line: read.outlines.drawables[0]?.line ?? 0 },
      message: `The ${what} of ${read.id} crosses itself at (${real.x.toFixed(1)}, ${real.y.toFixed(1)}) mm.`,
      try: 'Mend the line there in the drawing.',
    });
  }
};

const statedByEdges = (read: ReadPiece): boolean => {
  const roles = new Set(read.sheet?.edges.map((e) => e.role) ?? []);
  return roles.has('waist') && roles.has('hem');
};
