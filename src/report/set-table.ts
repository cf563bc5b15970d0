import type { Measure, PrintMark } from '../formats/print.ts';
import { polyline } from '../geometry/path.ts';
import type { Cell, Column, Row, Table } from './content.ts';
import { broken, FACES, type Face, lineHeight, ruleMark, wordMark } from './set-words.ts';
import type { Slab } from './slab.ts';
import { LIGHT } from './style.ts';

/* A ruled table on a printed sheet: caption, headings that come again on the next sheet, rows that are not torn. */

const GUTTER = 3.5;
const AIR = 1;
const BOX = 3.6;
const BAR = { width: 18, height: 1.7 };

interface Place {
  readonly column: Column;
  readonly x: number;
  readonly width: number;
}

/** @param x left edge; @param room width of the whole table */
export const tableSlabs = (table: Table, x: number, room: number, measure: Measure): Slab[] => {
  const places = placesOf(table.columns, x, room);
  const caption = broken(table.caption, room, FACES.caption, measure);
  const step = lineHeight(FACES.caption);
  const head = headSlab(places, x, room, measure);
  return [
    {
      height: caption.length * step + AIR,
      marks: caption.map((said, i) => wordMark(said, x, i * step + FACES.caption.size, FACES.caption)),
      over: 3.5,
      keep: true,
    },
    { ...head, keep: true },
    ...table.rows.map((row) => ({ ...rowSlab(row, places, x, room, measure), head })),
  ];
};

const placesOf = (columns: readonly Column[], x: number, room: number): Place[] => {
  const shares = columns.reduce((sum, c) => sum + c.share, 0);
  const free = room - GUTTER * (columns.length - 1);
  let at = x;
  return columns.map((column) => {
    const width = (free * column.share) / shares;
    const place = { column, x: at, width };
    at += width + GUTTER;
    return place;
  });
};

const headSlab = (places: readonly Place[], x: number, room: number, measure: Measure): Slab => {
  const step = lineHeight(FACES.soft);
  const cells = places.map((p) => broken(p.column.heading, p.width, FACES.soft, measure));
  const count = Math.max(1, ...cells.map((c) => c.length));
  const marks = places.flatMap((place, k) => {
    const lines = cells[k] ?? [];
    return lines.map((said, i) =>
      cellMark(said, place, (count - lines.length + i) * step + FACES.soft.size, FACES.soft),
    );
  });
  const height = count * step + AIR;
  return { height, marks: [...marks, ruleMark(x, x + room, height, LIGHT.ink)] };
};

const cellMark = (said: string, { column, x, width }: Place, y: number, face: Face): PrintMark =>
  column.align === 'end' ? wordMark(said, x + width, y, face, 'end') : wordMark(said, x, y, face);

const rowSlab = (row: Row, places: readonly Place[], x: number, room: number, measure: Measure): Slab => {
  const cells = row.map((cell, i) => cellSlab(cell, places[i] as Place, measure));
  const height = Math.max(lineHeight(FACES.cell), ...cells.map((c) => c.height)) + 2 * AIR;
  const marks = cells.flatMap((c) => c.marks);
  return { height, marks: [...marks, ruleMark(x, x + room, height, LIGHT.rule)] };
};

const cellSlab = (cell: Cell, place: Place, measure: Measure): Slab => {
  const face = cell.strong ? FACES.strong : FACES.cell;
  const step = lineHeight(face);
  const lines = cell.lines.flatMap((said) => broken(said, place.width, face, measure));
  const marks = lines.map((said, i) => cellMark(said, place, AIR + i * step + face.size, face));
  let height = lines.length * step;
  if (cell.used !== undefined) {
    marks.push(...barMarks(cell.used, place, AIR + height + 0.3));
    height += BAR.height + 1;
  }
  const boxes = boxMarks(cell.boxes ?? [], place, AIR + height, measure);
  return { height: height + boxes.height, marks: [...marks, ...boxes.marks] };
};

/** How much of the customary most is used. */
const barMarks = (used: number, place: Place, y: number): PrintMark[] => {
  const width = Math.min(BAR.width, place.width);
  const bar = (w: number): PrintMark & { kind: 'path' } => ({
    kind: 'path',
    rings: [rectangle(place.x, y, w, BAR.height)],
    closed: true,
  });
  const filled = Math.min(1, Math.max(0, used)) * width;
  return [
    ...(filled > 0 ? [{ ...bar(filled), fill: used > 1 ? LIGHT.bad : LIGHT.ink }] : []),
    { ...bar(width), stroke: { colour: LIGHT.line, width: 0.2 } },
  ];
};

/** Boxes to tick, each with its word, as many side by side as the column holds. */
const boxMarks = (labels: readonly string[], place: Place, y: number, measure: Measure): Slab => {
  const step = BOX + 1.6;
  const marks: PrintMark[] = [];
  let [x, row] = [place.x, 0];
  for (const label of labels) {
    const width = BOX + 1.5 + measure(label, FACES.cell.size, false) + 4;
    if (x > place.x && x + width > place.x + place.width + 4) [x, row] = [place.x, row + 1];
    const top = y + row * step;
    marks.push({
      kind: 'path',
      rings: [rectangle(x, top, BOX, BOX)],
      closed: true,
      stroke: { colour: LIGHT.ink, width: 0.35 },
    });
    marks.push(wordMark(label, x + BOX + 1.5, top + 2.8, FACES.cell));
    x += width;
  }
  return { height: labels.length === 0 ? 0 : (row + 1) * step, marks };
};

const rectangle = (x: number, y: number, width: number, height: number) =>
  polyline(
    [
      { x, y },
      { x: x + width, y },
      { x: x + width, y: y + height },
      { x, y: y + height },
    ],
    true,
  ).segments;
