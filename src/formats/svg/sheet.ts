import type { Finding } from '../../finding.ts';
import { FULL_TURN } from '../../geometry/arc.ts';
import type { Path } from '../../geometry/path.ts';
import type { Point } from '../../geometry/point.ts';
import { radiusOf } from '../../geometry/segment.ts';
import { type Affine, apply, transformSegment } from '../../geometry/transform.ts';
import { letteringWidth } from '../lettering.ts';
import {
  type Frame,
  type LineType,
  type Machine,
  PURPOSES,
  type Purpose,
  type Sheet,
  type SheetFiles,
  type SheetOptions,
  type SheetWriter,
  type Stroke,
} from '../sheet.ts';
import { leftOut, type ToolStroke, toolStrokes } from '../tool-strokes.ts';
import { SVG_NAMESPACE } from './elements.ts';
import { formatNumber } from './numbers.ts';
import { composePath } from './pathdata/splice.ts';
import { escapeFor } from './source.ts';

/** 0.0001 mm. */
const DECIMALS = 4;
const NOTATION = { decimals: 0, leadingZero: true, fixed: false };
/** Height of a capital as a part of the letter size, of usual sans serifs. */
const CAPITAL = 0.72;
/** Radius of the mark that stands for a point, mm. */
const POINT_RADIUS = 0.5;

const DASHES: Readonly<Record<Exclude<LineType, 'solid'>, string>> = {
  dashed: '6 3',
  'dash-dot': '6 2 0.5 2',
  dotted: '0.5 2',
};

/**
 * SVG in millimetres, a file to a frame: a layer to each purpose, in it a group to each piece. Curves stay curves.
 * The layers are plain groups with an id and a title; one editor's layer attributes stand beside them.
 */
const write = (sheet: Sheet, machine: Machine, options: SheetOptions): SheetFiles => {
  const findings: Finding[] = leftOut(sheet.frames, machine);
  const files = sheet.frames.map((frame) => {
    const name = sheet.frames.length === 1 ? `${options.name}.svg` : `${options.name}-${frame.name}.svg`;
    const tools = toolStrokes(frame, machine);
    findings.push(...tools.findings.map((f) => ({ ...f, where: { file: name, ...f.where } })));
    return { name, bytes: new TextEncoder().encode(page(sheet, frame, tools.strokes)) };
  });
  return { files, findings };
};

export const svgSheet: SheetWriter = { name: 'svg', extension: 'svg', write: async (...given) => write(...given) };

const number = (value: number): string => formatNumber(value, DECIMALS, NOTATION);
/** Control characters other than the tab have no place in XML 1.0 (section 2.2). */
const escaped = (text: string): string =>
  escapeFor({ encoding: 'utf-8' }, text.replace(/[^\t\x20-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, ' '));

const page = (sheet: Sheet, frame: Frame, strokes: readonly ToolStroke[]): string => {
  const [width, height] = [number(frame.width), number(frame.height)];
  const toPage: Affine = { a: 1, b: 0, c: 0, d: -1, e: 0, f: frame.height };
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="${SVG_NAMESPACE}" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `  <title>${escaped(sheet.frames.length === 1 ? sheet.title : `${sheet.title} - ${frame.title}`)}</title>`,
    ...PURPOSES.flatMap((purpose) => layer(purpose, strokes, toPage)),
    '</svg>',
    '',
  ].join('\n');
};

const layer = (purpose: Purpose, strokes: readonly ToolStroke[], toPage: Affine): string[] => {
  const own = strokes.filter((s) => s.purpose === purpose);
  const look = own[0]?.look;
  if (!look) return [];
  const lines = inGroups(own).flatMap(({ piece, strokes: group }) => {
    const elements = group.map((s) => element(s, look, toPage));
    if (piece === undefined) return elements.map((e) => `    ${e}`);
    return ['    <g>', `      <title>${escaped(piece)}</title>`, ...elements.map((e) => `      ${e}`), '    </g>'];
  });
  return [
    `  <g id="${purpose}" inkscape:groupmode="layer" inkscape:label="${purpose}" ${styleOf(look)}>`,
    `    <title>${purpose}</title>`,
    ...lines,
    '  </g>',
  ];
};

/** Strokes of one piece that follow one another; the order of work stays as it is. */
const inGroups = (strokes: readonly ToolStroke[]): { piece: string | undefined; strokes: ToolStroke[] }[] => {
  const groups: { piece: string | undefined; strokes: ToolStroke[] }[] = [];
  for (const s of strokes) {
    const last = groups[groups.length - 1];
    if (last && last.piece === s.piece) last.strokes.push(s);
    else groups.push({ piece: s.piece, strokes: [s] });
  }
  return groups;
};

const styleOf = ({ colour, width, line }: Stroke): string =>
  [
    `fill="none" stroke="${escaped(colour)}" stroke-width="${number(width)}"`,
    ...(line === 'solid' ? [] : [`stroke-dasharray="${DASHES[line]}"`]),
  ].join(' ');

const element = (stroke: ToolStroke, look: Stroke, toPage: Affine): string => {
  switch (stroke.kind) {
    case 'line':
      return lineElement(stroke.path, toPage);
    case 'hole':
      return circle(apply(toPage, stroke.at), stroke.diameter / 2);
    case 'point':
      return circle(apply(toPage, stroke.at), POINT_RADIUS);
    case 'text':
      return textElement(stroke.text, look, toPage);
  }
};

const circle = (at: Point, radius: number): string =>
  `<circle cx="${number(at.x)}" cy="${number(at.y)}" r="${number(radius)}"/>`;

const lineElement = (path: Path, toPage: Affine): string => {
  const segments = path.segments.flatMap((s) => transformSegment(toPage, s));
  const [only] = segments;
  if (segments.length === 1 && only?.kind === 'arc' && Math.abs(only.sweep) > FULL_TURN - 1e-9)
    return circle(only.centre, radiusOf(only));
  return `<path d="${composePath(segments, path.closed, DECIMALS, 0.0005)}"/>`;
};

const textElement = (mark: (ToolStroke & { kind: 'text' })['text'], look: Stroke, toPage: Affine): string => {
  const at = apply(toPage, mark.at);
  const [x, y] = [number(at.x), number(at.y)];
  const degrees = (-mark.angle * 180) / Math.PI;
  const words = [
    `x="${x}" y="${y}" font-family="sans-serif" font-size="${number(mark.height / CAPITAL)}"`,
    `fill="${escaped(look.colour)}" stroke="none"`,
  ];
  if (mark.anchor === 'middle') words.push('text-anchor="middle"');
  if (mark.room !== undefined && letteringWidth(mark.text, mark.height) > mark.room)
    words.push(`textLength="${number(mark.room)}" lengthAdjust="spacingAndGlyphs"`);
  if (Math.abs(degrees) > 1e-6) words.push(`transform="rotate(${formatNumber(degrees, 5, NOTATION)} ${x} ${y})"`);
  return `<text ${words.join(' ')}>${escaped(mark.text)}</text>`;
};
