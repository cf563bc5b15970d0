import type { Drawing } from '../drawing.ts';
import { encodeText } from './text.ts';

/** Handles and names of a file made afresh. */

/** Gives handles in the order they are asked for: the same drawing always gets the same ones. */
export interface Handles {
  next(): string;
  /** The first not given yet. */
  peek(): string;
}

export const newHandles = (): Handles => {
  let n = 1;
  const hex = (value: number) => value.toString(16).toUpperCase();
  return { next: () => hex(n++), peek: () => hex(n) };
};

/** Characters that names of blocks and layers may not have. */
export const safeName = (name: string): string => {
  const clean = name
    .replace(/[<>/\\":;?*|=`,\p{Cc}]/gu, '_')
    .trim()
    .slice(0, 200);
  return encodeText(clean, { name: 'ascii' });
};

/** Names of layers as they are written, by the drawing's own; layer 0 is always there. */
export type LayerNames = ReadonlyMap<string, string>;

export const layerNamesOf = (drawing: Drawing): LayerNames => {
  const names = new Map<string, string>([
    ['', '0'],
    ['0', '0'],
  ]);
  const used = new Set(['0']);
  for (const { layer } of drawing.drawables) {
    if (names.has(layer)) continue;
    const name = uniqueName(safeName(layer) || 'layer', used);
    names.set(layer, name);
  }
  return names;
};

export const uniqueName = (wanted: string, used: Set<string>): string => {
  let name = wanted;
  for (let n = 2; used.has(name.toUpperCase()); n++) name = `${wanted}_${n}`;
  used.add(name.toUpperCase());
  return name;
};
