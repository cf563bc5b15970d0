import { Bug } from '../finding.ts';
import type { Container, Drawable, Drawing, PathDrawable } from '../formats/drawing.ts';
import { boundsOfPoints, heightOfBounds, widthOf } from '../geometry/bounds.ts';

/** A piece of paper is at least this large; smaller shapes drawn often are symbols. mm² */
export const LEAST_PIECE = 1500;

/** The tree of blocks and groups. */
export interface Containers {
  readonly all: readonly Container[];
  readonly root: Container;
  readonly deepestFirst: readonly Container[];
  parentOf(id: string): Container | undefined;
  /** From the container itself to the root. */
  upwards(id: string): readonly Container[];
  /** Whether `inner` is `outer` or lies in it. */
  holds(outer: string, inner: string): boolean;
  /** All drawables in a container and in those inside it. */
  within(id: string): readonly Drawable[];
  /** The nearest container from `id` up that has a name or label; `otherwise` when none has. */
  nearestNamed(id: string, otherwise: Container): Container;
}

export const readContainers = (drawing: Drawing): Containers => {
  const byId = new Map(drawing.containers.map((c) => [c.id, c]));
  const root = drawing.containers.find((c) => c.kind === 'root');
  if (!root) throw new Bug('a drawing has no root container');
  const chains = new Map<string, readonly Container[]>();
  const upwards = (id: string): readonly Container[] => {
    const known = chains.get(id);
    if (known) return known;
    const own = byId.get(id);
    const chain = own ? [own, ...(own.parent === undefined ? [] : upwards(own.parent))] : [root];
    chains.set(id, chain);
    return chain;
  };
  const contents = new Map<string, Drawable[]>(drawing.containers.map((c) => [c.id, []]));
  for (const d of drawing.drawables) for (const c of upwards(d.container)) contents.get(c.id)?.push(d);
  return {
    all: drawing.containers,
    root,
    deepestFirst: [...drawing.containers].sort((a, b) => upwards(b.id).length - upwards(a.id).length),
    parentOf: (id) => byId.get(byId.get(id)?.parent ?? ''),
    upwards,
    holds: (outer, inner) => upwards(inner).some((c) => c.id === outer),
    within: (id) => contents.get(id) ?? [],
    nearestNamed: (id, otherwise) => upwards(id).find((c) => c.name !== '' || c.label !== '') ?? otherwise,
  };
};

/**
 * Placements of one shape: when an outline is drawn a second time from the same definition (a block inserted twice,
 * `use`), everything in the container that places it repeats the first placement. Drawable id → id it repeats.
 */
export const repeatsIn = (
  drawing: Drawing,
  containers: Containers,
  largestArea: (paths: readonly PathDrawable[]) => number,
): Map<string, string> => {
  const firstOf = new Map<string, Drawable>();
  for (const d of drawing.drawables) if (!firstOf.has(d.definition)) firstOf.set(d.definition, d);
  const isSecond = (d: Drawable): boolean => firstOf.get(d.definition) !== d;
  const placed = new Set<string>();
  const defined = new Set<string>();
  for (const container of containers.all) {
    if (container.kind === 'root') continue;
    if (!defined.has(container.definition)) {
      defined.add(container.definition);
      continue;
    }
    const paths = containers.within(container.id).filter((d) => d.kind === 'path');
    if (couldEnclose(paths) && largestArea(paths) >= LEAST_PIECE) placed.add(container.id);
  }
  const repeats = new Map<string, string>();
  for (const d of drawing.drawables) {
    const repeated =
      containers.upwards(d.container).some((c) => placed.has(c.id)) ||
      (d.kind === 'path' && d.path.closed && isSecond(d) && largestArea([d]) >= LEAST_PIECE);
    if (repeated && isSecond(d)) repeats.set(d.id, (firstOf.get(d.definition) as Drawable).id);
  }
  return repeats;
};

/** Whether the box round some paths is large enough for a piece at all: a quick no for the many small symbols. */
const couldEnclose = (paths: readonly PathDrawable[]): boolean => {
  const box = boundsOfPoints(paths.flatMap((d) => d.path.segments.map((s) => s.from)));
  return widthOf(box) * heightOfBounds(box) >= LEAST_PIECE / 4;
};
