import type { Point } from '../../geometry/point.ts';

/** Strip edge that a piece in some pose must lie on: `low` is y = 0, `high` the opposite edge (a fold, a selvage). */
export type Pin = 'low' | 'high';

/** One way a piece may lie: mirrored first (x → −x), then turned, radians anticlockwise. */
export interface Pose {
  readonly turn: number;
  readonly mirror?: boolean;
  readonly pin?: Pin;
}

export interface NestItem {
  readonly name: string;
  /** Outline without its first point repeated, mm, either way round; it must not cross itself. */
  readonly outline: readonly Point[];
  readonly copies: number;
  /** The ways it may lie, at least one. */
  readonly poses: readonly Pose[];
}

export interface NestStrip {
  /** Across the roll, mm. */
  readonly height: number;
  /** Least distance between two pieces, mm. */
  readonly gap: number;
  /** What stays free at the edges of the strip, mm; none where left out. */
  readonly margins?: { readonly start?: number; readonly end?: number; readonly low?: number; readonly high?: number };
}

/** Names for how hard to try. */
export const EFFORTS = { quick: 6_000, usual: 60_000, good: 250_000, best: 700_000 } as const;
export type EffortName = keyof typeof EFFORTS;

export interface NestOptions {
  readonly seed?: number;
  /** How many times a piece is taken up and placed anew, or a name for it: never a time, so that a layout repeats. */
  readonly effort?: EffortName | number;
  /** Searches from neighbouring seeds, each with the whole effort, the shortest layout taken; 1 if left out. */
  readonly searches?: number;
  /**
   * URL of the module worker.ts bundled to JavaScript: then every search but the first runs in a thread of its own.
   * Without it they run one after the other, with the same result.
   */
  readonly worker?: string;
  /** Called now and then; it cannot change the result. */
  readonly onProgress?: (progress: NestProgress) => void;
}

export interface NestProgress {
  /** Pieces that have a first place; the iterations begin when all have one. */
  readonly placed: number;
  readonly iterations: number;
  readonly of: number;
  /** Shortest layout so far, or what of the first there is, mm, margins included. */
  readonly length: number;
}

/** The outline point p lies at `offset + turned(mirrored(p))` on a strip from (0, 0) to (length, height). */
export interface NestPlacement {
  /** Index into the items given. */
  readonly item: number;
  /** Counted from 0. */
  readonly copy: number;
  readonly turn: number;
  readonly mirror: boolean;
  readonly offset: Point;
}

export interface Nesting {
  readonly placements: readonly NestPlacement[];
  /** mm, margins included. */
  readonly length: number;
  /** Area of the pieces ÷ (height × length), both without margins. */
  readonly density: number;
  /** Of all searches together. */
  readonly iterations: number;
  /** Of the search that found it. */
  readonly seed: number;
  /** Indexes of items whose outline crosses itself: they were laid by the convex hull round it. */
  readonly hulled: readonly number[];
}

/** Where an outline point comes to lie. */
export const placed = (p: Point, pose: { turn: number; mirror?: boolean }, offset: Point): Point => {
  const { cos, sin } = cosSin(pose.turn);
  const x = pose.mirror ? -p.x : p.x;
  return { x: offset.x + cos * x - sin * p.y, y: offset.y + sin * x + cos * p.y };
};

/** Exact for quarter turns. */
export const cosSin = (turn: number): { readonly cos: number; readonly sin: number } => {
  const quarters = turn / (Math.PI / 2);
  const nearest = Math.round(quarters);
  if (Math.abs(quarters - nearest) > 1e-9) return { cos: Math.cos(turn), sin: Math.sin(turn) };
  const q = ((nearest % 4) + 4) % 4;
  return { cos: [1, 0, -1, 0][q] as number, sin: [0, 1, 0, -1][q] as number };
};

/** Poses with the given turns, not mirrored. */
export const turns = (...angles: readonly number[]): Pose[] => angles.map((turn) => ({ turn }));

/** Poses all round, in `steps` equal turns. */
export const allRound = (steps = 8): Pose[] =>
  Array.from({ length: steps }, (_, i) => ({ turn: (2 * Math.PI * i) / steps }));
