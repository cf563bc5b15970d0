import type { Container, Drawable, Drawing, PathDrawable, PointDrawable, TextDrawable } from '../formats/drawing.ts';
import type { Point } from '../geometry/point.ts';
import type { Containers } from './containers.ts';
import { LEAST_PIECE } from './containers.ts';
import type { Hints } from './hints.ts';
import { placesOf } from './labels.ts';
import type { Loop } from './loops.ts';
import { sortLoops } from './loops.ts';
import { liesIn, rectangleOf, runsBeside, sameLine } from './nesting.ts';
import { partsNamedIn } from './parts.ts';
import { distanceToPolygon, isInside } from './trace.ts';
import type { Vocabulary } from './vocabulary.ts';

/** The drawables that make one piece of paper, before it is known what they are. */
export interface DrawnPiece {
  /** Block, group or drawing that holds it. */
  readonly container: Container;
  /** The outermost line. */
  readonly outer: Loop;
  /** Closed lines in it, largest first. */
  readonly inner: readonly Loop[];
  /** All other paths: open lines and small closed ones. */
  readonly lines: readonly PathDrawable[];
  readonly texts: readonly TextDrawable[];
  readonly points: readonly PointDrawable[];
}

export interface Gathered {
  readonly pieces: readonly DrawnPiece[];
  readonly loose: readonly Drawable[];
  readonly doubles: readonly { readonly of: Loop; readonly twice: Loop }[];
}

/** Marks this far outside an outline still belong to it; texts may lie further off. mm */
const NEAR_MARK = 15;
const NEAR_TEXT = 40;

interface Scope {
  readonly container: Container;
  readonly drawables: readonly Drawable[];
}

/** Sorts a drawing's drawables (placement repeats already taken out) into pieces and loose ones. */
export const gatherPieces = (
  drawing: Drawing,
  containers: Containers,
  drawables: readonly Drawable[],
  hints: Hints,
  vocabulary: Vocabulary,
): Gathered => {
  const found = scopesOf(containers, drawables, hints).map((scope) =>
    piecesOfScope(scope, containers, hints, vocabulary),
  );
  const order = new Map(drawing.drawables.map((d, i) => [d.id, i]));
  const first = (p: DrawnPiece): number => Math.min(...p.outer.drawables.map((d) => order.get(d.id) ?? 0));
  return {
    pieces: found.flatMap((f) => f.pieces).sort((a, b) => first(a) - first(b)),
    loose: found.flatMap((f) => f.loose),
    doubles: found.flatMap((f) => f.doubles),
  };
};

const isPath = (d: Drawable): d is PathDrawable => d.kind === 'path';

/** Lines that are known to be something else do not make outlines. */
const mayBeOutline =
  (hints: Hints) =>
  (d: PathDrawable): boolean =>
    hints.weight(d, 'cutting line') > 0 ||
    hints.weight(d, 'seam line') > 0 ||
    !(
      [
        'grain',
        'notch',
        'adjustment',
        'hip',
        'dart',
        'drill',
        'internal',
        'annotation',
        'validation',
        'stripe',
        'tuck',
      ] as const
    ).some((meaning) => hints.weight(d, meaning) > 0);

/**
 * A block is a scope of its own when an outline lies in it, unless that outline lies inside one of the block around it
 * (a pocket inserted on a piece). Everything else is in the scope of the drawing.
 */
const scopesOf = (containers: Containers, drawables: readonly Drawable[], hints: Hints): Scope[] => {
  const kept = new Set(drawables);
  const claimed = new Map<string, Container>();
  const blocks = containers.deepestFirst.filter((c) => c.kind === 'block');
  for (const block of blocks) {
    const own = containers.within(block.id).filter((d) => kept.has(d) && !claimed.has(d.id));
    const { loops } = sortLoops(own.filter(isPath), mayBeOutline(hints));
    const largest = loops.reduce<Loop | undefined>((a, b) => (a && a.trace.area >= b.trace.area ? a : b), undefined);
    if (!largest || largest.trace.area < LEAST_PIECE || isInlay(block, largest, containers)) continue;
    for (const d of own) claimed.set(d.id, block);
  }
  const byScope = new Map<string, Drawable[]>();
  for (const d of drawables) {
    const scope = claimed.get(d.id) ?? containers.root;
    const list = byScope.get(scope.id);
    if (list) list.push(d);
    else byScope.set(scope.id, [d]);
  }
  return containers.all
    .filter((c) => byScope.has(c.id))
    .map((container) => ({ container, drawables: byScope.get(container.id) ?? [] }));
};

/** Inside a closed line of the very block that places it. */
const isInlay = (block: Container, loop: Loop, containers: Containers): boolean => {
  const parent = containers.parentOf(block.id);
  if (parent?.kind !== 'block') return false;
  const around = containers
    .within(parent.id)
    .filter(isPath)
    .filter((d) => d.container === parent.id && d.path.closed);
  return sortLoops(around, () => true).loops.some((l) => liesIn(l, loop));
};

