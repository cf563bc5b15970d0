import type { Finding } from '../../finding.ts';
import { Bug } from '../../finding.ts';
import type { Drawing, DrawingChanges, PathChange, PathDrawable } from '../../formats/drawing.ts';
import type { Path } from '../../geometry/path.ts';
import type { Point } from '../../geometry/point.ts';
import { angleOf, dot, subtract, unit } from '../../geometry/point.ts';
import { line, reversed, type Segment } from '../../geometry/segment.ts';
import { type Affine, apply, mirrorIn, transformPath, transformSegment } from '../../geometry/transform.ts';
import { edgeSpans, edgeWithRole, ringRange } from '../../pattern/edges.ts';
import type { Outline, Piece, Span } from '../../pattern/piece.ts';
import { fromPaper, rightOf, toPaper } from '../../pattern/upright.ts';
import { says, type Vocabulary, vocabulary } from '../../recognise/vocabulary.ts';
import { openPair } from './pair.ts';
import { type Opened, roomBeside } from './place.ts';

/*
 * Opening half pieces out on the drawing: what a dressmaker does when one side is to differ from the other. The half
 * that is there stays, its mirror image is drawn to it, the fold and what speaks of it go, and left and right are
 * written on.
 */

/** A point this near the fold lies on it, mm. */
const ON_FOLD = 0.1;
/** Letters where the piece has none to follow, mm. */
const LETTERS = 6;

/** What is to change in the drawing so that the pieces named lie open to their full width, or as left and right. */
export const unfolding = (drawing: Drawing, pieces: readonly Piece[]): DrawingChanges => {
  const words = vocabulary();
  const room = roomBeside(drawing);
  const parts = pieces.map((piece) =>
    room.place(drawing, piece, piece.half ? unfoldPiece(drawing, piece, words) : openPair(drawing, piece, words)),
  );
  return {
    paths: new Map(parts.flatMap((p) => [...p.paths])),
    texts: new Map(parts.flatMap((p) => [...(p.texts ?? [])])),
    points: new Map(parts.flatMap((p) => [...(p.points ?? [])])),
    additions: parts.flatMap((p) => p.additions),
    removals: new Set(parts.flatMap((p) => [...p.removals])),
  };
};

export const unfoldedNote = (piece: Piece): Finding => ({
  code: 'job-unfolded',
  level: 'note',
  where: { piece: piece.id },
  message: piece.half
    ? `${piece.name || piece.id} was opened out to its full width: cut ${piece.cut.count}, not on the fold.`
    : `${piece.name || piece.id} was drawn as a left and a right piece: cut each once.`,
  try: piece.half
    ? 'Lay it on cloth that is not folded, right side up: left and right are written on it.'
    : "Lay both on cloth that is not folded, right side up: left and right are the wearer's.",
});

const unfoldPiece = (drawing: Drawing, piece: Piece, words: Vocabulary): Opened => {
  const fold = edgeWithRole(piece, 'fold')[0];
  if (!fold) throw new Bug(`${piece.id} is half and has no fold`);
  const seamFold = edgeSpans(piece, fold);
  const first = piece.seamLine.spans[seamFold[0] as number]?.segments[0]?.from as Point;
  const last = piece.seamLine.spans[seamFold.at(-1) as number]?.segments.at(-1)?.to as Point;
  const axis: Axis = {
    through: first,
    along: unit(subtract(last, first)),
    mirror: mirrorIn(first, subtract(last, first)),
  };
  const opened: Opened = { paths: new Map(), additions: [], removals: new Set() };
  openOutline(drawing, piece.seamLine, new Set(seamFold), axis, opened);
  const { cuttingFirst, cuttingLast } = fold;
  if (piece.cuttingLine && cuttingFirst !== undefined && cuttingLast !== undefined) {
    const spans = ringRange(cuttingFirst, cuttingLast, piece.cuttingLine.spans.length);
    openOutline(drawing, piece.cuttingLine, new Set(spans), axis, opened);
  }
  openLines(drawing, piece, axis, opened);
  for (const p of piece.points) {
    if (offFold(axis, p.at)) opened.additions.push({ kind: 'point', like: p.id, at: apply(axis.mirror, p.at) });
  }
  letter(piece, axis, words, opened);
  return opened;
};

interface Axis {
  readonly through: Point;
  readonly along: Point;
  readonly mirror: Affine;
}

const offFold = ({ through, along }: Axis, p: Point): boolean => {
  const d = subtract(p, through);
  return Math.abs(d.x * along.y - d.y * along.x) > ON_FOLD;
};

const mirrored = (axis: Axis, segments: readonly Segment[]): Segment[] =>
  segments.flatMap((s) => transformSegment(axis.mirror, s));

/** The segments backwards: from the end of the last to the start of the first. */
const backwards = (segments: readonly Segment[]): Segment[] => segments.toReversed().map(reversed);

/** Its own mirror image already. */
const lies = (axis: Axis, segments: readonly Segment[]): boolean =>
  segments.every((s) => !offFold(axis, s.from) && !offFold(axis, s.to));

/**
 * An outline drawn by one line gets the mirror image of all the rest in place of its fold. Where the fold is a line of
 * its own, that line goes and each of the others is drawn once more, mirrored.
 */
