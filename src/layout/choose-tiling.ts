import { Bug } from '../finding.ts';
import type { Margins } from '../formats/sheet.ts';
import { boundsOfPoints } from '../geometry/bounds.ts';
import { flatten } from '../geometry/flatten.ts';
import { signedArea } from '../geometry/path.ts';
import { type Arrangement, type ArrangeOptions, arrange } from './arrange.ts';
import type { Copies } from './copies.ts';
import { landscape, type PaperSize } from './paper-sizes.ts';
import { heightOfRows, type TileOptions, tiling, windowOf } from './tiles.ts';

export interface TilingRequest {
  readonly paper: PaperSize;
  readonly margins: Margins;
  readonly overlap: number;
  /** Height of the plan, mm, when it is asked for; else the one that takes the fewest sheets. */
  readonly height?: number;
}

export interface TilingChoice {
  readonly options: TileOptions;
  readonly height: number;
}

/** More rows than this are not tried; nobody tapes a plan so wide together without asking for it. */
const MOST_ROWS = 8;
/** How full a loose layout is, to tell which few plans are worth laying out. */
const LOOSE = 0.6;
const TRIED = 3;
/** Effort of a first layout that only counts sheets. */
const ROUGH = 800;

/** The way of the paper and the number of rows that take the fewest sheets; undefined when margins leave nothing. */
export const chooseTiling = (
  copies: readonly Copies[],
  { paper, margins, overlap, height }: TilingRequest,
  options: Omit<ArrangeOptions, 'height'>,
): TilingChoice | undefined => {
  const ways = [paper, landscape(paper)].map((p): TileOptions => ({ paper: p, margins, overlap }));
  const usable = ways.filter((w) => windowOf(w).step.x > 0 && windowOf(w).step.y > 0);
  const tried = usable
    .flatMap((way) =>
      (height === undefined ? rowsFor(copies, way) : [height]).map((h) => ({ options: way, height: h })),
    )
    .map((choice) => ({ ...choice, sheets: expected(copies, choice) }))
    .sort((a, b) => a.sheets - b.sheets)
    .slice(0, TRIED);
  const [only] = tried;
  if (!only) return undefined;
  if (tried.length === 1 || height !== undefined) return only;
  const counted = tried.map((choice) => {
    const { arrangement, findings } = arrange(copies, {
      ...options,
      height: choice.height,
      effort: ROUGH,
      onProgress: (told) => options.onProgress?.({ ...told, doing: 'counting sheets' }),
    });
    return { choice, lost: findings.filter((f) => f.level === 'error').length, sheets: sheetsFor(arrangement, choice) };
  });
  const best = counted.sort((a, b) => a.lost - b.lost || a.sheets - b.sheets)[0];
  if (!best) throw new Bug('no tiling was counted');
  return best.choice;
};

const rowsFor = (copies: readonly Copies[], way: TileOptions): number[] => {
  const needed = Math.max(...copies.map((c) => leastAcross(c)));
  const heights = Array.from({ length: MOST_ROWS }, (_, i) => heightOfRows(i + 1, way));
  const enough = heights.filter((h) => h >= needed);
  return enough.length > 0 ? enough : [heightOfRows(Math.ceil((needed - way.overlap) / windowOf(way).step.y), way)];
};

const leastAcross = ({ template }: Copies): number => {
  const box = boundsOfPoints(flatten(template.outline, 1));
  return Math.min(box.maxX - box.minX, box.maxY - box.minY);
};

const expected = (copies: readonly Copies[], { options, height }: TilingChoice): number => {
  const area = copies.reduce((sum, c) => sum + (c.asDrawn + c.mirrored) * signedArea(c.template.outline), 0);
  const longest = Math.max(
    ...copies.map((c) => {
      const box = boundsOfPoints(flatten(c.template.outline, 1));
      const [low, high] = [
        Math.min(box.maxX - box.minX, box.maxY - box.minY),
        Math.max(box.maxX - box.minX, box.maxY - box.minY),
      ];
      return high <= height ? low : high;
    }),
  );
  const { columns, rows } = tiling(Math.max(longest, area / (LOOSE * height)), height, options);
  return columns * rows;
};

const sheetsFor = (arrangement: Arrangement, { options, height }: TilingChoice): number => {
  const { columns, rows } = tiling(arrangement.length, height, options);
  return columns * rows;
};
