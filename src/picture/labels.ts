import { type Bounds, containsPoint, overlap } from '../geometry/bounds.ts';
import { add, distance, type Point, scale, turn } from '../geometry/point.ts';
import { line } from '../geometry/segment.ts';
import type { Mark } from './figure.ts';
import { LOOKS, type LookName } from './looks.ts';

/* Words beside the places they speak of, so that none lies over another and as few as can be over a line. */

export interface LabelAsked {
  readonly at: Point;
  readonly words: string;
  readonly look: LookName;
  /** The side on which it is wanted, a unit vector. */
  readonly toward: Point;
  /** Line from the place to words that had to stand off. */
  readonly leader?: LookName;
}

export interface Labelled {
  readonly marks: readonly Mark[];
  readonly boxes: readonly Bounds[];
}

/** Distances from the place that are tried, mm, and turns off the wanted side, radians. */
const STEPS = [1.2, 2.5, 5, 8, 12, 17];
const TURNS = [0, 1, -1, 2, -2, 3, -3, 4, -4, 6].map((k) => (k * Math.PI) / 6);
/** Words that stand further off than this get a leader, mm. */
const NEAR = 2.6;
/** Lines this far from a place may be in the way of its words, mm. */
const REACH = 40;
/** Room between words, mm. */
const AIR = 0.4;

/**
 * Places the labels one after the other, each where it disturbs least.
 * @param lines points on the lines of the picture, dense enough that none slips through a letter
 */
export const placeLabels = (asked: readonly LabelAsked[], lines: readonly Point[]): Labelled => {
  const boxes: Bounds[] = [];
  const marks = asked.flatMap((label) => {
    const around = lines.filter((p) => distance(p, label.at) < REACH);
    const costs = spots(label).map((spot) => ({ spot, costs: cost(spot, boxes, around) }));
    const { spot } = costs.reduce((a, b) => (b.costs < a.costs ? b : a));
    boxes.push(spot.box);
    return drawn(label, spot);
  });
  return { marks, boxes };
};

interface Spot {
  readonly centre: Point;
  readonly box: Bounds;
  readonly off: number;
  readonly turned: number;
}

/** How wide a line of letters is, mm: an average of plain type, on the generous side. */
export const lettersWide = (words: string, size: number): number => [...words].length * size * 0.54;

const spots = ({ at, words, look, toward }: LabelAsked): Spot[] => {
  const size = LOOKS[look].size ?? 3;
  const [w, h] = [lettersWide(words, size) / 2 + AIR, size / 2 + AIR];
  return STEPS.flatMap((off) =>
    TURNS.map((turned) => {
      const way = turn(toward, turned);
      const reach = Math.min(w / Math.max(Math.abs(way.x), 1e-6), h / Math.max(Math.abs(way.y), 1e-6));
      const centre = add(at, scale(way, off + reach));
      const box = { minX: centre.x - w, maxX: centre.x + w, minY: centre.y - h, maxY: centre.y + h };
      return { centre, box, off, turned: Math.abs(turned) };
    }),
  );
};

const cost = ({ box, off, turned }: Spot, boxes: readonly Bounds[], lines: readonly Point[]): number => {
  const over = boxes.filter((b) => overlap(b, box)).length;
  const crossed = lines.filter((p) => containsPoint(box, p)).length;
  return over * 1000 + Math.min(crossed, 8) * 4 + off + turned * 1.5;
};

const drawn = ({ at, words, look, leader }: LabelAsked, { centre, box, off }: Spot): Mark[] => {
  const size = LOOKS[look].size ?? 3;
  const text: Mark = {
    kind: 'words',
    look,
    at: { x: centre.x, y: centre.y + size * 0.35 },
    anchor: 'middle',
    words,
  };
  if (!leader || off <= NEAR) return [text];
  const rim = {
    x: Math.min(Math.max(at.x, box.minX + AIR), box.maxX - AIR),
    y: Math.min(Math.max(at.y, box.minY), box.maxY),
  };
  return [{ kind: 'line', look: leader, segments: [line(at, rim)], closed: false }, text];
};
