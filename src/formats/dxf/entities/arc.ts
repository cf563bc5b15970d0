import { angleOf, distance, near, subtract } from '../../../geometry/point.ts';
import { type ArcSegment, arcAbout, radiusOf, type Segment } from '../../../geometry/segment.ts';
import { removeEntity, replaceEntity } from '../replace.ts';
import { allSegments, type EntityKind, type PathTask, radians, turnDegrees } from './shape.ts';

/** ARC: centre 10/20, radius 40, from angle 50 anticlockwise to 51, degrees. */
export const arcKind: EntityKind = {
  types: ['ARC'],
  ownPlane: true,
  read: (fields) => {
    const radius = Math.abs(fields.number(40));
    if (radius === 0) return { kind: 'path', stretches: [[]], closed: false };
    const start = fields.number(50);
    let sweep = (fields.number(51) - start) % 360;
    if (sweep <= 0) sweep += 360;
    const centre = { x: fields.number(10), y: fields.number(20) };
    return {
      kind: 'path',
      stretches: [[arcAbout(centre, radius, radians(start), radians(sweep))]],
      closed: sweep === 360,
    };
  },
  reshape: (task) => {
    const segments = allSegments(task);
    if (segments.length === 0) return removeEntity(task);
    const arc = oneArc(segments);
    if (arc === undefined) return replaceEntity(task, segments);
    setCircle(task, arc);
    const [from, to] = arc.sweep > 0 ? [arc.from, arc.to] : [arc.to, arc.from];
    setAngle(task, 50, turnDegrees(angleOf(subtract(from, arc.centre))), radiusOf(arc));
    setAngle(task, 51, turnDegrees(angleOf(subtract(to, arc.centre))), radiusOf(arc));
    return 0;
  },
};

/** CIRCLE: centre 10/20, radius 40. */
export const circleKind: EntityKind = {
  types: ['CIRCLE'],
  ownPlane: true,
  read: (fields) => {
    const radius = Math.abs(fields.number(40));
    if (radius === 0) return { kind: 'path', stretches: [[]], closed: true };
    const centre = { x: fields.number(10), y: fields.number(20) };
    return { kind: 'path', stretches: [[arcAbout(centre, radius, 0, 2 * Math.PI)]], closed: true };
  },
  reshape: (task) => {
    const segments = allSegments(task);
    if (segments.length === 0) return removeEntity(task);
    const arc = oneArc(segments);
    if (arc === undefined || Math.abs(Math.abs(arc.sweep) - 2 * Math.PI) > 1e-9) return replaceEntity(task, segments);
    setCircle(task, arc);
    return 0;
  },
};

/** Millimetres within which arcs count as lying on one circle. */
const ONE_CIRCLE = 1e-5;

/** The one arc that the segments make up, if they do. */
const oneArc = (segments: readonly Segment[]): ArcSegment | undefined => {
  const first = segments[0];
  if (first?.kind !== 'arc') return undefined;
  let sweep = 0;
  for (const s of segments) {
    if (s.kind !== 'arc' || !near(s.centre, first.centre, ONE_CIRCLE)) return undefined;
    if (Math.abs(radiusOf(s) - radiusOf(first)) > ONE_CIRCLE || s.sweep * first.sweep < 0) return undefined;
    sweep += s.sweep;
  }
  if (Math.abs(sweep) > 2 * Math.PI + 1e-9) return undefined;
  return { ...first, to: segments.at(-1)?.to ?? first.to, sweep };
};

const setCircle = ({ fields, pen }: PathTask, arc: ArcSegment): void => {
  const values: readonly (readonly [number, number])[] = [
    [10, arc.centre.x],
    [20, arc.centre.y],
    [40, distance(arc.centre, arc.from)],
  ];
  for (const [code, value] of values) {
    const tag = fields.tag(code);
    if (tag !== undefined) pen.setReal(tag, value);
    else pen.insert(fields.end, [{ code, real: value }]);
  }
};

/** An angle gets the decimals that hold the end of the arc, a radius away, within 0.0005 mm. */
const setAngle = ({ fields, pen, scale }: PathTask, code: number, degs: number, radius: number): void => {
  const tag = fields.tag(code);
  const places = Math.max(0, Math.ceil(Math.log10((radius * scale * Math.PI) / 180 / 0.001)));
  if (tag !== undefined) {
    const old = fields.numberOf(tag);
    const same = Math.abs(((((degs - old) % 360) + 540) % 360) - 180) < 1e-10;
    if (!same) pen.setReal(tag, degs, places);
  } else pen.insert(fields.end, [{ code, real: degs, places: Math.max(6, places) }]);
};
