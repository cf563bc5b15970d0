import { Bug, type Finding } from '../../finding.ts';
import { angleOf, near, type Point, same } from '../../geometry/point.ts';
import { pointAt, type Segment } from '../../geometry/segment.ts';
import { type Affine, apply, applyToVector, determinant, inverse, transformSegment } from '../../geometry/transform.ts';
import type { Drawing, DrawingChanges, PathChange, PlaceChange, WriteResult } from '../drawing.ts';
import { addAll } from './add.ts';
import { type DxfDocument, isDxfDocument, type Placement } from './document.ts';
import { type Pen, penFor } from './edits.ts';
import { freeHandle, integersOnly } from './habits.ts';
import { decimalsFor } from './numbers.ts';
import { removeAll } from './remove.ts';
import { type Report, reporter, whereOf } from './tags.ts';

/** The file that was read with only what changed spliced in; with no changes the very bytes. */
export const patchDxf = (drawing: Drawing, changes: DrawingChanges): WriteResult => {
  const document = drawing.document;
  if (!isDxfDocument(document)) throw new Bug('a drawing that was not read from DXF was to be written back as DXF');
  const findings: Finding[] = [];
  const report = reporter(drawing.fileName, findings);
  const addedVertices = new Map<string, number>();
  const paths = grouped(document, changes.paths, (p, c) => localPath(p, c, document, report));
  const places = grouped(document, new Map([...changes.texts, ...changes.points]), (p, c) =>
    localPlace(p, c, document, report),
  );
  const pen = penOf(document, [...paths.values(), ...places.values()].flat(), changes);

  for (const group of paths.values()) {
    if (agreed(group, samePath, document, report)) {
      const added = reshape(group[0] as Local<LocalPath>, document, pen, report);
      for (const one of group) addedVertices.set(one.id, added);
    }
  }
  for (const group of places.values()) {
    if (agreed(group, samePlace, document, report)) place(group[0] as Local<PlaceChange>, pen);
  }
  addAll(document, changes.additions, pen, report);
  removeAll(document, changes.removals ?? new Set(), pen, report);
  if (!pen.touched) return { bytes: document.tags.bytes, findings, addedVertices };
  const bytes = pen.assemble();
  if (pen.widened) {
    report(
      'dxf-more-decimals',
      'note',
      {},
      `Changed numbers have up to ${pen.places} decimals, more than the file had, so that they are right to 0.001 mm.`,
      'Nothing needs doing.',
    );
  }
  return { bytes, findings, addedVertices };
};

/** A change as it looks in the plane and units of its entity. */
interface Local<T> {
  readonly id: string;
  readonly placement: Placement;
  readonly change: T;
}

/** For each stretch of the entity its new segments; undefined when it did not change. */
type LocalPath = readonly (readonly Segment[] | undefined)[];

/** Changes by the entity they concern: one that is drawn several times may be changed several times. */
const grouped = <C, T>(
  document: DxfDocument,
  changes: ReadonlyMap<string, C>,
  toLocal: (placement: Placement, change: C) => T | undefined,
): Map<string, Local<T>[]> => {
  const groups = new Map<string, Local<T>[]>();
  for (const [id, change] of changes) {
    const placement = document.placements.get(id);
    if (placement === undefined) throw new Bug(`a change names “${id}”, which is not in the drawing`);
    const local = toLocal(placement, change);
    if (local === undefined) continue;
    const { key } = placement.source;
    const group = groups.get(key);
    if (group) group.push({ id, placement, change: local });
    else groups.set(key, [{ id, placement, change: local }]);
  }
  return groups;
};

const backFrom = (placement: Placement, document: DxfDocument, report: Report): Affine | undefined => {
  const back = inverse(placement.toDrawing);
  if (back === undefined) {
    report(
      'dxf-flat-insert',
      'error',
      whereOf(document.tags, placement.source.entity.start),
      'A line lies in a block placed with a scale of 0 and cannot be changed there.',
      'Give the insert a scale, or explode it.',
    );
  }
  return back;
};

const localPath = (
  placement: Placement,
  change: PathChange,
  document: DxfDocument,
  report: Report,
): LocalPath | undefined => {
  const { drawable, source, stretchOf } = placement;
  if (drawable.kind !== 'path' || source.shape.kind !== 'path') throw new Bug(`“${drawable.id}” is no path`);
  const old = drawable.path.segments;
  if (change.segments.length !== old.length) {
    throw new Bug(`a change of “${drawable.id}” has ${change.segments.length} segments for ${old.length}`);
  }
  const touched = new Set<number>();
  for (const [i, now] of change.segments.entries()) {
    if (!(now.length === 1 && sameSegment(now[0], old[i]))) touched.add(stretchOf[i] ?? 0);
  }
  if (touched.size === 0) return undefined;
  const back = backFrom(placement, document, report);
  if (back === undefined) return undefined;
  const local = new Map<number, Segment[]>([...touched].map((k) => [k, []]));
  for (const [i, now] of change.segments.entries()) {
    const into = local.get(stretchOf[i] ?? 0);
    if (into !== undefined) for (const s of now) into.push(...transformSegment(back, s));
  }
  return source.shape.stretches.map((_, k) => local.get(k));
};

