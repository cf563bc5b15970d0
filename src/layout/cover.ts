import type { Frame, PathMark, SheetMark } from '../formats/sheet.ts';
import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import { type Affine, compose, scaling, transformPath, translation } from '../geometry/transform.ts';
import type { DrawnPiece } from './draw.ts';
import { placing } from './draw.ts';
import { box, guide, guideText, paragraph, RULER, ruler, SQUARE_IN, SQUARE_MM, testSquare } from './guides.ts';
import { type Tiling, tilesOf } from './tiles.ts';

export interface CoverOptions {
  readonly tiling: Tiling;
  readonly title: string;
  readonly words: readonly string[];
  /** Names of the sheets that are printed. */
  readonly used: readonly string[];
}

interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const SPACE = 6;

/** The page to print and measure first: both test squares, rulers along both edges, what to do, and a map of the sheets. */
export const cover = (pieces: readonly DrawnPiece[], options: CoverOptions): Frame => {
  const { paper, margins } = options.tiling;
  const page = {
    x: margins.left,
    y: margins.bottom,
    width: paper.width - margins.left - margins.right,
    height: paper.height - margins.top - margins.bottom,
  };
  const inner = { x: page.x + RULER + 4, y: page.y + RULER + 4 };
  const upright = page.height >= page.width;
  const second = upright
    ? { x: inner.x, y: inner.y + SQUARE_MM + SPACE }
    : { x: inner.x + SQUARE_MM + SPACE, y: inner.y };
  const squaresTop = second.y + SQUARE_IN;
  const squaresRight = second.x + SQUARE_IN;
  const top = {
    x: inner.x,
    y: squaresTop + SPACE,
    width: page.width - RULER - 4,
    height: page.y + page.height - squaresTop - SPACE,
  };
  const side = {
    x: squaresRight + SPACE,
    y: inner.y,
    width: page.x + page.width - squaresRight - SPACE,
    height: squaresTop - inner.y,
  };
  return {
    name: 'first',
    title: `${options.title}, first page: measure it before the others are printed`,
    width: paper.width,
    height: paper.height,
    marks: [
      ...ruler(page.x + RULER, page.y, page.width - RULER, 'x'),
      ...ruler(page.x, page.y + RULER, page.height - RULER, 'y'),
      ...testSquare(inner.x, inner.y, SQUARE_MM, '100 mm'),
      ...testSquare(second.x, second.y, SQUARE_IN, '4 in'),
      ...heading(top, options),
      ...map(pieces, side, options),
    ],
  };
};

const heading = (area: Area, { title, words }: CoverOptions): SheetMark[] => [
  guideText(title, { x: area.x, y: area.y + area.height - 6 }, 5, { room: area.width }),
  ...paragraph(words, { x: area.x, y: area.y + area.height - 13 }, 2.6, area.width),
];

/** The sheets in small, with their names, and the pieces across them. */
const map = (pieces: readonly DrawnPiece[], area: Area, { tiling, used }: CoverOptions): SheetMark[] => {
  const { step, window, columns, rows } = tiling;
  const [width, height] = [(columns - 1) * step.x + window.width, (rows - 1) * step.y + window.height];
  const k = Math.min(area.width / width, (area.height - 8) / height);
  if (k <= 0) return [];
  const to: Affine = compose(translation({ x: area.x, y: area.y + area.height - 8 - k * height }), scaling(k));
  const sheets = tilesOf(tiling).flatMap((tile): SheetMark[] => {
    const x = to.e + k * tile.column * step.x;
    const y = to.f + k * tile.row * step.y;
    const [w, h] = [
      k * (tile.column < columns - 1 ? step.x : window.width),
      k * (tile.row < rows - 1 ? step.y : window.height),
    ];
    const letters = Math.min(4, h / 4, w / 4);
    const name = guideText(tile.name, { x: x + w / 2, y: y + h / 2 - letters / 2 }, letters, {
      anchor: 'middle',
      room: 0.9 * w,
    });
    return [guide(box(x, y, w, h)), ...(used.includes(tile.name) ? [name] : crossedOut(x, y, w, h))];
  });
  const outlines = pieces.map(
    (p): PathMark => guide(inSmall(transformPath(placing(p.piece), p.piece.template.outline), to)),
  );
  const count = `${used.length} sheets, ${rows} ${rows === 1 ? 'row' : 'rows'} of ${columns}`;
  return [
    guideText(count, { x: area.x, y: area.y + area.height - 4 }, 3, { room: area.width }),
    ...sheets,
    ...outlines,
  ];
};

const inSmall = (path: Path, to: Affine): Path => transformPath(to, path);

const crossedOut = (x: number, y: number, w: number, h: number): SheetMark[] => [
  guide(
    polyline([
      { x, y },
      { x: x + w, y: y + h },
    ]),
  ),
  guide(
    polyline([
      { x, y: y + h },
      { x: x + w, y },
    ]),
  ),
];
