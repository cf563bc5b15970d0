import type { PathMark, Sheet } from '../../src/formats/sheet.ts';
import { pathBounds, pathLength, signedArea } from '../../src/geometry/path.ts';
import { python } from './python.ts';

/* Closed lines as an independent program sees them, beside what was asked for. Millimetres. */

export interface Ring {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly length: number;
  readonly area: number;
}

/** Sizes on paper may err by this part: half a millimetre in a metre. */
export const SCALE_ERROR = 0.0005;

const isClosed = (m: Sheet['frames'][number]['marks'][number]): m is PathMark => m.kind === 'path' && m.path.closed;

/** The closed lines of a frame, from left to right. */
export const ringsAsked = (sheet: Sheet, frame = 0): Ring[] =>
  inOrder(
    (sheet.frames[frame]?.marks ?? []).filter(isClosed).map(({ path }) => {
      const box = pathBounds(path);
      return {
        ...{ x: box.minX, y: box.minY, width: box.maxX - box.minX, height: box.maxY - box.minY },
        ...{ length: pathLength(path), area: Math.abs(signedArea(path)) },
      };
    }),
  );

export const inOrder = (rings: readonly Ring[]): Ring[] =>
  [...rings].sort((a, b) => Math.round(a.x - b.x) || a.area - b.area);

/** Python: `ring(points)` for a closed line. */
const RING = [
  'from shapely.geometry import Polygon, LineString',
  'from shapely.ops import linemerge',
  'def ring(points):',
  '    p = Polygon(points)',
  '    x0, y0, x1, y1 = p.bounds',
  '    return dict(x=x0, y=y0, width=x1 - x0, height=y1 - y0, length=p.exterior.length, area=p.area)',
].join('\n');

/** Closed lines in DXF files, by ezdxf: whole polylines, and LINEs that hang together. Optionally of one layer. */
export const ringsInDxf = (paths: readonly string[], layers?: readonly string[]): Ring[][] =>
  (
    python(
      [
        RING,
        'import ezdxf',
        'def rings(path):',
        '    space = ezdxf.readfile(path).modelspace()',
        '    found, loose = [], []',
        '    for e in space:',
        '        if given["layers"] and e.dxf.layer not in given["layers"]: continue',
        '        t = e.dxftype()',
        '        if t == "LWPOLYLINE" and e.closed: found.append(ring([p[:2] for p in e.get_points()]))',
        '        if t == "POLYLINE" and e.is_closed: found.append(ring([tuple(v.dxf.location)[:2] for v in e.vertices]))',
        '        if t == "LINE" and e.dxf.start != e.dxf.end: loose.append(LineString([tuple(e.dxf.start)[:2], tuple(e.dxf.end)[:2]]))',
        '    merged = linemerge(loose) if loose else []',
        '    for line in getattr(merged, "geoms", [merged] if loose else []):',
        '        if line.is_closed: found.append(ring(line.coords))',
        '    return found',
        'answer = [rings(path) for path in given["paths"]]',
      ].join('\n'),
      { paths, layers: layers ?? null },
    ) as Ring[][]
  ).map(inOrder);

/** Ratios of what was found to what was asked, width, height, length and area, that err by too much. */
export const misfits = (asked: readonly Ring[], found: readonly Ring[]): string[] => {
  if (asked.length !== found.length) return [`${found.length} closed lines for ${asked.length}`];
  return asked.flatMap((a, i) =>
    (['width', 'height', 'length', 'area'] as const).flatMap((what) => {
      const b = found[i] as Ring;
      const error = Math.abs(b[what] / a[what] - 1);
      return error <= (what === 'area' ? 2 : 1) * SCALE_ERROR ? [] : [`${what} ${b[what]} for ${a[what]} at ${a.x}`];
    }),
  );
};
