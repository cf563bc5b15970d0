import { apply } from '../../../geometry/transform.ts';
import type { NewTag, Pen } from '../edits.ts';
import type { Fields } from '../fields.ts';
import { removeEntity } from '../replace.ts';
import { whereOf } from '../tags.ts';
import { motionBetween } from './motion.ts';
import { allSegments, type EntityKind, type PathTask, type ReadContext } from './shape.ts';
import { shapeOfVertices, type Vertex, type VertexWriting, writeVertices } from './vertices.ts';

/** LWPOLYLINE: vertices in line, each a 10, a 20 and what follows of widths (40, 41), bulge (42) and identifier (91). */
export const lwpolylineKind: EntityKind = {
  types: ['LWPOLYLINE'],
  ownPlane: true,
  read: (fields, context) => {
    const vertices = lightVertices(fields);
    const stated = fields.tag(90);
    if (stated !== undefined && fields.numberOf(stated) !== vertices.length) {
      context.report(
        'dxf-vertex-count',
        'warning',
        whereOf(fields.tags, stated),
        `A polyline states ${fields.numberOf(stated)} vertices and has ${vertices.length}; those it has are used.`,
        'Compare the line with the drawing; export it again if vertices are missing.',
      );
    }
    const shape = shapeOfVertices(vertices, (fields.number(70) & 1) !== 0);
    const width = fields.number(43);
    return width > 0 ? { ...shape, width } : shape;
  },
  reshape: (task) => {
    const vertices = lightVertices(task.fields);
    const added = writeVertices(vertices, closedFlag(task.fields), task, lightWriting(task));
    if (added === 'gone') return removeEntity(task);
    const count = task.fields.tag(90);
    if (count !== undefined) task.pen.setInteger(count, vertices.length + added);
    return added;
  },
};

const closedFlag = (fields: Fields): boolean => (fields.number(70) & 1) !== 0;

const VERTEX_CODES = new Set([10, 20, 40, 41, 42, 91]);

const lightVertices = (fields: Fields): Vertex[] => {
  const { tags, own } = fields;
  const starts: number[] = [];
  let opener = 0;
  for (const [k, i] of own.entries()) {
    const code = tags.code[i] ?? 0;
    if (opener === 0 && (code === 10 || code === 20)) opener = code;
    if (opener !== 0 && code === opener) starts.push(k);
  }
  return starts.map((k, n) => lightVertex(fields, k, starts[n + 1] ?? own.length));
};

const lightVertex = (fields: Fields, from: number, to: number): Vertex => {
  const { tags, own } = fields;
  const found = new Map<number, number>();
  let end = own[from] ?? 0;
  for (let k = from; k < to; k++) {
    const i = own[k] ?? 0;
    const code = tags.code[i] ?? 0;
    if (!VERTEX_CODES.has(code)) break;
    if (!found.has(code)) found.set(code, i);
    end = i + 1;
  }
  const number = (code: number): number => {
    const tag = found.get(code);
    return tag === undefined ? 0 : fields.numberOf(tag);
  };
  return {
    at: { x: number(10), y: number(20) },
    bulge: number(42),
    startWidth: number(40),
    endWidth: number(41),
    first: own[from] ?? 0,
    end,
    x: found.get(10),
    y: found.get(20),
    bulgeTag: found.get(42),
  };
};

const lightWriting = ({ fields, pen }: PathTask): VertexWriting => ({
  arcs: true,
  insertAfter: (like, at, bulge, places) => {
    const tags: NewTag[] = [real(10, at.x, like.x), real(20, at.y, like.y)];
    for (let i = like.first; i < like.end; i++) {
      const code = fields.tags.code[i] ?? 0;
      if (code === 40 || code === 41) tags.push({ copy: i });
    }
    if (bulge !== 0) tags.push({ code: 42, real: bulge, places });
    for (let i = like.first; i < like.end; i++) if (fields.tags.code[i] === 91) tags.push({ code: 91, integer: 0 });
    pen.insert(like.end, tags);
  },
  addBulge: (vertex, bulge, places) => {
    let after = vertex.first;
    for (let i = vertex.first; i < vertex.end; i++) if (fields.tags.code[i] !== 91) after = i;
    pen.insert(after + 1, [{ code: 42, real: bulge, places }]);
  },
  remove: (vertex) => pen.remove(vertex.first, vertex.end),
});

const real = (code: number, value: number, like: number | undefined): NewTag =>
  like === undefined ? { code, real: value } : { code, real: value, like };

/** Bits of a POLYLINE's code 70. */
const CLOSED = 1;
const CURVE_FIT = 2;
const SPLINE_FIT = 4;
const IN_SPACE = 8;
const MESHES = 16 | 64;
/** Bit of a VERTEX's code 70: a control point of the frame, not drawn. */
const FRAME = 16;

/**
 * POLYLINE with its VERTEX entities. Of one that was smoothed the smoothed vertices are drawn and the frame's are not.
 * Meshes are no lines and are left alone.
 */