const sameSegment = (a: Segment | undefined, b: Segment | undefined): boolean => {
  if (a === b) return true;
  if (a === undefined || b === undefined || a.kind !== b.kind || !same(a.from, b.from) || !same(a.to, b.to))
    return false;
  if (a.kind === 'arc' && b.kind === 'arc') return same(a.centre, b.centre) && a.sweep === b.sweep;
  if (a.kind === 'cubic' && b.kind === 'cubic') return same(a.control1, b.control1) && same(a.control2, b.control2);
  return true;
};

const localPlace = (
  placement: Placement,
  change: PlaceChange,
  document: DxfDocument,
  report: Report,
): PlaceChange | undefined => {
  const { drawable } = placement;
  if (drawable.kind === 'path') throw new Bug(`“${drawable.id}” is a path, not a text or point`);
  const turned = change.angle !== undefined && change.angle !== drawable.angle;
  if (same(change.at, drawable.at) && !turned) return undefined;
  const back = backFrom(placement, document, report);
  if (back === undefined) return undefined;
  const at = apply(back, change.at);
  if (!turned || change.angle === undefined) return { at };
  return { at, angle: angleOf(applyToVector(back, { x: Math.cos(change.angle), y: Math.sin(change.angle) })) };
};

/** Placings of one shape whose changes lie this near, mm, agree. */
const AGREED = 1e-3;

const samePath = (a: LocalPath, b: LocalPath, tolerance: number): boolean =>
  a.every((one, k) => {
    const other = b[k];
    if (one === undefined || other === undefined) return one === other;
    return (
      one.length === other.length &&
      one.every((s, i) => {
        const t = other[i];
        return t !== undefined && [0, 0.25, 0.5, 0.75, 1].every((u) => near(pointAt(s, u), pointAt(t, u), tolerance));
      })
    );
  });

const samePlace = (a: PlaceChange, b: PlaceChange, tolerance: number): boolean =>
  near(a.at, b.at, tolerance) && Math.abs(Math.sin(((a.angle ?? 0) - (b.angle ?? 0)) / 2)) < 1e-6;

/** Whether a shape that is drawn several times may change: all its changes must say the same of it. */
const agreed = <T>(
  group: readonly Local<T>[],
  alike: (a: T, b: T, tolerance: number) => boolean,
  document: DxfDocument,
  report: Report,
): boolean => {
  const first = group[0];
  if (first === undefined) return false;
  const { source } = first.placement;
  const times = document.timesDrawn.get(source.key) ?? 1;
  if (times === 1 && group.length === 1) return true;
  const where = { ...whereOf(document.tags, source.entity.start), entity: source.entity.type };
  const tolerance = AGREED / scaleOf(first.placement);
  if (group.some((one) => !alike(first.change, one.change, tolerance))) {
    report(
      'dxf-shared-shape',
      'error',
      where,
      `One ${source.entity.type} is drawn ${times} times, by one block placed as often, and the placings would have to change differently. It is left as it was.`,
      'Explode the block, or give each placing a block of its own, and run again.',
    );
    return false;
  }
  if (times > group.length) {
    report(
      'dxf-drawn-twice',
      'note',
      where,
      `A ${source.entity.type} is drawn ${times} times by one block; all of them change together.`,
      'Give a placing a block of its own if it should stay as it was.',
    );
  }
  return true;
};

/** Millimetres on the drawing of one unit of the entity. */
const scaleOf = (placement: Placement): number => Math.sqrt(Math.abs(determinant(placement.toDrawing)));

const penOf = (document: DxfDocument, locals: readonly { placement: Placement }[], changes: DrawingChanges): Pen => {
  const likes = changes.additions.flatMap((a) => {
    const placement = document.placements.get(a.like);
    return placement === undefined ? [] : [{ placement }];
  });
  const scales = [...locals, ...likes].map((one) => scaleOf(one.placement));
  const { tags, header, units } = document;
  return penFor(tags, {
    places: decimalsFor(Math.max(units.millimetresPerUnit, ...scales)),
    integersOnly: () => integersOnly(tags, units.millimetresPerUnit),
    nextHandle: () => freeHandle(tags, header.handleSeedTag),
    handleSeedTag: header.handleSeedTag,
  });
};

const reshape = (local: Local<LocalPath>, document: DxfDocument, pen: Pen, report: Report): number => {
  const { source } = local.placement;
  if (source.shape.kind !== 'path' || source.kind.reshape === undefined)
    throw new Bug(`a ${source.entity.type} cannot be reshaped`);
  return source.kind.reshape({
    fields: source.fields,
    shape: source.shape,
    changed: local.change,
    pen,
    scale: scaleOf(local.placement),
    context: { ...document.context, report },
    behind: source.kind.ownPlane && source.facing === 'back',
  });
};

const place = (local: Local<PlaceChange>, pen: Pen): void => {
  const { source } = local.placement;
  if (source.kind.place === undefined) throw new Bug(`a ${source.entity.type} cannot be moved`);
  const at: Point = local.change.at;
  source.kind.place({
    fields: source.fields,
    pen,
    at,
    ...(local.change.angle === undefined ? {} : { angle: local.change.angle }),
  });
};
