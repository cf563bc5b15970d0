import { type BodiceOptions, draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import * as c from '../../fixtures/blocks/draft/curves.ts';
import { type DraftPiece, edgeOf } from '../../fixtures/blocks/draft/draft.ts';
import { flatten } from '../../src/geometry/flatten.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import {
  apply,
  applyToVector,
  compose,
  rotation,
  transformSegment,
  translation,
} from '../../src/geometry/transform.ts';
import { edgeLength, edgeRuns, edgeWithRole } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { EdgeRole, Piece, Span } from '../../src/pattern/piece.ts';
import { patternOf } from '../drafted.ts';
import { pieceIn } from './altering.ts';

/* Bodices with their sleeves, in the ways sleeves are drawn. */

export const INCH = 25.4;

export const withSleeve = (options: BodiceOptions = {}): Pattern => patternOf(draftBodice(SAMPLE_BODICE_BODY, options));

/** The front half of the drafted sleeve on the fold, which lies along its middle line. */
export const sleeveOnFold = (): Pattern => {
  const draft = draftBodice(SAMPLE_BODICE_BODY, {});
  const whole = draft.pieces.find((p) => p.part === 'sleeve') as DraftPiece;
  const segments = (name: string) => edgeOf(whole, name).segments;
  const cap = segments('cap').filter((s) => s.from.x > 1e-6);
  const [hem] = segments('wrist') as [Segment];
  const [, wrist] = c.splitAt(
    hem,
    c.whereZero(hem, (p) => p.x),
  );
  const { allowance } = edgeOf(whole, 'cap');
  const [top, bottom] = [(cap.at(-1) as Segment).to, wrist.from];
  const half: DraftPiece = {
    ...whole,
    onFold: true,
    edges: [
      { name: 'cap', segments: cap, allowance },
      { name: 'fold', segments: [c.line(top, bottom)], allowance: 0 },
      { name: 'wrist', segments: [wrist], allowance: edgeOf(whole, 'wrist').allowance },
      { name: 'sleeve seam', segments: segments('sleeve seam 2'), allowance },
    ],
    levels: whole.levels.map((l) => ({ ...l, line: [] })),
    notches: whole.notches.filter((n) => n.edge === 'cap' && n.at.x > 60),
    adjustments: (whole.adjustments ?? []).map(([, front]) => [c.at(0, front.y), front] as const),
    grain: [c.at(40, whole.grain[0].y), c.at(40, whole.grain[1].y)],
  };
  const pieces = draft.pieces.map((p) => (p === whole ? half : p));
  const seams = (draft.seams ?? [])
    .filter((s) => s.id !== 'sleeve seam')
    .map((s) => (s.id === 'armhole and cap' ? { ...s, other: [{ piece: 'sleeve', edge: 'cap', times: 2 }] } : s));
  return patternOf({ ...draft, pieces, seams });
};

export const sleeveBlocks: readonly (readonly [string, Pattern])[] = [
  ['in one piece', withSleeve()],
  ['in two pieces', withSleeve({ sleeve: 'two pieces' })],
  ['with an elbow dart drawn as lines', withSleeve({ elbowDart: 16 })],
  ['with an elbow dart cut out', withSleeve({ elbowDart: 16, darts: 'outline' })],
  ['on the fold', sleeveOnFold()],
  ['with a lining', withSleeve({ lining: true })],
  ['on a whole bodice in panels', withSleeve({ panels: true, whole: true })],
];

export const sleevesOf = (pattern: Pattern): readonly Piece[] =>
  pattern.pieces.filter((p) => p.part.endsWith('sleeve'));

/** Length of all edges of a role in a piece, mm. */
export const lengthOf = (piece: Piece, role: EdgeRole): number =>
  edgeWithRole(piece, role).reduce((sum, e) => sum + edgeLength(piece, e), 0);

/** Ease of the cap over each armhole it is sewn to, by the pattern's own mates, mm. */
export const capEase = (pattern: Pattern): number[] =>
  pattern.mates
    .filter((m) => m.id.includes('armhole'))
    .map(({ one, other }) => {
      const row = (sewn: typeof one): number =>
        sewn.reduce((sum, s) => {
          const piece = pieceIn(pattern, s.piece);
          const edge = piece.edges.find((e) => e.id === s.edge);
          return sum + (edge ? s.times * edgeLength(piece, edge) : Number.NaN);
        }, 0);
      return row(other) - row(one);
    });

/** The highest point of the outline, in a piece that stands upright. */
export const topOf = (piece: Piece): number =>
  Math.max(...edgeWithRole(piece, 'cap').flatMap((e) => flatten(edgeRuns(piece, e).flat(), 0.001).map((p) => p.y)));

/** A pattern whose pieces lie turned about the drawing's origin and moved. */
export const turnedPattern = (pattern: Pattern, angle: number): Pattern => {
  const move = compose(translation({ x: 70, y: -30 }), rotation(angle));
  const at = (p: { x: number; y: number }) => apply(move, p);
  const spans = (row: readonly Span[]): Span[] =>
    row.map((s) => ({ ...s, segments: s.segments.flatMap((g) => transformSegment(move, g)) }));
  return {
    ...pattern,
    pieces: pattern.pieces.map((piece) => ({
      ...piece,
      upright: { ...piece.upright, origin: at(piece.upright.origin), up: applyToVector(move, piece.upright.up) },
      seamLine: { spans: spans(piece.seamLine.spans) },
      ...(piece.cuttingLine ? { cuttingLine: { spans: spans(piece.cuttingLine.spans) } } : {}),
      lines: piece.lines.map((l) => ({ ...l, spans: spans(l.spans) })),
      points: piece.points.map((p) => ({ ...p, at: at(p.at) })),
      landmarks: piece.landmarks.map((l) => ({ ...l, at: at(l.at) })),
      darts: piece.darts.map((d) => ({ ...d, mouth: [at(d.mouth[0]), at(d.mouth[1])] as const, tip: at(d.tip) })),
      ...(piece.grainline
        ? { grainline: { ...piece.grainline, from: at(piece.grainline.from), to: at(piece.grainline.to) } }
        : {}),
    })),
  };
};
