import { angleOf, type Point, subtract } from '../../geometry/point.ts';
import { type ArcSegment, radiusOf, type Segment } from '../../geometry/segment.ts';
import { cubicsToSpline } from '../../geometry/spline.ts';
import type { Drawable, PathDrawable, TextDrawable } from '../drawing.ts';
import type { NewTag } from './edits.ts';
import { turnDegrees } from './entities/shape.ts';
import { asCubics } from './entities/vertices.ts';
import { integer, lwpolylineTags, PLACES, pointTags, real, splineTags, text, verticesOf } from './make.ts';
import type { Handles, LayerNames } from './names.ts';
import { encodeText } from './text.ts';

/** Drawables as entities of a new R2000 file. */

export const entityHead = (
  type: string,
  layer: string,
  owner: string,
  ids: Handles,
  look: readonly NewTag[],
): NewTag[] => [text(0, type), text(5, ids.next()), text(330, owner), text(100, 'AcDbEntity'), text(8, layer), ...look];

export const drawableTags = (d: Drawable, owner: string, ids: Handles, layers: LayerNames): NewTag[] => {
  const head = (type: string, marker: string, geometry: readonly NewTag[]): NewTag[] => [
    ...entityHead(type, layers.get(d.layer) ?? '0', owner, ids, lookTags(d)),
    text(100, marker),
    ...geometry,
  ];
  if (d.kind === 'path') return pathTags(d, head);
  if (d.kind === 'text') return textTags(d, head);
  const angle = d.angle === undefined ? [] : [real(50, turnDegrees(d.angle))];
  return head('POINT', 'AcDbPoint', [...pointTags(10, d.at, PLACES), real(30, 0), ...angle]);
};

/** Line weights that DXF knows, hundredths of a millimetre (code 370; AutoCAD DXF reference, from memory). */
const WEIGHTS = [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];

const lookTags = (d: Drawable): NewTag[] => {
  const weight = d.style.width * 100;
  const nearest = WEIGHTS.reduce((best, w) => (Math.abs(w - weight) < Math.abs(best - weight) ? w : best), 0);
  return [...(d.style.dashed ? [text(6, 'DASHED')] : []), ...(weight > 0 ? [integer(370, nearest)] : [])];
};

type Head = (type: string, marker: string, geometry: readonly NewTag[]) => NewTag[];

const pathTags = ({ path }: PathDrawable, head: Head): NewTag[] => {
  const { segments, closed } = path;
  const [only] = segments;
  if (segments.length === 1 && only?.kind === 'line') {
    return head('LINE', 'AcDbLine', [
      ...pointTags(10, only.from, PLACES),
      real(30, 0),
      ...pointTags(11, only.to, PLACES),
      real(31, 0),
    ]);
  }
  if (segments.length === 1 && only?.kind === 'arc') return arcTags(only, head);
  const bulged = segments.filter((s) => s.kind !== 'cubic');
  if (bulged.length === segments.length && segments.every(bulges)) {
    return head('LWPOLYLINE', 'AcDbPolyline', lwpolylineTags(verticesOf(bulged, closed), closed, PLACES));
  }
  return head('SPLINE', 'AcDbSpline', splineTags(cubicsToSpline(asCubics(segments, 1)), PLACES));
};

/** An arc of nearly a full turn has no bulge. */
const bulges = (s: Segment): boolean => s.kind !== 'arc' || Math.abs(s.sweep) < 1.75 * Math.PI;

const arcTags = (s: ArcSegment, head: Head): NewTag[] => {
  const circle = [...pointTags(10, s.centre, PLACES), real(30, 0), real(40, radiusOf(s))];
  if (Math.abs(s.sweep) >= 2 * Math.PI - 1e-12) return head('CIRCLE', 'AcDbCircle', circle);
  const [from, to] = s.sweep > 0 ? [s.from, s.to] : [s.to, s.from];
  const angle = (p: Point): number => turnDegrees(angleOf(subtract(p, s.centre)));
  return head('ARC', 'AcDbCircle', [
    ...circle,
    text(100, 'AcDbArc'),
    real(50, angle(from), 10),
    real(51, angle(to), 10),
  ]);
};

const textTags = (d: TextDrawable, head: Head): NewTag[] => {
  const ascii = (value: string): string => encodeText(value, { name: 'ascii' });
  const at = [...pointTags(10, d.at, PLACES), real(30, 0), real(40, d.height > 0 ? d.height : 2.5)];
  const lines = d.text.split(/\r\n|\r|\n/);
  if (lines.length === 1) {
    return head('TEXT', 'AcDbText', [
      ...at,
      text(1, ascii(d.text)),
      real(50, turnDegrees(d.angle)),
      ...(d.mirrored ? [integer(71, 2)] : []),
      text(100, 'AcDbText'),
    ]);
  }
  const escaped = lines.map((l) => ascii(l.replace(/[\\{}]/g, (c) => `\\${c}`))).join('\\P');
  return head('MTEXT', 'AcDbMText', [
    ...at,
    real(41, 0),
    integer(71, 1),
    integer(72, 1),
    ...longText(escaped),
    real(50, turnDegrees(d.angle)),
  ]);
};

/** Pieces of 250 letters (3) before the last (1). */
const longText = (value: string): NewTag[] => {
  const tags: NewTag[] = [];
  let rest = value;
  while (rest.length > 250) {
    tags.push(text(3, rest.slice(0, 250)));
    rest = rest.slice(250);
  }
  return [...tags, text(1, rest)];
};
