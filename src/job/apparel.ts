import { basename, extname } from 'node:path';
import type { Finding } from '../finding.ts';
import type { Drawing } from '../formats/drawing.ts';
import type {
  ApparelLine,
  ApparelNotch,
  ApparelOptions,
  ApparelPattern,
  ApparelPiece,
  ApparelText,
} from '../formats/dxf/apparel-pattern.ts';
import { centreOf } from '../geometry/bounds.ts';
import { nearestOnPath, type Path, pathBounds, pointAtDistance } from '../geometry/path.ts';
import { dot, left, type Point, size, subtract, unit } from '../geometry/point.ts';
import { pointAt } from '../geometry/segment.ts';
import { outlineSegments, ringRange } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { InnerLine, Notch, Outline, Piece } from '../pattern/piece.ts';

/* A pattern as the apparel exchange layout can say it. */

/** What is printed beside a line whose meaning only a layer, a group or the pattern sheet told so far. */
const SAID: Partial<Record<InnerLine['kind'], string>> = {
  adjustment: 'lengthen or shorten here',
  centre: 'centre line',
  tuck: 'tuck',
};
/** Height of such letters, and their distance from the line, mm. */
const LETTERS = 5;
const ABOVE = 2;
/** A way shorter than this has no sure direction, mm. */
const LEAST_WAY = 0.5;

export interface ApparelFile {
  /** Beside the pattern's own name, so that it is taken for neither the pattern nor a plot: 'skirt.apparel.dxf'. */
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly findings: readonly Finding[];
}

/** The pattern as an exchange file of the apparel layout. */
export const apparelFile = async (
  pattern: Pattern,
  drawing: Drawing,
  options: ApparelOptions = {},
): Promise<ApparelFile> => {
  const { writeApparel } = await import('../formats/dxf/apparel.ts');
  const name = `${basename(pattern.fileName, extname(pattern.fileName))}.apparel.dxf`;
  const { bytes, findings } = writeApparel(apparelOf(pattern, drawing), options);
  return { name, bytes, findings: findings.map((f) => ({ ...f, where: { file: name, ...f.where } })) };
};

export const apparelOf = (pattern: Pattern, drawing: Drawing): ApparelPattern => ({
  style: pattern.style,
  size: pattern.size,
  pieces: pattern.pieces.map((p) => pieceOf(p, drawing)),
});

const pieceOf = (piece: Piece, drawing: Drawing): ApparelPiece => {
  const boundary = pathOfOutline(piece.cuttingLine ?? piece.seamLine);
  const mirror = piece.half ? foldEdge(piece) : undefined;
  return {
    name: piece.name || piece.id,
    category: piece.part === 'unknown' ? '' : piece.part,
    material: piece.cut.cloth,
    quantity: piece.cut.count,
    mirroredPair: piece.cut.mirrored && !piece.half,
    boundary,
    ...(piece.cuttingLine ? { sewLine: pathOfOutline(piece.seamLine) } : {}),
    withoutAllowance: !piece.cuttingLine && piece.seamLineFrom === 'drawn',
    ...(mirror ? { mirrorLine: mirror } : {}),
    ...(piece.grainline ? { grain: upwards(piece, piece.grainline.from, piece.grainline.to) } : {}),
    internals: internalsOf(piece),
    notches: piece.notches.flatMap((n) => notchesOf(n, piece, boundary, drawing)),
    drills: drillsOf(piece),
    texts: [...piece.texts, ...labelsOf(piece)],
  };
};

const pathOfOutline = (outline: Outline): Path => ({ segments: outlineSegments(outline), closed: true });

const upwards = ({ upright }: Piece, a: Point, b: Point): readonly [Point, Point] =>
  dot(subtract(b, a), upright.up) >= 0 ? [a, b] : [b, a];

/** The fold edge on the outline that is cut, from end to end. */
const foldEdge = (piece: Piece): readonly [Point, Point] | undefined => {
  const edge = piece.edges.find((e) => e.role === 'fold');
  if (!edge) return undefined;
  const beside = piece.cuttingLine && edge.cuttingFirst !== undefined && edge.cuttingLast !== undefined;
  const outline = beside ? (piece.cuttingLine as Outline) : piece.seamLine;
  const [first, last] = beside ? [edge.cuttingFirst as number, edge.cuttingLast as number] : [edge.first, edge.last];
  const segments = ringRange(first, last, outline.spans.length).flatMap((i) => outline.spans[i]?.segments ?? []);
  const [from, to] = [segments[0]?.from, segments[segments.length - 1]?.to];
  return from && to ? [from, to] : undefined;
};

