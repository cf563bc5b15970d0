import { same } from '../../geometry/point.ts';
import type { Segment } from '../../geometry/segment.ts';
import { cubicsToSpline } from '../../geometry/spline.ts';
import { transformSegment } from '../../geometry/transform.ts';
import type { NewTag, Pen } from './edits.ts';
import type { PathTask } from './entities/shape.ts';
import { asCubics, asPieces } from './entities/vertices.ts';
import type { Fields } from './fields.ts';
import { BEHIND, lwpolylineTags, type PolylineVertex, splineTags, TURNED_ROUND, verticesOf } from './make.ts';
import { textAt, whereOf } from './tags.ts';

/** Common codes of any entity: handle, owner, layer, line type, colour, weight, visibility, space. */
const COMMON = new Set([5, 6, 8, 48, 60, 62, 67, 330, 347, 370, 390, 410, 420, 430, 440]);

/** Takes the entity out of the file, since nothing is left of its line. */
export const removeEntity = (task: PathTask): number => {
  const { entity, tags } = task.fields;
  task.pen.remove(entity.start, entity.last);
  task.context.report(
    'dxf-entity-vanished',
    'note',
    whereOf(tags, entity.start),
    `Nothing is left of a ${entity.type}; it is taken out of the drawing.`,
    'Nothing needs doing.',
  );
  return 0;
};

/**
 * Puts another kind of entity in the place of one that cannot hold its new shape: a polyline for lines and arcs, a
 * spline for curves; before R13 a POLYLINE with arcs. Handle, layer, colour and all other common tags stay, and so
 * does extended data. Gives how many points were added to the two ends.
 */
export const replaceEntity = (task: PathTask, segments: readonly Segment[]): number => {
  const { context, behind, scale, pen } = task;
  const closed = same(segments[0]?.from ?? { x: 0, y: 0 }, segments.at(-1)?.to ?? { x: 1, y: 0 });
  if (context.modern && segments.some((s) => s.kind === 'cubic')) {
    const world = behind ? segments.flatMap((s) => transformSegment(TURNED_ROUND, s)) : segments;
    const spline = cubicsToSpline(asCubics(world, scale));
    exchange(task, 'SPLINE', 'AcDbSpline', splineTags(spline, pen.places));
    return spline.controls.length - 2;
  }
  const vertices = verticesOf(asPieces(segments, task, true), closed);
  const plane = behind ? BEHIND : [];
  if (context.modern) {
    exchange(task, 'LWPOLYLINE', 'AcDbPolyline', [...lwpolylineTags(vertices, closed, pen.places), ...plane]);
  } else {
    const head: NewTag[] = [
      { code: 66, integer: 1 },
      ...heavyPoint({ at: { x: 0, y: 0 }, bulge: 0 }, 1),
      { code: 70, integer: closed ? 1 : 0 },
      ...plane,
    ];
    exchange(task, 'POLYLINE', 'AcDb2dPolyline', head);
    pen.insert(task.fields.entity.end, heavyVertices(task.fields, pen, vertices));
  }
  return vertices.length - 2;
};

/** The type, and the tags after the common ones, of an entity whose common tags and extended data stay as they are. */
const exchange = (task: PathTask, type: string, marker: string, geometry: readonly NewTag[]): void => {
  const { fields, pen } = task;
  const { tags, entity, own } = fields;
  pen.setText(entity.start, type);
  const markers = own.filter((i) => tags.code[i] === 100);
  const first = markers[0];
  const ownMarker = first !== undefined && textAt(tags, first) === 'AcDbEntity' ? markers[1] : first;
  if (ownMarker !== undefined) {
    pen.remove(ownMarker, fields.end);
    pen.insert(ownMarker, [{ code: 100, text: marker }, ...geometry]);
    return;
  }
  for (const i of own) if (!COMMON.has(tags.code[i] ?? -1) && tags.code[i] !== 100) pen.remove(i, i + 1);
  pen.insert(fields.end, geometry);
};

const heavyPoint = (vertex: PolylineVertex, places: number): NewTag[] => [
  { code: 10, real: vertex.at.x, places },
  { code: 20, real: vertex.at.y, places },
  { code: 30, real: 0, places: 1 },
];

/** VERTEX entities and SEQEND, on the layer of the entity `like`. */
export const heavyVertices = (like: Fields, pen: Pen, vertices: readonly PolylineVertex[]): NewTag[] => {
  const layer = like.tag(8);
  const common = (): NewTag[] => {
    const handle = like.tag(5) === undefined ? undefined : pen.freshHandle();
    return [
      ...(handle === undefined ? [] : [{ code: 5, text: handle } satisfies NewTag]),
      ...(layer === undefined ? [] : [{ copy: layer }]),
    ];
  };
  return [
    ...vertices.flatMap((v) => [
      { code: 0, text: 'VERTEX' } satisfies NewTag,
      ...common(),
      ...heavyPoint(v, Math.max(6, pen.places)),
      ...(v.bulge === 0 ? [] : [{ code: 42, real: v.bulge, places: 8 } satisfies NewTag]),
    ]),
    { code: 0, text: 'SEQEND' },
    ...common(),
  ];
};
