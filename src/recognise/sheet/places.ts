import type { Drawing } from '../../formats/drawing.ts';
import type { Point } from '../../geometry/point.ts';
import type { FilePlace } from './types.ts';

/** How near a stated corner must come to a corner of the outline, mm. Wide enough for a place read off a ruler. */
export const CORNER_REACH = 5;

type Placed = Pick<Drawing, 'units' | 'format'>;

/** y counts upwards in DXF, and downwards from the top edge of the page in SVG, as viewers of each show it. */
const upwards = (drawing: Placed): 1 | -1 => (drawing.format === 'svg' ? -1 : 1);

/** A place of the pattern sheet as a point of the drawing (mm, y up). */
export const pointOfPlace = (drawing: Placed, place: FilePlace): Point => ({
  x: place.x * drawing.units.millimetresPerUnit,
  y: upwards(drawing) * place.y * drawing.units.millimetresPerUnit,
});

/** A point of the drawing (mm, y up) in the file's own units and position, as the pattern sheet and `survey` write it. */
export const placeOfPoint = (drawing: Placed, point: Point): FilePlace => ({
  x: point.x / drawing.units.millimetresPerUnit,
  y: (upwards(drawing) * point.y) / drawing.units.millimetresPerUnit,
});
