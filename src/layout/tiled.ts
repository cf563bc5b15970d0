import type { Finding } from '../finding.ts';
import type { Frame, Sheet, SheetMark } from '../formats/sheet.ts';
import { type Bounds, boundsOfPoints, containsPoint, overlap as meet } from '../geometry/bounds.ts';
import { polyline } from '../geometry/path.ts';
import { clipPath } from './clip.ts';
import { cover } from './cover.ts';
import type { DrawnPiece } from './draw.ts';
import { box, guide, guideText, registration } from './guides.ts';
import { shifted, textCorners } from './marks.ts';
import { HEADER, registrationPlaces, type Tile, type Tiling, tileName, tilesOf } from './tiles.ts';

export interface TiledOptions {
  readonly tiling: Tiling;
  readonly title: string;
  readonly words: readonly string[];
  /** Whether the first page with map, test squares and rulers is made. */
  readonly cover: boolean;
}

/** A plan cut up into sheets of paper: the first page, then every sheet on which something is drawn. */
export const tiledSheet = (
  pieces: readonly DrawnPiece[],
  options: TiledOptions,
): { readonly sheet: Sheet; readonly used: readonly string[]; readonly findings: readonly Finding[] } => {
  const { tiling, title } = options;
  const marks = pieces.flatMap((p) => p.marks);
  const all = tilesOf(tiling);
  const cut = all.map((tile) => ({ tile, marks: marksOn(marks, tile.shows) }));
  const used = cut.filter((c) => c.marks.length > 0);
  const names = used.map((u) => u.tile.name);
  const frames = used.map(({ tile, marks: own }) => frameOf(tile, own, options, names));
  const first = options.cover ? [cover(pieces, { tiling, title, words: options.words, used: names })] : [];
  const blank = all.filter((t) => !names.includes(t.name)).map((t) => t.name);
  return {
    sheet: { title, frames: [...first, ...frames] },
    used: names,
    findings: blank.length > 0 ? [blankTiles(blank)] : [],
  };
};

/** What a window shows of the marks, in the plan's position: lines cut exactly at its rim, texts whole. */
export const marksOn = (marks: readonly SheetMark[], shows: Bounds): SheetMark[] =>
  marks.flatMap((mark): SheetMark[] => {
    switch (mark.kind) {
      case 'path':
        return clipPath(mark.path, shows).map((path) => ({ ...mark, path }));
      case 'text':
        return meet(boundsOfPoints(textCorners(mark)), shows) ? [mark] : [];
      default:
        return containsPoint(shows, mark.at) ? [mark] : [];
    }
  });

const frameOf = (tile: Tile, marks: readonly SheetMark[], options: TiledOptions, used: readonly string[]): Frame => {
  const { tiling, title } = options;
  const { paper, margins, window } = tiling;
  const dx = margins.left - tile.shows.minX;
  const dy = margins.bottom - tile.shows.minY;
  const registrations = registrationPlaces(tiling, tile).flatMap((p) => registration(p));
  return {
    name: tile.name,
    title: `${title}, sheet ${tile.name}`,
    width: paper.width,
    height: paper.height,
    trim: { x: margins.left, y: margins.bottom, width: window.width, height: window.height },
    marks: [
      ...sheetEdges(tile, tiling),
      ...headerOf(tile, options, used),
      ...[...registrations, ...marks].map((m) => shifted(m, dx, dy)),
    ],
  };
};

/** The edge to trim along, and on it where the neighbours' edges come to lie. */
const sheetEdges = (tile: Tile, { margins, window, step, columns, rows }: Tiling): SheetMark[] => {
  const [x, y] = [margins.left, margins.bottom];
  const marks: SheetMark[] = [guide(box(x, y, window.width, window.height))];
  if (tile.column < columns - 1) marks.push(...dashes(x + step.x, y, window.height, 'y'));
  if (tile.row < rows - 1) marks.push(...dashes(y + step.y, x, window.width, 'x'));
  return marks;
};

/** Short strokes, 3 in every 9 mm, across the sheet at a fixed place. */
const dashes = (fixed: number, start: number, length: number, along: 'x' | 'y'): SheetMark[] =>
  Array.from({ length: Math.floor((length - 3) / 9) + 1 }, (_, i) => {
    const [from, to] = [start + i * 9, start + i * 9 + 3];
    return guide(
      along === 'x'
        ? polyline([
            { x: from, y: fixed },
            { x: to, y: fixed },
          ])
        : polyline([
            { x: fixed, y: from },
            { x: fixed, y: to },
          ]),
    );
  });

/** `B3` in large letters, then the title, and which sheets lie round it. */
const headerOf = (tile: Tile, { tiling, title }: TiledOptions, used: readonly string[]): SheetMark[] => {
  const { margins, window, columns, rows } = tiling;
  const y = margins.bottom + window.height + 2.5;
  const round = [
    { word: 'left', row: tile.row, column: tile.column - 1 },
    { word: 'right', row: tile.row, column: tile.column + 1 },
    { word: 'above', row: tile.row + 1, column: tile.column },
    { word: 'below', row: tile.row - 1, column: tile.column },
  ]
    .filter((n) => n.row >= 0 && n.row < rows && n.column >= 0 && n.column < columns)
    .map((n) => ({ ...n, name: tileName(tiling, n.row, n.column) }))
    .filter((n) => used.includes(n.name))
    .map((n) => `${n.word} ${n.name}`);
  const words = [title, ...round].join(' · ');
  return [
    guideText(tile.name, { x: margins.left + 2, y }, HEADER - 3),
    guideText(words, { x: margins.left + 22, y }, 2.8, { room: window.width - 24 }),
  ];
};

const blankTiles = (names: readonly string[]): Finding => ({
  code: 'layout-blank-tiles',
  level: 'note',
  where: {},
  message: `Nothing is drawn on ${names.length === 1 ? 'sheet' : 'sheets'} ${names.join(', ')}: left out.`,
  try: 'Nothing to do; the first page shows where they would lie.',
});
