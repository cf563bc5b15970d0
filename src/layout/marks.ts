import type { DrillMark, NotchMark, PathMark, SheetMark } from '../formats/sheet.ts';
import { type Bounds, boundsOfPoints, grown } from '../geometry/bounds.ts';
import { pathBounds } from '../geometry/path.ts';
import { unit } from '../geometry/point.ts';
import { type Affine, apply, applyToVector, transformPath, translation } from '../geometry/transform.ts';

/** What is drawn on a piece, but for its texts: those must stay upright wherever the piece goes. */
export type PieceMark = PathMark | NotchMark | DrillMark;

/** The mark under a turn, a move or a mirroring. */
export const moved = <M extends PieceMark>(mark: M, by: Affine): M => {
  switch (mark.kind) {
    case 'path':
      return { ...mark, path: transformPath(by, mark.path) };
    case 'notch':
      return { ...mark, at: apply(by, mark.at), inward: unit(applyToVector(by, mark.inward)) };
    case 'drill':
      return { ...mark, at: apply(by, mark.at) };
  }
};

/** Any mark, moved without a turn. */
export const shifted = (mark: SheetMark, x: number, y: number): SheetMark =>
  mark.kind === 'text' ? { ...mark, at: { x: mark.at.x + x, y: mark.at.y + y } } : moved(mark, translation({ x, y }));

/** Letters are taken to be this wide in their height, on average; letters of a full square, as in Japanese, wider. */
const NARROW = 0.86;
const FULL = 1.42;
const FULL_WIDTH = /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6]/u;

/** Room that a text needs along its base line, mm, reckoned on the wide side. */
export const textWidth = (text: string, height: number): number =>
  [...text].reduce((sum, letter) => sum + (FULL_WIDTH.test(letter) ? FULL : NARROW), 0) * height;

/** What a mark covers, mm. Of a text, reckoned. */
export const markBounds = (mark: SheetMark): Bounds => {
  switch (mark.kind) {
    case 'path':
      return pathBounds(mark.path);
    case 'notch':
      return grown(boundsOfPoints([mark.at]), mark.depth + mark.width);
    case 'drill':
      return grown(boundsOfPoints([mark.at]), mark.diameter / 2);
    case 'text':
      return boundsOfPoints(textCorners(mark));
  }
};

/** Corners of the box round a text: from the foot of its letters to the height of its capitals. */
export const textCorners = (text: {
  readonly text: string;
  readonly at: { readonly x: number; readonly y: number };
  readonly anchor: 'start' | 'middle';
  readonly angle: number;
  readonly height: number;
  readonly room?: number;
}): { x: number; y: number }[] => {
  const width = Math.min(text.room ?? Number.POSITIVE_INFINITY, textWidth(text.text, text.height));
  const start = text.anchor === 'middle' ? -width / 2 : 0;
  const [c, s] = [Math.cos(text.angle), Math.sin(text.angle)];
  const foot = -text.height * 0.3;
  return [
    [start, foot],
    [start + width, foot],
    [start + width, text.height],
    [start, text.height],
  ].map(([x = 0, y = 0]) => ({ x: text.at.x + c * x - s * y, y: text.at.y + s * x + c * y }));
};