const openOutline = (
  drawing: Drawing,
  outline: Outline,
  fold: ReadonlySet<number>,
  axis: Axis,
  opened: Opened,
): void => {
  const rest = restAfterFold(outline, fold);
  const foldSpans = outline.spans.filter((_, i) => fold.has(i));
  for (const id of new Set(foldSpans.flatMap((s) => s.source?.drawable ?? []))) {
    const drawsMore = rest.some((s) => s.source?.drawable === id);
    if (!drawsMore) {
      opened.removals.add(id);
      continue;
    }
    const chain = backwards(
      mirrored(
        axis,
        rest.flatMap((s) => [...s.segments]),
      ),
    );
    opened.paths.set(
      id,
      inPlaceOf(
        pathCalled(drawing, id).path,
        foldSpans.filter((s) => s.source?.drawable === id),
        chain,
      ),
    );
  }
  if (foldSpans.some((s) => s.source && !opened.removals.has(s.source.drawable))) return;
  const drawn = new Map<string, Segment[]>();
  for (const span of rest) {
    if (!span.source) continue;
    drawn.set(span.source.drawable, [...(drawn.get(span.source.drawable) ?? []), ...span.segments]);
  }
  for (const [like, segments] of drawn) {
    opened.additions.push({ kind: 'path', like, path: { segments: mirrored(axis, segments), closed: false } });
  }
};

/** Spans from the end of the fold round to its start. */
const restAfterFold = ({ spans }: Outline, fold: ReadonlySet<number>): Span[] => {
  const last = spans.findIndex((_, i) => fold.has(i) && !fold.has((i + 1) % spans.length));
  return spans
    .map((_, k) => (last + 1 + k) % spans.length)
    .filter((i) => !fold.has(i))
    .map((i) => spans[i] as Span);
};

/** The path with a chain in place of its fold spans, in the path's own direction. */
const inPlaceOf = (path: Path, foldSpans: readonly Span[], chain: readonly Segment[]): PathChange => {
  const at = new Set(foldSpans.map((s) => s.source?.index));
  const against = foldSpans[0]?.source?.reversed === true;
  const first = path.segments.findIndex((_, i) => at.has(i));
  return {
    segments: path.segments.map((own, i) => {
      if (!at.has(i)) return [own];
      return i === first ? (against ? backwards(chain) : chain) : [];
    }),
  };
};

const pathCalled = (drawing: Drawing, id: string): PathDrawable => {
  const found = drawing.drawables.find((d) => d.id === id);
  if (found?.kind !== 'path') throw new Bug(`${id} is no line of the drawing`);
  return found;
};

/** Inner lines: marks of the fold go, the grain stays single, what meets the fold squarely runs through, the rest is drawn twice. */
const openLines = (drawing: Drawing, piece: Piece, axis: Axis, opened: Opened): void => {
  for (const inner of piece.lines) {
    const { path } = pathCalled(drawing, inner.id);
    if (inner.kind === 'fold mark') opened.removals.add(inner.id);
    if (inner.kind === 'fold mark' || inner.kind === 'grain' || lies(axis, path.segments)) continue;
    const through = throughFold(path, axis);
    if (through) opened.paths.set(inner.id, { segments: [[through]] });
    else opened.additions.push({ kind: 'path', like: inner.id, path: transformPath(axis.mirror, path) });
  }
};

/** A straight line that starts or ends on the fold and stands square to it, drawn through to its mirrored end. */
const throughFold = (path: Path, axis: Axis): Segment | undefined => {
  const only = path.segments.length === 1 ? path.segments[0] : undefined;
  if (only?.kind !== 'line') return undefined;
  const square = Math.abs(dot(unit(subtract(only.to, only.from)), axis.along)) < 0.01;
  if (!square) return undefined;
  if (!offFold(axis, only.from)) return line(apply(axis.mirror, only.to), only.to);
  if (!offFold(axis, only.to)) return line(only.from, apply(axis.mirror, only.from));
  return undefined;
};

/** Texts that speak of the fold give way to what holds now; left and right are written on as the wearer has them. */
const letter = (piece: Piece, axis: Axis, words: Vocabulary, opened: Opened): void => {
  const stale = piece.texts.filter((t) => says(words.phrasesIn(t.text), 'fold'));
  for (const t of stale) opened.removals.add(t.id);
  const model = stale[0] ?? piece.texts[0];
  const like = model?.id ?? piece.seamLine.spans.find((s) => s.source)?.source?.drawable;
  if (like === undefined) return;
  const height = model?.height ?? LETTERS;
  const middle = middleOf(piece);
  const angle = model?.angle ?? angleOf(rightOf(piece.upright));
  // The name is written again only where it stood in a text that goes.
  const named = piece.texts.some((t) => !stale.includes(t) && t.text.includes(piece.name));
  const label = `${named || piece.name === '' ? '' : `${piece.name} · `}cut ${piece.cut.count}, unfolded`;
  const place = stale[0]?.at ?? fromPaper(piece.upright, { x: 0, y: middle.y });
  opened.additions.push({ kind: 'text', like, text: label, at: place, angle, height });
  // Right side up a front shows the wearer's left on its right, a back on its left (common practice).
  const here = middle.x > 0 === (piece.part.endsWith('back') === false) ? 'left' : 'right';
  const at = fromPaper(piece.upright, middle);
  opened.additions.push(
    { kind: 'text', like, text: here, at, angle, height },
    { kind: 'text', like, text: here === 'left' ? 'right' : 'left', at: apply(axis.mirror, at), angle, height },
  );
};

/** A place well inside the half that is there, upright frame. */
const middleOf = (piece: Piece): Point => {
  const points = piece.seamLine.spans.flatMap((s) => s.segments.map((g) => toPaper(piece.upright, g.from)));
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  const far = Math.abs(Math.min(...xs)) > Math.abs(Math.max(...xs)) ? Math.min(...xs) : Math.max(...xs);
  return { x: far * 0.55, y: Math.min(...ys) + (Math.max(...ys) - Math.min(...ys)) * 0.45 };
};
