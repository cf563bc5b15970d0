import { readFileSync } from 'node:fs';
import { type NestItem, turns } from '../../src/layout/nest/index.ts';

/**
 * Three sets of real garments from the public collection of the EURO working group on cutting and packing (CC0):
 * outlines, copies and strip heights as there, in the units there; turns 0 and 180°.
 */
export interface NestingSet {
  readonly name: SetName;
  readonly height: number;
  readonly items: readonly NestItem[];
  /** Best density known; average of the best published method with 1200 s each (arXiv 2509.13329). */
  readonly best: number;
  readonly average: number;
  /** One pass of bottom-left filling, largest first, with no-fit polygons: measured by us. */
  readonly filled: number;
  /** What is wanted of 60 s on two cores. */
  readonly wanted: number;
}

const FIGURES = {
  shirts: { best: 0.909, average: 0.896, filled: 0.804, wanted: 0.86 },
  trousers: { best: 0.926, average: 0.917, filled: 0.768, wanted: 0.88 },
  swim: { best: 0.798, average: 0.782, filled: 0.595, wanted: 0.72 },
} as const;

export type SetName = keyof typeof FIGURES;
export const SET_NAMES = Object.keys(FIGURES) as SetName[];

interface Data {
  readonly height: number;
  readonly pieces: readonly { readonly copies: number; readonly outline: readonly (readonly [number, number])[] }[];
}

export const nestingSet = (name: SetName): NestingSet => {
  const { height, pieces } = JSON.parse(
    readFileSync(new URL(`./nesting-sets/${name}.json`, import.meta.url), 'utf8'),
  ) as Data;
  const items = pieces.map(({ copies, outline }, i) => ({
    name: `${name} ${i}`,
    outline: outline.map(([x, y]) => ({ x, y })),
    copies,
    poses: turns(0, Math.PI),
  }));
  return { name, height, items, ...FIGURES[name] };
};
