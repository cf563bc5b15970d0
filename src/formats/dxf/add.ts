import { Bug } from '../../finding.ts';
import { angleOf, near, same } from '../../geometry/point.ts';
import { pointAt, type Segment } from '../../geometry/segment.ts';
import { cubicsToSpline } from '../../geometry/spline.ts';
import {
  type Affine,
  apply,
  applyToVector,
  compose,
  determinant,
  inverse,
  transformSegment,
} from '../../geometry/transform.ts';
import type { Addition } from '../drawing.ts';
import type { DxfDocument, Placement } from './document.ts';
import type { NewTag, Pen } from './edits.ts';
import type { PathTask } from './entities/shape.ts';
import { turnDegrees } from './entities/shape.ts';
import { asCubics, asPieces } from './entities/vertices.ts';
import { type Fields, fieldsOf } from './fields.ts';
import { lwpolylineTags, pointTags, splineTags, TURNED_ROUND, verticesOf } from './make.ts';
import { heavyVertices } from './replace.ts';
import { type Report, type Tags, textAt, whereOf } from './tags.ts';
import { encodeText } from './text.ts';

/** Puts new entities after those they are like, on their layer and in their block. */
export const addAll = (document: DxfDocument, additions: readonly Addition[], pen: Pen, report: Report): void => {
  const done: { readonly key: string; readonly addition: LocalAddition }[] = [];
  for (const addition of additions) {
    const placement = document.placements.get(addition.like);
    if (placement === undefined) throw new Bug(`an addition is like “${addition.like}”, which is not in the drawing`);
    const { source } = placement;
    // New entities lie in the plane of their block even when the one they are like is seen from behind.
    const behind = source.kind.ownPlane && source.facing === 'back';
    const toDrawing = behind ? compose(placement.toDrawing, TURNED_ROUND) : placement.toDrawing;
    const back = inverse(toDrawing);
    if (back === undefined) {
      report(
        'dxf-flat-insert',
        'error',
        whereOf(document.tags, source.entity.start),
        'Something new belongs in a block placed with a scale of 0 and cannot be drawn there.',
        'Give the insert a scale, or explode it.',
      );
      continue;
    }
    const scale = Math.sqrt(Math.abs(determinant(toDrawing)));
    const local = localAddition(addition, back, scale);
    // A block drawn twice gets its new entity once, whichever placings ask for it.
    if (done.some((d) => d.key === source.key && sameAddition(d.addition, local, 1e-3 / scale))) continue;
    done.push({ key: source.key, addition: local });
    pen.insert(
      afterGroup(document.tags, source.entity.last),
      entityTags(local, placement, document, pen, scale, report),
    );
  }
};

type LocalAddition =
  | { readonly kind: 'path'; readonly segments: readonly Segment[] }
  | { readonly kind: 'point'; readonly at: { x: number; y: number } }
  | {
      readonly kind: 'text';
      readonly at: { x: number; y: number };
      readonly text: string;
      readonly angle: number;
      readonly height: number;
    };

const localAddition = (addition: Addition, back: Affine, scale: number): LocalAddition => {
  if (addition.kind === 'path')
    return { kind: 'path', segments: addition.path.segments.flatMap((s) => transformSegment(back, s)) };
  const at = apply(back, addition.at);
  if (addition.kind === 'point') return { kind: 'point', at };
  const angle = angleOf(applyToVector(back, { x: Math.cos(addition.angle), y: Math.sin(addition.angle) }));
  return { kind: 'text', at, text: addition.text, angle, height: addition.height / scale };
};

const sameAddition = (a: LocalAddition, b: LocalAddition, tolerance: number): boolean => {
  if (a.kind === 'path' && b.kind === 'path') {
    return (
      a.segments.length === b.segments.length &&
      a.segments.every((s, i) => {
        const t = b.segments[i];
        return t !== undefined && [0, 0.5, 1].every((u) => near(pointAt(s, u), pointAt(t, u), tolerance));
      })
    );
  }
  if (a.kind === 'path' || b.kind === 'path' || a.kind !== b.kind || !near(a.at, b.at, tolerance)) return false;
  return a.kind === 'point' || (b.kind === 'text' && a.text === b.text);
};

/** Past the attributes or vertices that go with an entity. */
export const afterGroup = (tags: Tags, from: number): number => {
  let i = from;
  while (i < tags.count && ['ATTRIB', 'VERTEX', 'SEQEND'].includes(textAt(tags, i))) {
    i++;
    while (i < tags.count && tags.code[i] !== 0) i++;
  }
  return i;
};

