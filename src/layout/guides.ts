import type { PathMark, SheetMark, TextMark } from '../formats/sheet.ts';
import { type Path, polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';

/** Sides of the two test squares: 100 mm, and 4 in (1 in is 25.4 mm exactly). */
export const SQUARE_MM = 100;
export const SQUARE_IN = 4 * 25.4;

/** Depth of a ruler with its figures, mm. */
export const RULER = 8;

export const guide = (path: Path): PathMark => ({ kind: 'path', purpose: 'guide', path, inner: false });

export const guideText = (
  text: string,
  at: Point,
  height: number,
  more: { readonly angle?: number; readonly anchor?: 'start' | 'middle'; readonly room?: number } = {},
): TextMark => ({
  ...{ kind: 'text', purpose: 'guide', text, at, height },
  ...{ angle: more.angle ?? 0, anchor: more.anchor ?? 'start' },
  ...(more.room === undefined ? {} : { room: more.room }),
});

export const box = (x: number, y: number, width: number, height: number): Path =>
  polyline(
    [
      { x, y },
      { x: x + width, y },
      { x: x + width, y: y + height },
      { x, y: y + height },
    ],
    true,
  );

/** A square to measure before anything is cut, its lower left corner at (x, y). */
export const testSquare = (x: number, y: number, side: number, name: string): SheetMark[] => [
  guide(box(x, y, side, side)),
  guideText(name, { x: x + side / 2, y: y + side / 2 }, 6, { anchor: 'middle', room: side - 8 }),
  guideText('measure both ways before cutting', { x: x + side / 2, y: y + side / 2 - 9 }, 3, {
    anchor: 'middle',
    room: side - 8,
  }),
];

/** A ruler along x or y from (x, y), as long as whole centimetres allow; its figures count from its own start. */
export const ruler = (x: number, y: number, length: number, along: 'x' | 'y'): SheetMark[] => {
  const centimetres = Math.floor(length / 10 + 1e-9);
  const at = (on: number, off: number): Point =>
    along === 'x' ? { x: x + on, y: y + off } : { x: x + off, y: y + on };
  const marks: SheetMark[] = [guide(polyline([at(0, 0), at(centimetres * 10, 0)]))];
  for (let i = 0; i <= centimetres; i++) {
    const tick = i % 10 === 0 ? 5 : i % 5 === 0 ? 3.5 : 2;
    marks.push(guide(polyline([at(i * 10, 0), at(i * 10, tick)])));
    if (i % 10 === 0 && i > 0 && i * 10 + 12 <= length) marks.push(figure(at(i * 10 + 1, 3), i * 10, along));
  }
  return marks;
};

const figure = (at: Point, mm: number, along: 'x' | 'y'): TextMark =>
  along === 'x'
    ? guideText(String(mm), at, 2.5)
    : guideText(String(mm), { x: at.x + 2.5, y: at.y }, 2.5, { angle: Math.PI / 2 });

/** A cross in a circle's stead, at a place that two sheets share. */
export const registration = ({ x, y }: Point, arm = 4): SheetMark[] => [
  guide(
    polyline([
      { x: x - arm, y },
      { x: x + arm, y },
    ]),
  ),
  guide(
    polyline([
      { x, y: y - arm },
      { x, y: y + arm },
    ]),
  ),
  guide(
    polyline(
      [
        { x: x - arm / 2, y },
        { x, y: y - arm / 2 },
        { x: x + arm / 2, y },
        { x, y: y + arm / 2 },
      ],
      true,
    ),
  ),
];

/** Lines of text one under the other, the first with its base line at y. */
export const paragraph = (lines: readonly string[], at: Point, height: number, room: number, angle = 0): TextMark[] =>
  lines.map((text, i) => {
    const down = 1.7 * height * i;
    const place = { x: at.x + down * Math.sin(angle), y: at.y - down * Math.cos(angle) };
    return guideText(text, place, height, { angle, room });
  });
