import { cuttingLineOf } from '../fixtures/blocks/draft/cutting.ts';
import type { Draft, DraftPiece, DraftSeam, DraftSewn } from '../fixtures/blocks/draft/draft.ts';
import { edgeOf, legsOf, seamLineOf } from '../fixtures/blocks/draft/draft.ts';
import { distance, type Point } from '../src/geometry/point.ts';
import { line, nearestOn, type Segment } from '../src/geometry/segment.ts';
import type { Judged } from '../src/pattern/evidence.ts';
import type { Mates, Pattern } from '../src/pattern/pattern.ts';
import type { Dart, Edge, EdgeRole, InnerLine, Notch, Outline, PaperPoint, Piece } from '../src/pattern/piece.ts';

/* A drafted block as the pattern that a perfect reading of it would give, for tests that are not about reading. */

const stated: Judged = { evidence: [{ says: 'drafted so', weight: 1 }], confidence: 1 };

export const patternOf = (draft: Draft): Pattern => {
  const pieces = draft.pieces.map(pieceOfDraft);
  return {
    fileName: 'drafted.dxf',
    style: draft.style,
    size: draft.size,
    pieces,
    mates: draft.seams ? draft.seams.map(matesIn) : matesOf(pieces),
    draftedFor: draft.draftedFor,
    loose: [],
    repeats: new Map(),
    doubts: [],
    views: [],
  };
};

const roleOf = (piece: DraftPiece, name: string): EdgeRole => {
  if (piece.part === 'waistband') return name === 'band seam' || name === 'band top' ? name : 'end';
  return name.replace(/ (right|left|\d)$/, '') as EdgeRole;
};

/** A drafted edge's name as the id of the edge: 'sleeve seam 2' is 'sleeve-seam-2'. */
const idOf = (name: string): string => name.replaceAll(' ', '-');

const matesIn = (seam: DraftSeam): Mates => {
  const row = (sewn: readonly DraftSewn[]) =>
    sewn.map((s) => ({ piece: s.piece, edge: idOf(s.edge), times: s.times ?? 1 }));
  return { id: seam.id, one: row(seam.one), other: row(seam.other), ...stated };
};

const outlineOf = (id: string, segments: readonly Segment[]): Outline => ({
  spans: segments.map((segment, index) => ({ source: { drawable: id, index, reversed: false }, segments: [segment] })),
});

const pieceOfDraft = (d: DraftPiece): Piece => {
  const seam = seamLineOf(d);
  const cutting = cuttingLineOf(d);
  const bounds = edgeBounds(d, seam);
  return {
    id: d.id,
    name: d.id,
    part: d.part,
    partJudged: stated,
    upright: { origin: { x: 0, y: 0 }, up: { x: 0, y: 1 }, ...stated },
    half: d.onFold,
    cut: { count: d.cut, mirrored: d.cut === 2 && !d.onFold, cloth: d.cloth ?? 'shell', ...stated },
    seamLine: outlineOf(`${d.id}-seam`, seam),
    seamLineFrom: 'drawn',
    cuttingLine: outlineOf(`${d.id}-cut`, cutting),
    edges: bounds.map(
      (b): Edge => ({
        id: b.name,
        role: roleOf(d, b.drafted),
        first: b.first,
        last: b.last,
        allowance: b.allowance,
        ...stated,
      }),
    ),
    levels: d.levels.map((l, i) => ({
      name: l.name,
      height: l.height,
      ...(l.line.length > 0 ? { line: levelId(d, i) } : {}),
      ...stated,
    })),
    darts: d.darts.map((dart, i) => dartOf(d, dart, i, seam)),
    notches: d.notches.map((n, i) => notchOf(n, i, seam)),
    lines: [...innerLines(d)],
    points: [
      ...d.darts.map((dart, i): PaperPoint => ({ id: `${d.id}-drill-${i}`, kind: 'drill', at: dart.drill, ...stated })),
      ...(d.landmarks ?? []).map(
        (l, i): PaperPoint => ({ id: `${d.id}-landmark-${i}`, kind: 'landmark', at: l.at, ...stated }),
      ),
    ],
    texts: [],
    grainline: { lines: [`${d.id}-grain`], from: d.grain[0], to: d.grain[1], ...stated },
    landmarks: (d.landmarks ?? []).map((l, i) => ({ ...l, marks: [`${d.id}-landmark-${i}`], ...stated })),
    adjustmentLines: (d.adjustments ?? []).map(([from], i) => ({
      lines: [adjustmentId(d, i)],
      height: from.y,
      ...stated,
    })),
  };
};

