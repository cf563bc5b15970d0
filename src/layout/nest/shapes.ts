import { selfCrossings } from '../../geometry/crossings.ts';
import { polyline } from '../../geometry/path.ts';
import { convexParts } from './convex.ts';
import { cosSin, type NestItem, type NestStrip, type Pin } from './item.ts';
import { type PairTable, pairTable } from './pair-table.ts';
import {
  hullOf,
  mirroredRing,
  movedRing,
  pointsOf,
  type Ring,
  ringArea,
  ringBounds,
  ringOf,
  turnedRing,
} from './ring.ts';
import { simplifiedOutward } from './simplify.ts';

/** An outline about its own middle, and its convex parts (of the simplified outline). */
interface Shape {
  readonly ring: Ring;
  readonly parts: readonly Ring[];
  readonly area: number;
}

/** A shape in one of its poses. The box is about the middle. */
export interface Lie {
  readonly shape: number;
  readonly pose: number;
  readonly turn: number;
  readonly cos: number;
  readonly sin: number;
  readonly mirror: boolean;
  readonly pin: Pin | undefined;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export interface Shapes {
  readonly lies: readonly Lie[];
  /** Indexes of the lies that each item may take. */
  readonly liesOf: readonly Int32Array[];
  readonly areas: readonly number[];
  /** The middle that an item's shape was moved to the origin from. */
  readonly middles: readonly { readonly x: number; readonly y: number }[];
  /** Items laid by their convex hull, for their outline crosses itself. */
  readonly hulled: readonly number[];
  /** Per pair of lies (first × count + second): the table, and the map from second − first into it. */
  readonly tables: (PairTable | undefined)[];
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Makes the entry for a pair of lies. */
  readonly table: (first: number, second: number) => PairTable;
}

/** Cells of all tables together, at most: bounds the memory to some hundreds of megabytes. */
const MOST_CELLS = 8_000_000;
const MOST_CELLS_EACH = 1024;
const LEAST_CELLS_EACH = 256;

/** What simplifying may do to a piece: its area grows by this ratio at most. */
const GROWTH = 0.0005;
/** How far out a place of its outline may move, as a share of the side of the square of the same area. */
const FARTHEST = 0.01;

export const shapesOf = (items: readonly NestItem[], strip: NestStrip): Shapes => {
  const shapes: Shape[] = [];
  const lies: Lie[] = [];
  const middles: { x: number; y: number }[] = [];
  const hulled: number[] = [];
  const liesOf = items.map((item, i) => {
    let outline = ringOf(item.outline);
    if (selfCrossings(polyline(pointsOf(outline), true)).length > 0) {
      hulled.push(i);
      outline = hullOf(outline);
    }
    const [x0, y0, x1, y1] = ringBounds(outline);
    const middle = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
    middles.push(middle);
    const ring = movedRing(outline, -middle.x, -middle.y);
    const index = { plain: -1, mirrored: -1 };
    return Int32Array.from(item.poses, (pose, k) => {
      const side = pose.mirror ? 'mirrored' : 'plain';
      if (index[side] < 0) index[side] = shapes.push(shapeOf(pose.mirror ? mirroredRing(ring) : ring)) - 1;
      const { cos, sin } = cosSin(pose.turn);
      const [minX, minY, maxX, maxY] = ringBounds(turnedRing((shapes[index[side]] as Shape).ring, cos, sin));
      const { turn, mirror = false, pin } = pose;
      return lies.push({ shape: index[side], pose: k, turn, cos, sin, mirror, pin, minX, minY, maxX, maxY }) - 1;
    });
  });
  const areas = items.map(
    (_, i) => (shapes[(lies[(liesOf[i] as Int32Array)[0] as number] as Lie).shape] as Shape).area,
  );
  return { lies, liesOf, areas, middles, hulled, ...pairs(shapes, lies, strip.gap) };
};

const shapeOf = (ring: Ring): Shape => {
  const area = ringArea(ring);
  const simple = simplifiedOutward(ring, Math.sqrt(area) * FARTHEST, GROWTH);
  return { ring, parts: convexParts(simple), area };
};

/** Tables are made when first asked for, and shared by pairs of lies that stand to one another in the same turn. */
const pairs = (
  shapes: readonly Shape[],
  lies: readonly Lie[],
  gap: number,
): Pick<Shapes, 'tables' | 'cos' | 'sin' | 'table'> => {
  const n = lies.length;
  const tables: (PairTable | undefined)[] = new Array(n * n).fill(undefined);
  const cos = new Float64Array(n * n);
  const sin = new Float64Array(n * n);
  const shared = new Map<string, PairTable>();
  const cells = Math.max(LEAST_CELLS_EACH, Math.min(MOST_CELLS_EACH, Math.floor((2 * MOST_CELLS) / (n * (n + 1)))));
  const table = (first: number, second: number): PairTable => {
    const p = lies[first] as Lie;
    const q = lies[second] as Lie;
    const forward = p.shape < q.shape || (p.shape === q.shape && p.turn <= q.turn);
    const [a, b] = forward ? [p, q] : [q, p];
    const turn = (((b.turn - a.turn) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    const key = `${a.shape} ${b.shape} ${Math.round(turn * 1e9) % 6283185307}`;
    let found = shared.get(key);
    if (!found) {
      const { cos: c, sin: s } = cosSin(turn);
      const turned = (shapes[b.shape] as Shape).parts.map((part) => turnedRing(part, c, s));
      found = pairTable((shapes[a.shape] as Shape).parts, turned, gap, cells);
      shared.set(key, found);
    }
    const at = first * n + second;
    tables[at] = found;
    // The table holds a − … b as offsets of b from a, in a's own frame.
    const sign = forward ? 1 : -1;
    cos[at] = sign * a.cos;
    sin[at] = sign * a.sin;
    return found;
  };
  return { tables, cos, sin, table };
};