const pathOfLine = (l: InnerLine): Path => ({ segments: l.spans.flatMap((s) => [...s.segments]), closed: l.closed });

const internalsOf = (piece: Piece): ApparelLine[] => {
  const grain = new Set(piece.grainline?.lines ?? []);
  const marks = new Set(piece.notches.flatMap((n) => n.marks));
  return piece.lines
    .filter((l) => l.kind !== 'grain' && l.kind !== 'fold mark' && l.kind !== 'drill' && !grain.has(l.id))
    .filter((l) => l.kind !== 'notch' || !marks.has(l.id))
    .map((l) => ({ path: pathOfLine(l), cutout: l.kind === 'cutout' }))
    .filter((l) => l.path.segments.length > 0);
};

const drillsOf = (piece: Piece): Point[] => [
  ...piece.points.filter((p) => p.kind === 'drill').map((p) => p.at),
  ...piece.lines.filter((l) => l.kind === 'drill').map((l) => centreOf(pathBounds(pathOfLine(l)))),
];

/** A point for each of a notch's marks; a notch that is cut into the outline is in the boundary already. */
const notchesOf = (notch: Notch, piece: Piece, boundary: Path, drawing: Drawing): ApparelNotch[] => {
  const places = notch.marks.flatMap((id) => {
    const point = piece.points.find((p) => p.id === id);
    if (point) return [point.at];
    const line = piece.lines.find((l) => l.id === id);
    const ends = line ? pathOfLine(line).segments.flatMap((s) => [s.from, s.to]) : [];
    return ends.length === 0 ? [] : [nearestTo(boundary, ends)];
  });
  const along = places.flatMap((p) => nearestOnPath(boundary, p)?.along ?? []).sort((a, b) => a - b);
  const apart = along.filter((a, i) => i === 0 || a - (along[i - 1] as number) > 2);
  const on = apart.flatMap((a) => pointAtDistance(boundary, a) ?? []);
  const middle = on[Math.floor(on.length / 2)];
  if (!middle) return [];
  // Towards the place on the seam line, which need not lie square to the cutting line.
  const towards = subtract(seamPlace(notch, piece) ?? middle.point, middle.point);
  const inward = on.length === 1 && size(towards) > LEAST_WAY ? unit(towards) : undefined;
  return on.map((p) => ({ at: p.point, inward: inward ?? left(p.tangent), shape: shapeOf(notch, drawing) }));
};

const seamPlace = ({ at }: Notch, piece: Piece): Point | undefined => {
  const segment = piece.seamLine.spans[at.span]?.segments[0];
  return segment && pointAt(segment, at.t);
};

const nearestTo = (path: Path, points: readonly Point[]): Point => {
  const away = (p: Point): number => nearestOnPath(path, p)?.distance ?? Infinity;
  return points.reduce((a, b) => (away(b) < away(a) ? b : a));
};

/** Numbered layers of the layout itself keep their shape; any other notch is a slit. */
const shapeOf = (notch: Notch, drawing: Drawing): ApparelNotch['shape'] => {
  const drawn = drawing.drawables.find((d) => notch.marks.includes(d.id));
  const shapes = { '80': 't', '81': 'castle', '82': 'check', '83': 'u' } as const;
  return shapes[drawn?.layer as keyof typeof shapes] ?? 'slit';
};

/** Words for lines that no printed text names: a layer's name does not survive in numbered layers. */
const labelsOf = (piece: Piece): ApparelText[] =>
  piece.lines.flatMap((l) => {
    const level = piece.levels.find((v) => v.line === l.id);
    const says = level ? `${level.name} line` : SAID[l.kind];
    const isPrinted = [...l.evidence, ...(level?.evidence ?? [])].some((e) => /^“/.test(e.says));
    const segments = pathOfLine(l).segments;
    const [from, to] = [segments[0]?.from, segments[segments.length - 1]?.to];
    if (says === undefined || isPrinted || !from || !to) return [];
    const [a, b] =
      dot(subtract(to, from), { x: piece.upright.up.y, y: -piece.upright.up.x }) >= 0 ? [from, to] : [to, from];
    const angle = Math.atan2(b.y - a.y, b.x - a.x);
    const at = {
      x: a.x + (b.x - a.x) * 0.4 - ABOVE * Math.sin(angle),
      y: a.y + (b.y - a.y) * 0.4 + ABOVE * Math.cos(angle),
    };
    return [{ text: says, at, angle, height: LETTERS }];
  });
