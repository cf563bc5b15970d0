import type { Point } from '../../geometry/point.ts';
import { type ArcSegment, bulgeOf, type LineSegment } from '../../geometry/segment.ts';
import type { BSpline } from '../../geometry/spline.ts';
import { apply, scaling } from '../../geometry/transform.ts';
import type { NewTag } from './edits.ts';

/** The tags of new entities. */

/** Decimals of coordinates in a file made afresh, in millimetres. */
export const PLACES = 6;

export const text = (code: number, value: string): NewTag => ({ code, text: value });
export const integer = (code: number, value: number): NewTag => ({ code, integer: value });
export const real = (code: number, value: number, places = PLACES): NewTag => ({ code, real: value, places });

/** Decimals of what is measured in no unit: knots, and bulges (0.5e-8 of half a chord of a metre is nothing). */
const KNOT_PLACES = 12;
const BULGE_PLACES = 8;

export const pointTags = (code: number, p: Point, places: number): NewTag[] => [
  { code, real: p.x, places },
  { code: code + 10, real: p.y, places },
];

/** SPLINE after its marker: planar, degree 3, with the decimals that coordinates need and at least six. */
export const splineTags = (spline: BSpline, places: number): NewTag[] => {
  const fine = Math.max(6, places);
  return [
    { code: 70, integer: 8 },
    { code: 71, integer: spline.degree },
    { code: 72, integer: spline.knots.length },
    { code: 73, integer: spline.controls.length },
    { code: 74, integer: 0 },
    { code: 42, real: 1e-7, places: 7 },
    { code: 43, real: 1e-7, places: 7 },
    ...spline.knots.map((k): NewTag => ({ code: 40, real: k, places: KNOT_PLACES })),
    ...spline.controls.flatMap((p) => [...pointTags(10, p, fine), { code: 30, real: 0, places: 1 } satisfies NewTag]),
  ];
};

export interface PolylineVertex {
  readonly at: Point;
  readonly bulge: number;
}

/** The vertices of lines and arcs end to end; the last point is left out when the line is closed. */
export const verticesOf = (pieces: readonly (LineSegment | ArcSegment)[], closed: boolean): PolylineVertex[] => {
  const vertices = pieces.map((s) => ({ at: s.from, bulge: s.kind === 'arc' ? bulgeOf(s) : 0 }));
  const last = pieces.at(-1);
  return closed || last === undefined ? vertices : [...vertices, { at: last.to, bulge: 0 }];
};

/** LWPOLYLINE after its marker. */
export const lwpolylineTags = (vertices: readonly PolylineVertex[], closed: boolean, places: number): NewTag[] => [
  { code: 90, integer: vertices.length },
  { code: 70, integer: closed ? 1 : 0 },
  ...vertices.flatMap((v) => [
    ...pointTags(10, v.at, Math.max(6, places)),
    ...(v.bulge === 0 ? [] : [{ code: 42, real: v.bulge, places: BULGE_PLACES } satisfies NewTag]),
  ]),
];

/** A plane seen from behind. */
export const BEHIND: readonly NewTag[] = [
  { code: 210, real: 0, places: 1 },
  { code: 220, real: 0, places: 1 },
  { code: 230, real: -1, places: 1 },
];

/** From a plane seen from behind to world coordinates, and back. */
export const TURNED_ROUND = scaling(-1, 1);
export const turnedRound = (p: Point): Point => apply(TURNED_ROUND, p);
