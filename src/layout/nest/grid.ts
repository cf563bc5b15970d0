import type { ConvexSum } from './convex.ts';

/** Square cells over the forbidden offsets of a pair of shapes. */
export interface Grid {
  readonly minX: number;
  readonly minY: number;
  readonly scale: number;
  readonly columns: number;
  readonly rows: number;
  readonly cells: Int32Array;
}

/** A cell in which nothing is forbidden; one in which everything is. Any other number says where its half planes are. */
export const FREE = 0;
export const DEEP = 1;

/** minX, minY, maxX, maxY. */
export const boundsOfSums = (sums: readonly ConvexSum[]): [number, number, number, number] => {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { corners } of sums) {
    for (let i = 0; i < corners.length; i += 2) {
      box[0] = Math.min(box[0], corners[i] as number);
      box[1] = Math.min(box[1], corners[i + 1] as number);
      box[2] = Math.max(box[2], corners[i] as number);
      box[3] = Math.max(box[3], corners[i + 1] as number);
    }
  }
  return box;
};