const piecesOfScope = (scope: Scope, containers: Containers, hints: Hints, vocabulary: Vocabulary): Gathered => {
  const sorted = sortLoops(scope.drawables.filter(isPath), mayBeOutline(hints));
  const texts = scope.drawables.filter((d): d is TextDrawable => d.kind === 'text');
  const points = scope.drawables.filter((d): d is PointDrawable => d.kind === 'point');
  const { kept, doubles } = withoutDoubles(sorted.loops.filter((l) => !isOtherThing(l, hints, texts, vocabulary)));
  const outlines = kept.filter((l) => !isFrame(l, kept, texts, hints));
  const groups = pieceGroups(scope, outlines, texts, containers, vocabulary);
  const parents = new Map(outlines.map((l) => [l, parentOf(l, outlines, groups, texts, vocabulary)]));
  const rootOf = (l: Loop): Loop => {
    const parent = parents.get(l);
    return parent ? rootOf(parent) : l;
  };
  const roots = outlines.filter((l) => !parents.get(l) && l.trace.area >= LEAST_PIECE);
  const home = homes(scope, roots, groups, containers);
  const pieces = roots.map((outer) => ({ outer, inner: [] as Loop[], rest: [] as Drawable[] }));
  const pieceOf = (root: Loop | undefined) => pieces.find((p) => p.outer === root);
  const loose: Drawable[] = [];
  const inLoops = new Set<string>();
  for (const loop of sorted.loops) {
    if (roots.includes(loop)) {
      for (const d of loop.drawables) inLoops.add(d.id);
      continue;
    }
    const root = parents.has(loop) ? rootOf(loop) : undefined;
    const piece = pieceOf(root);
    if (!piece) continue;
    piece.inner.push(loop);
    for (const d of loop.drawables) inLoops.add(d.id);
  }
  for (const d of scope.drawables) {
    if (inLoops.has(d.id)) continue;
    const piece = pieceOf(home(d));
    if (piece) piece.rest.push(d);
    else loose.push(d);
  }
  return {
    pieces: pieces.map(({ outer, inner, rest }) => ({
      container:
        groups.get(outer)?.container ??
        containers.nearestNamed(outer.drawables[0]?.container ?? scope.container.id, scope.container),
      outer,
      inner: inner.sort((a, b) => b.trace.area - a.trace.area),
      lines: rest.filter(isPath),
      texts: rest.filter((d): d is TextDrawable => texts.includes(d as TextDrawable)),
      points: rest.filter((d): d is PointDrawable => points.includes(d as PointDrawable)),
    })),
    loose,
    doubles,
  };
};

const withoutDoubles = (loops: readonly Loop[]): { kept: Loop[]; doubles: { of: Loop; twice: Loop }[] } => {
  const kept: Loop[] = [];
  const doubles: { of: Loop; twice: Loop }[] = [];
  for (const loop of loops) {
    const first = kept.find((k) => sameLine(k, loop));
    if (first) doubles.push({ of: first, twice: loop });
    else kept.push(loop);
  }
  return { kept, doubles };
};

/** A test square, or a line that the file says is no outline (validation curves, frames). */
const isOtherThing = (loop: Loop, hints: Hints, texts: readonly TextDrawable[], vocabulary: Vocabulary): boolean => {
  const first = loop.drawables[0] as PathDrawable;
  if ((['validation', 'frame', 'test square', 'annotation'] as const).some((m) => hints.weight(first, m) > 0))
    return true;
  const sides = rectangleOf(loop);
  if (!sides || sides[1] > 110 || sides[1] - sides[0] > 0.5) return false;
  return texts.some((t) => {
    const near = isInside(loop.trace.polygon, t.at) || distanceToPolygon(loop.trace.polygon, t.at) <= NEAR_MARK;
    return near && vocabulary.phrasesIn(t.text).some((p) => p.meaning === 'test square');
  });
};

/** A rectangle round whole pieces: closed lines lie in it that are no seam line of it, and hold nearly all the texts in it. */
const isFrame = (loop: Loop, loops: readonly Loop[], texts: readonly TextDrawable[], hints: Hints): boolean => {
  if (hints.weight(loop.drawables[0] as PathDrawable, 'cutting line') > 0 || !rectangleOf(loop)) return false;
  const inside = loops.filter((l) => l.trace.area >= LEAST_PIECE && liesIn(loop, l));
  if (inside.length === 0 || inside.some((l) => runsBeside(loop, l))) return false;
  if (inside.some((a) => inside.some((b) => runsBeside(a, b)))) return true;
  const held = texts.filter((t) => isInside(loop.trace.polygon, t.at));
  const inPieces = held.filter((t) => inside.some((l) => isInside(l.trace.polygon, t.at)));
  return inside.length > 1 || held.length === 0 ? inside.length > 1 : inPieces.length >= 0.6 * held.length;
};

interface PieceGroup {
  readonly container: Container;
  /** It names a part, or holds texts and other lines beside the outline. */
  readonly speaks: boolean;
}