export const polylineKind: EntityKind = {
  types: ['POLYLINE'],
  ownPlane: true,
  read: (fields, context) => {
    const flags = fields.number(70);
    if ((flags & MESHES) !== 0) return undefined;
    const vertices = drawnVertices(fields, context);
    const rises =
      (flags & IN_SPACE) !== 0 && new Set(fields.entity.parts.map((p) => context.fieldsOf(p).number(30))).size > 1;
    if (rises)
      context.report(
        'dxf-not-flat',
        'note',
        {},
        'Some lines change their height (z); a pattern is flat, so the height is left out.',
        'Nothing needs doing; the heights stay in the file.',
      );
    return shapeOfVertices(vertices, (flags & CLOSED) !== 0);
  },
  reshape: (task) => {
    const { fields } = task;
    const vertices = verticesOfSource(task);
    const added = writeVertices(vertices, (fields.number(70) & CLOSED) !== 0, task, heavyWriting(task));
    if (added === 'gone') return removeEntity(task);
    followFrame(task);
    return added;
  },
};

const known = new WeakMap<Fields, readonly Vertex[]>();

/** The vertices as the file that was read has them: the same for all that is written from it. */
const verticesOfSource = ({ fields, context }: PathTask): readonly Vertex[] => {
  const vertices = known.get(fields) ?? drawnVertices(fields, context);
  known.set(fields, vertices);
  return vertices;
};

const drawnVertices = (fields: Fields, context: ReadContext): Vertex[] => {
  const vertices: Vertex[] = [];
  for (const part of fields.entity.parts) {
    const own = context.fieldsOf(part);
    if ((own.number(70) & FRAME) !== 0) continue;
    vertices.push({
      at: { x: own.number(10), y: own.number(20) },
      bulge: (fields.number(70) & IN_SPACE) === 0 ? own.number(42) : 0,
      startWidth: own.number(40, fields.number(40)),
      endWidth: own.number(41, fields.number(41)),
      first: part.start,
      end: part.end,
      x: own.tag(10),
      y: own.tag(20),
      bulgeTag: own.tag(42),
    });
    fields.bad.push(...own.bad);
    fields.commas.push(...own.commas);
  }
  return vertices;
};

const heavyWriting = (task: PathTask): VertexWriting => {
  const { fields, pen } = task;
  return {
    arcs: (fields.number(70) & IN_SPACE) === 0,
    insertAfter: (like, at, bulge, places) => pen.insert(like.end, vertexLike(fields, pen, like, at, bulge, places)),
    addBulge: (vertex, bulge, places) =>
      pen.insert((vertex.y ?? vertex.end - 1) + afterHeight(fields, vertex), [{ code: 42, real: bulge, places }]),
    remove: (vertex) => pen.remove(vertex.first, vertex.end),
  };
};

/** Tags from y on that belong to the point: y itself and z. */
const afterHeight = (fields: Fields, vertex: Vertex): number =>
  vertex.y !== undefined && fields.tags.code[vertex.y + 1] === 30 ? 2 : 1;

/** A VERTEX with the common codes of its neighbour, its own place, bulge and handle. */
const vertexLike = (
  fields: Fields,
  pen: Pen,
  like: Vertex,
  at: { x: number; y: number },
  bulge: number,
  places: number,
): NewTag[] => {
  const tags: NewTag[] = [];
  for (let i = like.first; i < like.end; i++) {
    const code = fields.tags.code[i] ?? 0;
    if (code >= 1000 || code === 42 || code === 91) continue;
    if (code === 5) {
      const handle = pen.freshHandle();
      if (handle !== undefined) tags.push({ code: 5, text: handle });
    } else if (i === like.x) tags.push(real(10, at.x, like.x));
    else if (i === like.y) tags.push(real(20, at.y, like.y));
    else tags.push({ copy: i });
  }
  if (bulge !== 0) tags.push({ code: 42, real: bulge, places });
  return tags;
};

/** The frame of a smoothed polyline moves along when all of it moved as one; otherwise it has lost its meaning and goes. */
const followFrame = (task: PathTask): void => {
  const { fields, context, pen } = task;
  const flagsTag = fields.tag(70);
  const flags = fields.number(70);
  if (flagsTag === undefined || (flags & (CURVE_FIT | SPLINE_FIT)) === 0) return;
  const motion = motionBetween(task.shape.stretches.flat(), allSegments(task));
  for (const part of fields.entity.parts) {
    const own = context.fieldsOf(part);
    if ((own.number(70) & FRAME) === 0) continue;
    const [x, y] = [own.tag(10), own.tag(20)];
    if (motion === undefined) pen.remove(part.start, part.end);
    else if (x !== undefined && y !== undefined) {
      const p = apply(motion, { x: own.numberOf(x), y: own.numberOf(y) });
      pen.setReal(x, p.x);
      pen.setReal(y, p.y);
    }
  }
  if (motion !== undefined) return;
  pen.setInteger(flagsTag, flags & ~(CURVE_FIT | SPLINE_FIT));
  const kind = fields.tag(75);
  if (kind !== undefined) pen.setInteger(kind, 0);
  context.report(
    'dxf-frame-dropped',
    'note',
    whereOf(fields.tags, fields.entity.start),
    'A smoothed polyline was reshaped: it keeps its points and loses the frame it was smoothed from.',
    'Nothing needs doing.',
  );
};
