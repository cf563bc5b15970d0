import type { Finding } from '../finding.ts';
import type { SheetMark } from '../formats/sheet.ts';
import { type Bounds, boundsOfPoints } from '../geometry/bounds.ts';
import { flatten } from '../geometry/flatten.ts';
import { pathBounds, reversedPath, signedArea } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { type Affine, apply, transformPath } from '../geometry/transform.ts';
import type { PlacedPiece } from './arrange.ts';
import { type DrawnLine, letter, uprightAngle, type Wording } from './lettering.ts';
import { markBounds, moved, type PieceMark, textWidth } from './marks.ts';
import { cosSin } from './nest/item.ts';
import type { TemplateText } from './template.ts';

/** A placed piece with everything on it, where it lies. */
export interface DrawnPiece {
  readonly piece: PlacedPiece;
  /** As it is told apart on the sheet: 'Dorothea: Skirt front 1 of 2'. */
  readonly label: string;
  readonly marks: readonly SheetMark[];
  /** Of the outline, mm. */
  readonly bounds: Bounds;
  /** Of the outline and of all that is drawn past it. */
  readonly extent: Bounds;
  readonly findings: readonly Finding[];
}

/** Height of the letters that name a piece, mm. */
const NAME = 8;
const DETAIL = 5;

export const labelOf = ({ template, copy, of }: PlacedPiece): string => {
  const whose = template.fitting === '' ? '' : `${template.fitting}: `;
  return `${whose}${template.name}${of > 1 ? ` ${copy} of ${of}` : ''}`;
};

/** The map from the template to the sheet. */
export const placing = ({ turn, mirror, offset }: Pick<PlacedPiece, 'turn' | 'mirror' | 'offset'>): Affine => {
  const { cos, sin } = cosSin(turn);
  const k = mirror ? -1 : 1;
  return { a: k * cos, b: k * sin, c: -sin, d: cos, e: offset.x, f: offset.y };
};

export const drawPiece = (piece: PlacedPiece): DrawnPiece => {
  const by = placing(piece);
  const label = labelOf(piece);
  const lines = piece.template.marks.map((mark): SheetMark => ({ ...anticlockwise(moved(mark, by)), piece: label }));
  const outline = transformPath(by, piece.template.outline);
  const ring = flatten(outline, 0.2);
  const own = piece.template.texts.map((text) => wordingOf(text, piece, by));
  const lettering = letter(ring, [...own, ...namings(piece, ring)], label, drawnLines(lines));
  const marks = [...lines, ...lettering.texts];
  const bounds = pathBounds(outline);
  const extent = boundsOfPoints(
    marks.map(markBounds).flatMap((b) => [
      { x: b.minX, y: b.minY },
      { x: b.maxX, y: b.maxY },
    ]),
  );
  const findings = lettering.findings.map((f) => ({ ...f, where: { ...f.where, piece: piece.template.id } }));
  return { piece, label, marks, bounds, extent, findings };
};

const drawnLines = (marks: readonly SheetMark[]): DrawnLine[] =>
  marks.flatMap((m) => (m.kind === 'path' ? [{ points: flatten(m.path, 1), closed: m.path.closed }] : []));

/** Mirroring turns an outline the other way round; outlines stay anticlockwise. */
const anticlockwise = (mark: PieceMark): PieceMark =>
  mark.kind === 'path' && mark.path.closed && signedArea(mark.path) < 0
    ? { ...mark, path: reversedPath(mark.path) }
    : mark;

/** The pattern's own text, read upright: it goes where its middle goes, and never mirrored. */
const wordingOf = ({ text, at, angle, height }: TemplateText, piece: PlacedPiece, by: Affine): Wording => {
  const half = textWidth(text, height) / 2;
  const middle = {
    x: at.x + half * Math.cos(angle) - (height / 2) * Math.sin(angle),
    y: at.y + half * Math.sin(angle) + (height / 2) * Math.cos(angle),
  };
  const turned = piece.mirror ? Math.PI - angle : angle;
  return { text, height, angle: uprightAngle(turned + piece.turn), near: apply(by, middle) };
};

/** What is added to a piece: whose it is, its name where the pattern prints none, and which of how many. */
const namings = (piece: PlacedPiece, ring: readonly Point[]): Wording[] => {
  const { template } = piece;
  const box = boundsOfPoints(ring);
  const angle = box.maxY - box.minY > 1.2 * (box.maxX - box.minX) ? Math.PI / 2 : 0;
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const printed = template.texts.some((t) => t.text.toLowerCase().includes(template.name.toLowerCase()));
  const name = template.fitting === '' ? template.name : `${template.fitting}: ${template.name}`;
  const named = printed && template.fitting === '' ? [] : [{ text: name, height: NAME }];
  const detail = detailOf(piece);
  const lines = [...named, ...(detail === '' ? [] : [{ text: detail, height: DETAIL }])];
  return lines.map((line, i) => {
    const down = 1.6 * NAME * i;
    return {
      ...line,
      angle,
      offLines: true,
      near: { x: middle.x + down * Math.sin(angle), y: middle.y - down * Math.cos(angle) },
    };
  });
};

const detailOf = ({ template, copy, of, mirror }: PlacedPiece): string =>
  [
    of > 1 ? `${copy} of ${of}` : '',
    mirror && template.half !== 'on fold' ? 'mirrored' : '',
    template.half === 'on fold' ? 'on the fold' : '',
    template.half === 'opened' ? 'whole' : '',
    template.cloth === 'shell' ? '' : template.cloth,
  ]
    .filter((word) => word !== '')
    .join(', ');