/** For each outline the highest group that holds one piece only. */
const pieceGroups = (
  scope: Scope,
  outlines: readonly Loop[],
  texts: readonly TextDrawable[],
  containers: Containers,
  vocabulary: Vocabulary,
): Map<Loop, PieceGroup> => {
  const homeOf = (l: Loop): string => l.drawables[0]?.container ?? scope.container.id;
  const counts = new Map<string, number>();
  const outermost = (container: string): number => {
    const before = counts.get(container);
    if (before !== undefined) return before;
    const within = outlines.filter((l) => containers.holds(container, homeOf(l)));
    const count = within.filter((l) => !within.some((o) => liesIn(o, l))).length;
    counts.set(container, count);
    return count;
  };
  const groups = new Map<Loop, PieceGroup>();
  for (const loop of outlines) {
    const chain = containers
      .upwards(homeOf(loop))
      .filter((c) => c.id !== scope.container.id && containers.holds(scope.container.id, c.id));
    const highest = [...chain].reverse().find((c) => c.kind !== 'root' && outermost(c.id) === 1);
    if (!highest) continue;
    const inside = containers.within(highest.id);
    const own = inside.filter((d): d is TextDrawable => d.kind === 'text' && texts.includes(d));
    const named = partsNamedIn([highest.label, highest.name, ...own.map((t) => t.text)], vocabulary);
    const others = inside.filter((d) => d.kind !== 'text');
    groups.set(loop, { container: highest, speaks: named.length > 0 || (own.length > 0 && others.length > 1) });
  }
  return groups;
};

/** The smallest outline that a loop lies in and belongs to. */
const parentOf = (
  loop: Loop,
  outlines: readonly Loop[],
  groups: ReadonlyMap<Loop, PieceGroup>,
  texts: readonly TextDrawable[],
  vocabulary: Vocabulary,
): Loop | undefined => {
  const around = outlines.filter((o) => liesIn(o, loop)).sort((a, b) => a.trace.area - b.trace.area);
  return around.find((outer) => {
    const own = groups.get(loop);
    const theirs = groups.get(outer);
    if (runsBeside(outer, loop)) return own?.container === theirs?.container || !own?.speaks || !theirs?.speaks;
    if (own?.container !== theirs?.container) return !own?.speaks;
    return !hasItsOwnName(loop, outer, texts, vocabulary);
  });
};

/** The inner one holds a text that names a part, and the outer one another beside it. */
const hasItsOwnName = (inner: Loop, outer: Loop, texts: readonly TextDrawable[], vocabulary: Vocabulary): boolean => {
  const naming = texts.filter(
    (t) => isInside(outer.trace.polygon, t.at) && partsNamedIn([t.text], vocabulary).length > 0,
  );
  const own = naming.filter((t) => isInside(inner.trace.polygon, t.at));
  return own.length > 0 && own.length < naming.length && inner.trace.area >= LEAST_PIECE;
};

/** Finds the piece a drawable belongs to: by its block or group, else by where it lies. */
const homes = (
  scope: Scope,
  roots: readonly Loop[],
  groups: ReadonlyMap<Loop, PieceGroup>,
  containers: Containers,
): ((d: Drawable) => Loop | undefined) => {
  const only = roots.length === 1 && scope.container.kind === 'block' ? roots[0] : undefined;
  return (d) => {
    if (only) return only;
    const grouped = roots.filter((r) => {
      const group = groups.get(r);
      return group?.speaks && containers.holds(group.container.id, d.container);
    });
    if (grouped.length === 1) return grouped[0];
    const points = pointsOf(d);
    const share = (r: Loop): number => points.filter((p) => isInside(r.trace.polygon, p)).length / points.length;
    const startsIn = (r: Loop): number => Number(isInside(r.trace.polygon, points[0] as Point));
    // A long name runs over the edge of a narrow piece: where any of it lies inside, most of it decides.
    const least = d.kind === 'text' ? 0.3 : 0.5;
    const around = roots
      .filter((r) => share(r) >= least)
      .sort((a, b) => share(b) - share(a) || startsIn(b) - startsIn(a) || a.trace.area - b.trace.area);
    if (around[0]) return around[0];
    const reach = d.kind === 'text' ? NEAR_TEXT : NEAR_MARK;
    const near = roots
      .map((r) => ({ r, away: Math.min(...points.map((p) => distanceToPolygon(r.trace.polygon, p))) }))
      .filter((n) => n.away <= reach)
      .sort((a, b) => a.away - b.away);
    return near[0]?.r;
  };
};

/** A few points that stand for a drawable. */
const pointsOf = (d: Drawable): Point[] => {
  if (d.kind === 'text') return placesOf(d);
  if (d.kind === 'point') return [d.at];
  const { segments } = d.path;
  const step = Math.max(1, Math.floor(segments.length / 8));
  const points = segments
    .filter((_, i) => i % step === 0)
    .map((s) => ({ x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 }));
  return points;
};
