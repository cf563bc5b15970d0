import { polyline } from '../../geometry/path.ts';
import { add, type Point, point } from '../../geometry/point.ts';
import { arcAbout } from '../../geometry/segment.ts';
import type { TextMark } from '../sheet.ts';
import type { ToolHole, ToolStroke } from '../tool-strokes.ts';
import { numeral, pair, strokedPath } from './content.ts';
import type { Lettering } from './lettering.ts';
import { SOLID } from './strokes.ts';

/** Operators that draw one stroke, in mm; width, dashes and colour of its purpose are set already. */
export const drawn = (stroke: ToolStroke, onPaper: boolean, lettering: Lettering): string => {
  switch (stroke.kind) {
    case 'line':
      return strokedPath(stroke.path);
    case 'point':
      return solid([dot(stroke.at)]);
    case 'hole':
      return hole(stroke, onPaper);
    case 'text':
      return text(stroke.text, lettering);
  }
};

const solid = (lines: readonly string[]): string => ['q', SOLID, ...lines, 'Q'].join('\n');

/** A line of no length: with round ends, a dot as wide as the line (ISO 32000-1, 8.5.3.2). */
const dot = (at: Point): string => `${pair(at)} m\n${pair(at)} l\nS`;

/** The rim; on paper a cross within it too, to put the awl to. */
const hole = ({ at, diameter }: ToolHole, onPaper: boolean): string => {
  const r = diameter / 2;
  if (r === 0) return solid([dot(at)]);
  const rim = strokedPath({ segments: [arcAbout(at, r, 0, 2 * Math.PI)], closed: true });
  const arm = (x: number, y: number): string => strokedPath(polyline([add(at, point(-x, -y)), add(at, point(x, y))]));
  return solid(onPaper ? [rim, arm(r, 0), arm(0, r)] : [rim]);
};

const text = (mark: TextMark, lettering: Lettering): string => {
  const { runs } = lettering.set(mark.text);
  const size = mark.height / lettering.capitals;
  const width = runs.reduce((sum, r) => sum + r.width, 0) * size;
  const narrowed = mark.room !== undefined && width > mark.room ? mark.room / width : 1;
  const cos = Math.cos(mark.angle);
  const sin = Math.sin(mark.angle);
  const back = mark.anchor === 'middle' ? (width * narrowed) / 2 : 0;
  const matrix = [cos * narrowed, sin * narrowed, -sin, cos].map((v) => numeral(v, 6)).join(' ');
  const at = pair({ x: mark.at.x - cos * back, y: mark.at.y - sin * back });
  const shown = runs.map((r) => `/${r.font} ${numeral(size)} Tf ${r.glyphs} Tj`);
  return ['BT', `${matrix} ${at} Tm`, ...shown, 'ET'].join('\n');
};