const edgeBounds = (d: DraftPiece, seam: readonly Segment[]) => {
  const starts = d.edges.map((e) => seam.findIndex((s) => same(s.from, e.segments[0]?.from)));
  return d.edges.map((e, i) => {
    const next = starts[(i + 1) % starts.length] as number;
    return {
      name: idOf(e.name),
      drafted: e.name,
      first: starts[i] as number,
      last: (next - 1 + seam.length) % seam.length,
      allowance: edgeOf(d, e.name).allowance,
    };
  });
};
const same = (a: Point, b: Point | undefined): boolean => !!b && distance(a, b) < 1e-9;

const dartOf = (d: DraftPiece, dart: DraftPiece['darts'][number], i: number, seam: readonly Segment[]): Dart => {
  const first = seam.findIndex((s) => same(s.from, dart.mouth[0]) && same(s.to, dart.tip));
  return {
    id: `dart-${i + 1}`,
    ...(dart.edge ? { edge: idOf(dart.edge) } : {}),
    drawn:
      dart.drawn === 'outline'
        ? { as: 'outline', first, last: first + 1 }
        : { as: 'lines', lines: [`${d.id}-dart-${i}`] },
    mouth: dart.mouth,
    tip: dart.tip,
    ...(dart.otherTip ? { otherTip: dart.otherTip } : {}),
    ...stated,
  };
};

const notchOf = (n: DraftPiece['notches'][number], i: number, seam: readonly Segment[]): Notch => {
  const places = seam.map((s, span) => ({ span, ...nearestOn(s, n.at) }));
  const best = places.reduce((a, b) => (b.distance < a.distance ? b : a));
  return {
    id: `notch-${i + 1}`,
    edge: idOf(n.edge),
    at: { span: best.span, t: best.t },
    marks: [],
    count: n.count ?? 1,
    ...stated,
  };
};

const levelId = (d: DraftPiece, i: number): string => `${d.id}-level-${i}`;
/** The first keeps the plain name. */
const adjustmentId = (d: DraftPiece, i: number): string => `${d.id}-adjustment${i === 0 ? '' : `-${i + 1}`}`;

const innerLines = (d: DraftPiece): InnerLine[] => {
  const inner = (id: string, kind: InnerLine['kind'], segments: readonly Segment[]): InnerLine => ({
    id,
    kind,
    closed: false,
    spans: segments.map((segment, index) => ({
      source: { drawable: id, index, reversed: false },
      segments: [segment],
    })),
    ...stated,
  });
  return [
    inner(`${d.id}-grain`, 'grain', [line(d.grain[0], d.grain[1])]),
    ...d.levels.flatMap((l, i) => (l.line.length > 0 ? [inner(levelId(d, i), 'level', l.line)] : [])),
    ...(d.adjustments ?? []).map(([from, to], i) => inner(adjustmentId(d, i), 'adjustment', [line(from, to)])),
    ...d.darts
      .map((dart, i) =>
        dart.drawn === 'lines'
          ? { ...inner(`${d.id}-dart-${i}`, 'dart', legsOf(dart)), closed: dart.otherTip !== undefined }
          : undefined,
      )
      .filter((l) => l !== undefined),
  ];
};

/** Sides with sides, and the band with the waist edges it is sewn to. */
const matesOf = (pieces: readonly Piece[]): Mates[] => {
  const sides = pieces.flatMap((p) =>
    p.edges.filter((e) => e.role === 'side').map((e) => ({ piece: p.id, edge: e.id, times: 1 })),
  );
  const band = pieces.find((p) => p.part === 'waistband');
  const waists = pieces.flatMap((p) =>
    p.edges
      .filter((e) => e.role === 'waist')
      .map((e) => ({ piece: p.id, edge: e.id, times: (p.half ? 2 : 1) * p.cut.count })),
  );
  const bandEdge = band?.edges.find((e) => e.role === 'band seam');
  return [
    ...(sides.length === 2 ? [{ id: 'side seams', one: [sides[0]], other: [sides[1]], ...stated } as Mates] : []),
    ...(band && bandEdge
      ? [{ id: 'waistband', one: [{ piece: band.id, edge: bandEdge.id, times: 1 }], other: waists, ...stated } as Mates]
      : []),
  ];
};