const entityTags = (
  local: LocalAddition,
  placement: Placement,
  document: DxfDocument,
  pen: Pen,
  scale: number,
  report: Report,
): NewTag[] => {
  const like = placement.source.fields;
  const fine = Math.max(6, pen.places);
  const marked = like.own.some((i) => like.tags.code[i] === 100);
  const start = (type: string, marker: string, geometry: readonly NewTag[]): NewTag[] => [
    { code: 0, text: type },
    ...commonTags(like, document, pen, marked),
    ...(marked ? [{ code: 100, text: marker } satisfies NewTag] : []),
    ...geometry,
  ];
  const flat: NewTag = { code: 30, real: 0, places: 1 };
  if (local.kind === 'point') return start('POINT', 'AcDbPoint', [...pointTags(10, local.at, fine), flat]);
  if (local.kind === 'text') {
    const style = like.entity.type === 'TEXT' ? like.tag(7) : undefined;
    return start('TEXT', 'AcDbText', [
      ...pointTags(10, local.at, fine),
      flat,
      { code: 40, real: local.height, places: fine },
      { code: 1, text: encodeText(local.text, document.header.encoding) },
      { code: 50, real: turnDegrees(local.angle), places: 6 },
      ...(style === undefined ? [] : [{ copy: style }]),
      ...(marked ? [{ code: 100, text: 'AcDbText' } satisfies NewTag] : []),
    ]);
  }
  return pathTags(local.segments, start, like, document, pen, scale, report);
};

const pathTags = (
  segments: readonly Segment[],
  start: (type: string, marker: string, geometry: readonly NewTag[]) => NewTag[],
  like: Fields,
  document: DxfDocument,
  pen: Pen,
  scale: number,
  report: Report,
): NewTag[] => {
  const fine = Math.max(6, pen.places);
  const flat = (code: number): NewTag => ({ code, real: 0, places: 1 });
  const [only] = segments;
  if (only === undefined) throw new Bug('a path without segments was to be added');
  if (segments.length === 1 && only.kind === 'line') {
    return start('LINE', 'AcDbLine', [
      ...pointTags(10, only.from, fine),
      flat(30),
      ...pointTags(11, only.to, fine),
      flat(31),
    ]);
  }
  const { modern } = document.context;
  if (modern && segments.some((s) => s.kind === 'cubic')) {
    return start('SPLINE', 'AcDbSpline', splineTags(cubicsToSpline(asCubics(segments, scale)), pen.places));
  }
  const closed = same(only.from, segments.at(-1)?.to ?? only.to);
  const task: Pick<PathTask, 'fields' | 'scale' | 'context'> = {
    fields: like,
    scale,
    context: { ...document.context, report },
  };
  const vertices = verticesOf(asPieces(segments, task, true), closed);
  if (modern) return start('LWPOLYLINE', 'AcDbPolyline', lwpolylineTags(vertices, closed, pen.places));
  const head: NewTag[] = [
    { code: 66, integer: 1 },
    flat(10),
    flat(20),
    flat(30),
    { code: 70, integer: closed ? 1 : 0 },
  ];
  return [...start('POLYLINE', 'AcDb2dPolyline', head), ...heavyVertices(like, pen, vertices)];
};

/** Codes of an entity's look and place that something like it shares. */
const SHARED = [67, 410, 8, 6, 62, 370, 420, 430, 440, 48, 60];

const commonTags = (like: Fields, document: DxfDocument, pen: Pen, marked: boolean): NewTag[] => {
  const handle = like.tag(5) === undefined ? undefined : pen.freshHandle();
  const owner = ownerTag(like, document);
  return [
    ...(handle === undefined ? [] : [{ code: 5, text: handle } satisfies NewTag]),
    ...(owner === undefined ? [] : [{ copy: owner }]),
    ...(marked ? [{ code: 100, text: 'AcDbEntity' } satisfies NewTag] : []),
    ...SHARED.flatMap((code) => {
      const tag = like.tag(code);
      return tag === undefined ? [] : [{ copy: tag }];
    }),
  ];
};

/** The owner of an entity; an attribute is owned by its insert, and what is new beside it by the insert's owner. */
const ownerTag = (like: Fields, document: DxfDocument): number | undefined => {
  if (like.entity.type !== 'ATTRIB') return like.tag(330);
  const { tags } = document;
  let start = like.entity.start;
  while (start > 0 && !(tags.code[start] === 0 && textAt(tags, start) === 'INSERT')) start--;
  let end = start + 1;
  while (end < tags.count && tags.code[end] !== 0) end++;
  return fieldsOf(tags, { ...like.entity, start, end, last: end, type: 'INSERT' }, document.header.encoding).tag(330);
};
