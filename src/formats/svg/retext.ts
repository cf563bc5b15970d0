import { type Point, subtract } from '../../geometry/point.ts';
import { applyToVector, inverse, stretches } from '../../geometry/transform.ts';
import type { PlaceChange } from '../drawing.ts';
import type { TextHandle } from './document.ts';
import { type Edit, setAttribute } from './edits.ts';
import { attribute, type Element } from './elements.ts';
import { parseLength, userUnitsPer } from './lengths.ts';
import { decimalsFor, decimalsIn, formatNumber, notationOf, numbersIn } from './numbers.ts';

export interface Retexted {
  readonly edits: readonly Edit[];
  /** Why it could not be done as asked, for a person. */
  readonly refused?: string;
}

/** Degrees below this are rounding. */
const SMALLEST_TURN = 1e-4;
/** So is a move by less than this, in user units. */
const STILL = 1e-9;

/**
 * Moves a text by its x and y, and turns it by extending its transform; letters are never stretched.
 * `before` is where and at what angle it was read.
 */
export const retext = (
  text: string,
  handle: TextHandle,
  before: Required<PlaceChange>,
  change: PlaceChange,
): Retexted => {
  const back = inverse(handle.toMm);
  if (back === undefined) return { edits: [], refused: 'its transform squeezes it to nothing' };
  const by = applyToVector(back, subtract(change.at, before.at));
  const millimetres = stretches(handle.toMm)[0];
  const edits = handle.placed.flatMap((element, i) => shift(text, element, by, handle, i === 0, millimetres));
  if (change.angle === undefined) return { edits };
  const direction = applyToVector(back, { x: Math.cos(change.angle), y: Math.sin(change.angle) });
  const degrees = (Math.atan2(direction.y, direction.x) * 180) / Math.PI;
  if (Math.abs(degrees) < SMALLEST_TURN) return { edits };
  if (!handle.whole)
    return { edits, refused: 'it is one of several texts in the same element, which can only turn together' };
  if (!handle.turnable) return { edits, refused: 'a style sets its transform' };
  const decimals = decimalsFor(millimetres);
  const plain = { decimals: 0, leadingZero: true, fixed: false };
  const write = (value: number): string => formatNumber(value, decimals, plain);
  const at = { x: handle.at.x + by.x, y: handle.at.y + by.y };
  const turn = `rotate(${formatNumber(degrees, 5, plain)} ${write(at.x)} ${write(at.y)})`;
  const own = handle.element.attributes.get('transform')?.raw.trim() ?? '';
  return {
    edits: [
      ...edits,
      setAttribute(text, handle.element, 'transform', own === '' || own === 'none' ? turn : `${own} ${turn}`),
    ],
  };
};

const shift = (
  text: string,
  element: Element,
  by: Point,
  handle: TextHandle,
  first: boolean,
  millimetres: number,
): Edit[] =>
  (['x', 'y'] as const).flatMap((name) => {
    if (Math.abs(by[name]) < STILL) return [];
    const stated = element.attributes.get(name);
    if (stated === undefined) {
      if (!first) return [];
      const plain = { decimals: 0, leadingZero: true, fixed: false };
      return [
        setAttribute(text, element, name, formatNumber(handle.at[name] + by[name], decimalsFor(millimetres), plain)),
      ];
    }
    const list = attribute(element, name) ?? '';
    const notation = notationOf(numbersIn(list));
    const moved = list.replace(
      /([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)([a-zA-Z]+|%)?/g,
      (whole: string, number: string, unit = '') => {
        const length = parseLength(whole);
        if (length === undefined) return whole;
        const per = userUnitsPer(length.unit, name, handle.around);
        const decimals = decimalsIn(notation, decimalsFor(millimetres * per));
        return `${formatNumber(Number(number) + by[name] / per, decimals, notation)}${unit}`;
      },
    );
    return moved === list ? [] : [setAttribute(text, element, name, moved)];
  });
