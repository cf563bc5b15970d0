import type { Affine } from '../../geometry/transform.ts';
import type { Drawable, DrawingUnits } from '../drawing.ts';
import type { EntityKind, ReadContext, Shape } from './entities/shape.ts';
import type { Facing, Fields } from './fields.ts';
import type { Header } from './header.ts';
import type { Tags } from './tags.ts';
import type { Entity } from './walk.ts';

/** An entity that was read: one for each definition, however often it is placed. */
export interface Source {
  /** Its handle, or its place in the file; unique. */
  readonly key: string;
  readonly entity: Entity;
  readonly kind: EntityKind;
  readonly fields: Fields;
  readonly shape: Shape;
  readonly facing: Facing;
}

/** Where a drawable comes from: its entity and the way from there to millimetres on the drawing. */
export interface Placement {
  readonly source: Source;
  readonly drawable: Drawable;
  /** From the entity's own plane and units to the drawing. */
  readonly toDrawing: Affine;
  /** For each segment of the drawable's path the stretch of the entity it belongs to. */
  readonly stretchOf: readonly number[];
}

/** What a Drawing read from DXF keeps for writing back. */
export interface DxfDocument {
  readonly kind: 'dxf';
  readonly tags: Tags;
  readonly header: Header;
  readonly units: DrawingUnits;
  readonly context: ReadContext;
  readonly placements: ReadonlyMap<string, Placement>;
  /** For each source, by its key, how often it is placed. */
  readonly timesDrawn: ReadonlyMap<string, number>;
}

export const isDxfDocument = (document: unknown): document is DxfDocument =>
  typeof document === 'object' && document !== null && (document as { kind?: unknown }).kind === 'dxf';
