import type { Point } from '../geometry/point.ts';
import { cross } from '../geometry/point.ts';
import type { PartName } from '../pattern/piece.ts';
import type { TemplateFacts } from './align.ts';
import { readBand } from './band.ts';
import type { Context } from './context.ts';
import { isCutOtherwise } from './context.ts';
import { judge } from './judging.ts';
import { readingUp } from './labels.ts';
import type { ReadPiece, Sorted } from './piece-reading.ts';
import { readPlain } from './plain.ts';
import { readTemplate } from './read-template.ts';
import type { RoleReading, Stated } from './roles.ts';
import type { Shape } from './shape.ts';
import { readSkirt } from './skirt.ts';
import type { Stroke } from './strokes.ts';
import { directionOf, distanceToStroke, middleOfStroke } from './strokes.ts';
import { placeAt } from './trace.ts';

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

/** The roles of a piece's edges, by what it is of the garment. */
export const rolesOf = (p: Omit<ReadPiece, 'roles'>, template: TemplateFacts, context: Context): RoleReading => {
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
  const read = isCutOtherwise(p.part.part, context) ? undefined : readTemplate(p.shape, p.part.part, template);
  if (read) return read;
  const plain = readPlain(p.shape, p.claims.edges, p.grain, letters, facts, up);
  return p.part.part === 'pocket' ? asPocket(plain) : plain;
};

/** What nothing else is said of on a pocket is sewn on, or finished, where the maker puts it. */
const asPocket = (read: RoleReading): RoleReading => ({
  ...read,
  roles: read.roles.map((r) =>
    r.role === 'unknown' ? { role: 'free', ...judge([{ says: 'it is an edge of a pocket', weight: 0.6 }]) } : r,
  ),
});

/** A line said to be the centre, or an unnamed one, that runs down the middle from edge to edge. */
export const centreLineOf = (p: Sorted): { from: Point; to: Point } | undefined => {
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
