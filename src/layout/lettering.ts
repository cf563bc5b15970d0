import type { Finding } from '../finding.ts';
import type { TextMark } from '../formats/sheet.ts';
import { type Bounds, boundsOfPoints, heightOfBounds, overlap, widthOf } from '../geometry/bounds.ts';
import { type Point, turn } from '../geometry/point.ts';
import { textCorners, textWidth } from './marks.ts';
import { liesInside, meetsLine } from './text-room.ts';

/** A text to be set on a piece: where the pattern has it, or nowhere in particular. */
export interface Wording {
  readonly text: string;
  readonly height: number;
  readonly angle: number;
  /** Middle of the text, where it should stand if it can. */
  readonly near: Point;
  /** Whether it is to be kept off the lines on the piece where there is room. */
  readonly offLines?: boolean;
}

/** A line that letters had better not stand on: points, and whether the last goes back to the first. */
export interface DrawnLine {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

export interface Lettering {
  readonly texts: readonly TextMark[];
  readonly findings: readonly Finding[];
}

/** Letters lower than this are not read on a plot, mm. */
const LEAST = 1.8;
const SMALLER = 0.8;
/** Places tried across the piece, each way. */
const TRIED = 24;
/** Free around a text, mm. */
const ROOM = 1;

/** A grain drawn a hair off the straight still reads upwards, radians. */
const HAIR = 1e-3;

/** An angle at which letters stand upright on the sheet: in (−90°, 90°], so that upright lines are read upwards. */
export const uprightAngle = (angle: number): number => {
  const within = Math.atan2(Math.sin(angle), Math.cos(angle));
  const quarter = Math.PI / 2;
  if (within > quarter + HAIR) return within - Math.PI;
  return within <= -quarter + HAIR ? within + Math.PI : within;
};

/**
 * Sets texts on a piece so that each lies upright and inside the outline, clear of the others: in its own place when
 * it can, else as near to it as there is room, else smaller. What fits nowhere stays in its place and is told.
 */
export const letter = (
  outline: readonly Point[],
  wordings: readonly Wording[],
  piece: string,
  lines: readonly DrawnLine[] = [],
): Lettering => {
  const taken: Bounds[] = [];
  const texts: TextMark[] = [];
  const findings: Finding[] = [];
  for (const wording of wordings) {
    const free = { outline, taken, lines };
    const set = (wording.offLines ? setOffLines(free, wording) : undefined) ?? setOne(free, wording);
    texts.push({ ...set.mark, piece });
    taken.push(boundsOfPoints(textCorners(set.mark)));
    if (set.told) findings.push(set.told(piece));
  }
  return { texts, findings };
};

interface Set {
  readonly mark: TextMark;
  readonly told?: (piece: string) => Finding;
}

/** What a text has to keep clear of. */
interface Surroundings {
  readonly outline: readonly Point[];
  readonly taken: readonly Bounds[];
  readonly lines: readonly DrawnLine[];
}

const setOffLines = (free: Surroundings, wording: Wording): Set | undefined => {
  for (const angle of angles(wording.angle)) {
    const at = placeFor(free, { ...wording, angle });
    if (at) return { mark: markAt({ ...wording, angle }, at, wording.height) };
  }
  return undefined;
};

const setOne = (free: Surroundings, wording: Wording): Set => {
  for (let height = wording.height; height >= Math.min(LEAST, wording.height); height *= SMALLER) {
    for (const angle of angles(wording.angle)) {
      const at = placeFor({ ...free, lines: [] }, { ...wording, angle, height });
      if (!at) continue;
      const smaller = height < 0.6 * wording.height;
      return { mark: markAt({ ...wording, angle }, at, height), ...(smaller ? { told: tight(wording.text) } : {}) };
    }
  }
  return { mark: markAt(wording, wording.near, wording.height), told: outside(wording.text) };
};

/** As it is; then along the other way of the sheet, since a narrow piece has its room there. */
const angles = (angle: number): number[] => {
  const upright = uprightAngle(angle);
  return [upright, uprightAngle(upright + Math.PI / 2)];
};

const markAt = ({ text, angle }: Pick<Wording, 'text' | 'angle'>, middle: Point, height: number): TextMark => ({
  ...{ kind: 'text', purpose: 'text', text, anchor: 'middle', height, angle: uprightAngle(angle) },
  at: baseFor(middle, height, uprightAngle(angle)),
  room: textWidth(text, height),
});

/** Base line of letters whose middle lies there. */
const baseFor = (middle: Point, height: number, angle: number): Point => {
  const down = turn({ x: 0, y: -height / 2 }, angle);
  return { x: middle.x + down.x, y: middle.y + down.y };
};

/** The place nearest to the wished one where the whole text lies inside and free. */
const placeFor = ({ outline, taken, lines }: Surroundings, wording: Wording): Point | undefined => {
  const box = boundsOfPoints(outline);
  const tried = [wording.near, ...grid(box)].sort((a, b) => away(a, wording.near) - away(b, wording.near));
  return tried.find((middle) => {
    const corners = grownCorners(wording, middle);
    const own = boundsOfPoints(corners);
    if (taken.some((t) => overlap(t, own)) || !liesInside(outline, corners)) return false;
    return !lines.some((l) => meetsLine(l.points, l.closed, corners));
  });
};

const away = (a: Point, b: Point): number => (a.x - b.x) ** 2 + (a.y - b.y) ** 2;

const grid = (box: Bounds): Point[] =>
  Array.from({ length: TRIED * TRIED }, (_, i) => ({
    x: box.minX + (((i % TRIED) + 0.5) / TRIED) * widthOf(box),
    y: box.minY + ((Math.floor(i / TRIED) + 0.5) / TRIED) * heightOfBounds(box),
  }));

const grownCorners = ({ text, height, angle }: Wording, middle: Point): Point[] => {
  const half = textWidth(text, height) / 2 + ROOM;
  const up = height * 0.75 + ROOM;
  return [
    { x: -half, y: -up },
    { x: half, y: -up },
    { x: half, y: up },
    { x: -half, y: up },
  ].map((p) => {
    const turned = turn(p, angle);
    return { x: middle.x + turned.x, y: middle.y + turned.y };
  });
};

const tight =
  (text: string) =>
  (piece: string): Finding => ({
    code: 'layout-text-tight',
    level: 'note',
    where: { piece, excerpt: text },
    message: `The text “${text}” has little room on the piece and was made smaller.`,
    try: 'Nothing to do, unless it is too small to read.',
  });

const outside =
  (text: string) =>
  (piece: string): Finding => ({
    code: 'layout-text-outside',
    level: 'warning',
    where: { piece, excerpt: text },
    message: `The text “${text}” has no room inside the piece. It stands where the pattern has it and may cross the outline.`,
    try: 'Shorten the text in the pattern, or write it on the piece by hand.',
  });
