import { selfCrossings } from '../../geometry/crossings.ts';
import { polyline } from '../../geometry/path.ts';
import { convexParts } from './convex.ts';
import { cosSin, type NestItem, type NestStrip, type Pin } from './item.ts';
import { type Kept, keeping } from './kept.ts';
import { bytesOf, type PairTable, pairTable } from './pair-table.ts';
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

/** An outline about its own middle, and its convex parts (of the simplified outline). Items alike to the bit share it. */
interface Shape {
  readonly ring: Ring;
  readonly parts: readonly Ring[];
  readonly area: number;
}

/** A shape in one of its poses. The box is about the middle. */
export interface Lie {
  readonly shape: number;
  /** Counts outlines in the order of the items, shared or not: of two lies the earlier is the first of their pair. */
  readonly rank: number;
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
  /**
   * Per pair of lies (first × count + second): the table, where it is at hand, and the map from second − first into it.
   */
  readonly tables: (PairTable | undefined)[];
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Makes the entry for a pair of lies. */
  readonly table: (first: number, second: number) => PairTable;
  /** What `table` has made and keeps. */
  readonly kept: Pick<Kept<PairTable>, 'count' | 'bytes'>;
}

/** Room for all tables together, bytes. What does not fit is made again when it is asked for: the same, but later. */
const MOST_BYTES = 512 * 2 ** 20;
/** Cells of all tables together that are aimed at: few pieces have fine tables, many have coarse ones. */
const MOST_CELLS = 8_000_000;
const MOST_CELLS_EACH = 1024;
const LEAST_CELLS_EACH = 256;

/** What simplifying may do to a piece: its area grows by this ratio at most. */
const GROWTH = 0.0005;
/** How far out a place of its outline may move, as a share of the side of the square of the same area. */
const FARTHEST = 0.01;

/** @param most room for tables, bytes; it changes the time a layout takes, never the layout */
export const shapesOf = (items: readonly NestItem[], strip: NestStrip, most = MOST_BYTES): Shapes => {
  const shapes: Shape[] = [];
  const known = new Map<string, number>();
  const lies: Lie[] = [];
  const middles: { x: number; y: number }[] = [];
  const hulled: number[] = [];
  let ranks = 0;
  const liesOf = items.map((item, i) => {
    let outline = ringOf(item.outline);
    if (selfCrossings(polyline(pointsOf(outline), true)).length > 0) {
      hulled.push(i);
      outline = hullOf(outline);
    }
    const middle = middleOf(outline);
    middles.push(middle);
    const ring = movedRing(outline, -middle.x, -middle.y);
    const sides: { plain?: Ranked; mirrored?: Ranked } = {};
    return Int32Array.from(item.poses, (pose, k) => {
      const side = pose.mirror ? 'mirrored' : 'plain';
      sides[side] ??= { rank: ranks++, shape: shapeFor(pose.mirror ? mirroredRing(ring) : ring, shapes, known) };
      const { shape, rank } = sides[side];
      const { cos, sin } = cosSin(pose.turn);
      const [minX, minY, maxX, maxY] = ringBounds(turnedRing((shapes[shape] as Shape).ring, cos, sin));
      const { turn, mirror = false, pin } = pose;
      return lies.push({ shape, rank, pose: k, turn, cos, sin, mirror, pin, minX, minY, maxX, maxY }) - 1;
    });
  });
  const areas = items.map(
    (_, i) => (shapes[(lies[(liesOf[i] as Int32Array)[0] as number] as Lie).shape] as Shape).area,
  );
  return { lies, liesOf, areas, middles, hulled, ...pairs(shapes, lies, strip.gap, most) };
};

const middleOf = (outline: Ring): { readonly x: number; readonly y: number } => {
  const [x0, y0, x1, y1] = ringBounds(outline);
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
};

/** Items with a name in common share its outline, wherever in the drawing each has it: one name for each side up. */
export const outlineNames = ({ outline, poses }: NestItem): string[] => {
  const given = ringOf(outline);
  const { x, y } = middleOf(given);
  const ring = movedRing(given, -x, -y);
  const sides = new Set(poses.map((pose) => pose.mirror ?? false));
  return [...sides].map((mirror) => nameOf(mirror ? mirroredRing(ring) : ring));
};

const nameOf = (ring: Ring): string => ring.join(' ');

type Ranked = Pick<Lie, 'shape' | 'rank'>;

/** Index of the shape with that ring, made where there is none. */
const shapeFor = (ring: Ring, shapes: Shape[], known: Map<string, number>): number => {
  const name = nameOf(ring);
  const index = known.get(name) ?? shapes.push(shapeOf(ring)) - 1;
  known.set(name, index);
  return index;
};

const shapeOf = (ring: Ring): Shape => {
  const area = ringArea(ring);
  const simple = simplifiedOutward(ring, Math.sqrt(area) * FARTHEST, GROWTH);
  return { ring, parts: convexParts(simple), area };
};

/** Tables are made when asked for, and shared by pairs of lies that stand to one another in the same turn. */
const pairs = (
  shapes: readonly Shape[],
  lies: readonly Lie[],
  gap: number,
  most: number,
): Pick<Shapes, 'tables' | 'cos' | 'sin' | 'table' | 'kept'> => {
  const n = lies.length;
  const tables: (PairTable | undefined)[] = new Array(n * n).fill(undefined);
  const cos = new Float64Array(n * n);
  const sin = new Float64Array(n * n);
  const turned = turnsBetween();
  const kept = keeping(most, bytesOf, () => void tables.fill(undefined));
  const cells = Math.max(LEAST_CELLS_EACH, Math.min(MOST_CELLS_EACH, Math.floor((2 * MOST_CELLS) / (n * (n + 1)))));
  const table = (first: number, second: number): PairTable => {
    const p = lies[first] as Lie;
    const q = lies[second] as Lie;
    const forward = p.rank < q.rank || (p.rank === q.rank && p.turn <= q.turn);
    const [a, b] = forward ? [p, q] : [q, p];
    const turn = turned(a, b);
    const found = kept.get(`${a.shape} ${b.shape} ${turn}`, () => {
      const { cos: c, sin: s } = cosSin(turn);
      const other = (shapes[b.shape] as Shape).parts.map((part) => turnedRing(part, c, s));
      return pairTable((shapes[a.shape] as Shape).parts, other, gap, cells);
    });
    const at = first * n + second;
    tables[at] = found;
    // The table holds a − … b as offsets of b from a, in a's own frame.
    const sign = forward ? 1 : -1;
    cos[at] = sign * a.cos;
    sin[at] = sign * a.sin;
    return found;
  };
  return { tables, cos, sin, table, kept };
};

/**
 * The turn from one lie to another. Between two pieces it is to the last bit as it was when it was first asked for, from
 * whichever poses: a table that is made again is the same.
 */
const turnsBetween = (): ((a: Lie, b: Lie) => number) => {
  const firsts = new Map<string, number>();
  return (a, b) => {
    const turn = (((b.turn - a.turn) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
    const name = `${a.rank} ${b.rank} ${Math.round(turn * 1e9) % 6283185307}`;
    const first = firsts.get(name) ?? turn;
    firsts.set(name, first);
    return first;
  };
};
