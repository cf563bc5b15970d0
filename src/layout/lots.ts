import { type NestItem, outlineNames } from './nest/index.ts';

/** A piece to be laid, and whose it is. */
export interface Lotted {
  readonly template: { readonly fitting: string };
  readonly item: NestItem;
}

/** More pieces than this are not laid together: the time taken grows faster than their number. */
const PIECES = 150;
/**
 * Nor are pieces that have to be compared in more ways than this: every two different outlines once for each turn that
 * one can have to the other. That is 48 different pieces at any turn, 96 on cloth; alike ones count once.
 */
const COMPARED = 9_500;

/**
 * What is laid together: all of it, or else as few lots as hold it, filled evenly and in the order given. A fitting
 * stays whole, whatever its outlines, unless it alone has too many pieces.
 */
export const lotsOf = <T extends Lotted>(asked: readonly T[]): T[][] => {
  const groups = fittingsOf(asked).map(weighed);
  const count = fewestLots(groups);
  const all = groups.reduce((sum, g) => sum + g.pieces, 0);
  const lots = Array.from({ length: count }, (): T[] => []);
  let before = 0;
  for (const { members, pieces } of groups) {
    lots[Math.floor(((before + pieces / 2) * count) / all)]?.push(...members);
    before += pieces;
  }
  return lots.filter((lot) => lot.length > 0);
};

/** The pieces of each fitting, those of a large one in parts. */
const fittingsOf = <T extends Lotted>(asked: readonly T[]): T[][] => {
  const groups: T[][] = [];
  let pieces = 0;
  asked.forEach((a, i) => {
    if (a.template.fitting !== asked[i - 1]?.template.fitting || pieces >= PIECES) {
      groups.push([]);
      pieces = 0;
    }
    groups.at(-1)?.push(a);
    pieces += a.item.copies;
  });
  return groups;
};

interface Group<T> {
  readonly members: readonly T[];
  readonly pieces: number;
  /** The different outlines and in how many poses each may lie. */
  readonly poses: ReadonlyMap<string, number>;
}

const weighed = <T extends Lotted>(members: readonly T[]): Group<T> => ({
  members,
  pieces: members.reduce((sum, m) => sum + m.item.copies, 0),
  poses: new Map(members.flatMap(({ item }) => outlineNames(item).map((name) => [name, item.poses.length] as const))),
});

const fewestLots = (groups: readonly Group<unknown>[]): number => {
  let lots = 0;
  let pieces = 0;
  let poses = new Map<string, number>();
  for (const group of groups) {
    const joined = new Map([...poses, ...group.poses]);
    if (lots === 0 || pieces + group.pieces > PIECES || ways(joined) > COMPARED) {
      lots++;
      pieces = 0;
      poses = new Map(group.poses);
    } else poses = joined;
    pieces += group.pieces;
  }
  return lots;
};

/** Each outline with itself and each other one, in as many turns as they have on the average. */
const ways = (poses: ReadonlyMap<string, number>): number =>
  ((poses.size + 1) / 2) * [...poses.values()].reduce((sum, n) => sum + n, 0);
