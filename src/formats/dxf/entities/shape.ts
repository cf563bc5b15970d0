import { distance, type Point } from '../../../geometry/point.ts';
import { arcFromBulge, isDegenerate, line, type Segment } from '../../../geometry/segment.ts';
import type { Pen } from '../edits.ts';
import type { Fields } from '../fields.ts';
import type { Report } from '../tags.ts';

/** What an entity draws, in the file's units and in the entity's own plane (x not yet turned round when seen from behind). */
export type Shape = PathShape | TextShape | PointShape;

export interface PathShape {
  readonly kind: 'path';
  /** For each stretch that the entity knows (between two vertices, or all of an ellipse) its segments: none when it has no length. */
  readonly stretches: readonly (readonly Segment[])[];
  readonly closed: boolean;
  /** Constant width of the line, file units. */
  readonly width?: number;
  readonly arrowStart?: boolean;
  readonly arrowEnd?: boolean;
}

export interface TextShape {
  readonly kind: 'text';
  readonly text: string;
  readonly at: Point;
  readonly angle: number;
  readonly height: number;
  /** Written backwards by its own flags. */
  readonly backwards: boolean;
  readonly labels: readonly string[];
}

export interface PointShape {
  readonly kind: 'point';
  readonly at: Point;
  readonly angle?: number;
}

export interface ReadContext {
  /** For tolerances only: how many millimetres a unit of the file is. */
  readonly millimetresPerUnit: number;
  readonly report: Report;
  /** Whether the file's version has light polylines and splines. */
  readonly modern: boolean;
  /** For parts of an entity, such as the vertices of a POLYLINE. */
  fieldsOf(entity: Fields['entity']): Fields;
}

/** A changed path of one entity, in the entity's own plane and units. */
export interface PathTask {
  readonly fields: Fields;
  readonly shape: PathShape;
  /** For each stretch its new segments, undefined when it did not change. */
  readonly changed: readonly (readonly Segment[] | undefined)[];
  readonly pen: Pen;
  /** Millimetres that one unit is on the drawing, with its insertion scale. */
  readonly scale: number;
  readonly context: ReadContext;
  /** True when the entity's plane is seen from behind. */
  readonly behind: boolean;
}

/** A moved text or point, in the entity's own plane and units. */
export interface PlaceTask {
  readonly fields: Fields;
  readonly pen: Pen;
  readonly at: Point;
  /** Absent: as it was. */
  readonly angle?: number;
}

/** What is known of one kind of entity. */
export interface EntityKind {
  readonly types: readonly string[];
  /** Whether its coordinates lie in its own plane (and so are mirrored by an extrusion 0, 0, −1). */
  readonly ownPlane: boolean;
  /** Undefined when it draws nothing that a pattern could use. */
  read(fields: Fields, context: ReadContext): Shape | undefined;
  /** Writes a changed path; gives how many vertices or knots were added. */
  reshape?(task: PathTask): number;
  place?(task: PlaceTask): void;
}

/** The segment from one vertex to the next: straight, or an arc by its bulge. None when both are in one place. */
export const stretchBetween = (from: Point, to: Point, bulge: number): Segment[] => {
  if (distance(from, to) === 0) return [];
  if (Math.abs(bulge) < 1e-12) return [line(from, to)];
  const bent = arcFromBulge(from, to, bulge);
  return isDegenerate(bent) || !Number.isFinite(bent.centre.x + bent.centre.y) ? [line(from, to)] : [bent];
};

/** All segments in order, the changed in place of the old. */
export const allSegments = (task: PathTask): Segment[] =>
  task.shape.stretches.flatMap((old, i) => [...(task.changed[i] ?? old)]);

export const degrees = (radians: number): number => (radians * 180) / Math.PI;
export const radians = (degs: number): number => (degs * Math.PI) / 180;

/** Degrees in 0 … 360 as DXF writes angles. */
export const turnDegrees = (angle: number): number => {
  const d = degrees(angle) % 360;
  return d < 0 ? d + 360 : d;
};
