import type { ChordPoint } from '../../geometry/chords.ts';
import { angleOf, type Point } from '../../geometry/point.ts';
import type { DxfHabits, TextMark } from '../sheet.ts';
import { entityHead } from './draw.ts';
import type { NewTag } from './edits.ts';
import { turnDegrees } from './entities/shape.ts';
import { integer, lwpolylineTags, pointTags, real, text } from './make.ts';
import type { Handles } from './names.ts';
import { encodeText } from './text.ts';

/** The few entities that every cutter takes, in R12 and in R2000. Millimetres. */
export interface EntitySpelling {
  readonly version: DxfHabits['version'];
  readonly ids: Handles;
  /** Block record of the model space; R12 has none. */
  readonly owner: string;
  readonly places: number;
}

const headed = (spelling: EntitySpelling, type: string, marker: string, layer: string, rest: readonly NewTag[]) =>
  spelling.version === 'R12'
    ? [text(0, type), text(8, layer), ...rest]
    : [...entityHead(type, layer, spelling.owner, spelling.ids, []), text(100, marker), ...rest];

const place = (code: number, p: Point, { places }: EntitySpelling): NewTag[] => [
  ...pointTags(code, p, places),
  real(code + 20, 0, 1),
];

/** A LINE for two points, else a polyline; R12 knows only the one of VERTEX entities. */
export const lineEntity = (
  points: readonly Pick<ChordPoint, 'at'>[],
  closed: boolean,
  layer: string,
  spelling: EntitySpelling,
): NewTag[] => {
  const [first, second] = points;
  if (points.length === 2 && !closed && first && second) {
    return headed(spelling, 'LINE', 'AcDbLine', layer, [
      ...place(10, first.at, spelling),
      ...place(11, second.at, spelling),
    ]);
  }
  if (spelling.version === 'R2000') {
    const vertices = points.map(({ at }) => ({ at, bulge: 0 }));
    return headed(spelling, 'LWPOLYLINE', 'AcDbPolyline', layer, lwpolylineTags(vertices, closed, spelling.places));
  }
  return [
    ...[text(0, 'POLYLINE'), text(8, layer), integer(66, 1), ...place(10, { x: 0, y: 0 }, spelling)],
    integer(70, closed ? 1 : 0),
    ...points.flatMap(({ at }) => [text(0, 'VERTEX'), text(8, layer), ...place(10, at, spelling)]),
    ...[text(0, 'SEQEND'), text(8, layer)],
  ];
};

export const circleEntity = (at: Point, diameter: number, layer: string, spelling: EntitySpelling): NewTag[] =>
  headed(spelling, 'CIRCLE', 'AcDbCircle', layer, [
    ...place(10, at, spelling),
    real(40, diameter / 2, spelling.places),
  ]);

/** A point; code 50 says which way a notch cuts in. */
export const pointEntity = (at: Point, inward: Point | undefined, layer: string, spelling: EntitySpelling): NewTag[] =>
  headed(spelling, 'POINT', 'AcDbPoint', layer, [
    ...place(10, at, spelling),
    ...(inward ? [real(50, turnDegrees(angleOf(inward)))] : []),
  ]);

/** A text; `narrow` is its width factor. */
export const textEntity = (
  mark: Pick<TextMark, 'text' | 'at' | 'angle' | 'height' | 'anchor'>,
  narrow: number,
  layer: string,
  spelling: EntitySpelling,
): NewTag[] => {
  const middle = mark.anchor === 'middle';
  return headed(spelling, 'TEXT', 'AcDbText', layer, [
    ...place(10, mark.at, spelling),
    real(40, mark.height, spelling.places),
    text(1, encodeText(mark.text, { name: 'ascii' })),
    ...(Math.abs(mark.angle) < 1e-9 ? [] : [real(50, turnDegrees(mark.angle))]),
    ...(narrow === 1 ? [] : [real(41, narrow, 4)]),
    ...(middle ? [integer(72, 1), ...place(11, mark.at, spelling)] : []),
    ...(spelling.version === 'R12' ? [] : [text(100, 'AcDbText')]),
  ]);
};

/** Whether the text is beyond the 7 bits of ASCII. */
export const isEscaped = (words: string): boolean => /[^\x20-\x7e\s]/u.test(words);
