import type { Finding } from '../finding.ts';
import type { PathMark } from '../formats/sheet.ts';
import type { Path } from '../geometry/path.ts';
import { angleOf, dot, type Point, subtract } from '../geometry/point.ts';
import { line } from '../geometry/segment.ts';
import { type Affine, apply, compose, mirrorIn, rotation, transformPath, translation } from '../geometry/transform.ts';
import type { Cloth, Piece } from '../pattern/piece.ts';
import { type Contour, type CutLine, contourOf, opened } from './contour.ts';
import { linesOn } from './lines.ts';
import { moved, type PieceMark } from './marks.ts';
import { notchesOn } from './notching.ts';
import { drillsOn } from './points.ts';

/** How the pieces are laid: on paper, on a single layer of cloth, or on cloth folded lengthwise. */
export type Lay = 'paper' | 'cloth' | 'folded';

export interface TemplateOptions {
  readonly lay: Lay;
  readonly line: CutLine;
}

/** One piece made ready to be laid: its grain along +x, the top towards +x, with all that is drawn on it. */
export interface Template {
  readonly id: string;
  readonly name: string;
  /** Whose it is; '' when the pieces are all of one. */
  readonly fitting: string;
  readonly cloth: Cloth;
  readonly count: number;
  readonly mirrored: boolean;
  /** As the pattern draws it a half, and how it is laid: as drawn, opened out to the whole, or to be put on the fold. */
  readonly half: 'no' | 'as drawn' | 'opened' | 'on fold';
  /** From the piece's own position to the one in which the grain lies along +x. */
  readonly lie: Affine;
  /** Closed, anticlockwise: what the piece takes up. */
  readonly outline: Path;
  /** The edge on the fold, when it is to be put there. */
  readonly fold?: { readonly from: Point; readonly to: Point };
  readonly marks: readonly PieceMark[];
  readonly texts: readonly TemplateText[];
  readonly findings: readonly Finding[];
}

export interface TemplateText {
  readonly text: string;
  readonly at: Point;
  readonly angle: number;
  readonly height: number;
}

export const templateOf = (piece: Piece, fitting: string, options: TemplateOptions): Template => {
  const contour = contourOf(piece, options.line);
  const lie = lying(piece);
  const half = halfOf(piece, contour, options.lay);
  const outline = half === 'opened' && contour.fold ? opened(contour.fold) : contour.path;
  const drawn = marksOf(piece, contour, half);
  const fold = half === 'on fold' && contour.fold ? { from: contour.fold.from, to: contour.fold.to } : undefined;
  const angle = Math.atan2(lie.b, lie.a);
  return {
    ...{ id: piece.id, name: piece.name || piece.id, fitting, cloth: piece.cut.cloth },
    ...{ count: piece.cut.count, mirrored: piece.cut.mirrored, half },
    lie,
    outline: transformPath(lie, outline),
    ...(fold ? { fold: { from: apply(lie, fold.from), to: apply(lie, fold.to) } } : {}),
    marks: drawn.map((mark) => moved(mark, lie)),
    texts: piece.texts.map(({ text, at, angle: a, height }) => ({
      text,
      at: apply(lie, at),
      angle: a + angle,
      height,
    })),
    findings: [
      ...contourFindings(piece, contour, options),
      ...halfFindings(piece, half, options),
      ...grainFindings(piece, options),
    ],
  };
};

/** The turn that puts the grain along +x, the top of the piece towards +x. */
const lying = (piece: Piece): Affine => {
  const { upright, grainline } = piece;
  const shaft = grainline ? subtract(grainline.to, grainline.from) : upright.up;
  const along = dot(shaft, upright.up) < 0 ? { x: -shaft.x, y: -shaft.y } : shaft;
  return compose(rotation(-angleOf(along)), translation({ x: -upright.origin.x, y: -upright.origin.y }));
};

const halfOf = (piece: Piece, contour: Contour, lay: Lay): Template['half'] => {
  if (!piece.half) return 'no';
  if (lay === 'paper' || !contour.fold) return 'as drawn';
  return lay === 'folded' ? 'on fold' : 'opened';
};

/** Everything on the piece but its texts, in the piece's own position. */
const marksOf = (piece: Piece, contour: Contour, half: Template['half']): PieceMark[] => {
  const inner: PieceMark[] = [...linesOn(piece), ...drillsOn(piece), ...notchesOn(piece, contour)];
  const seam = contour.allowed ? [path('seam', seamPath(contourOf(piece, 'seam'), half))] : [];
  const outline = path('cut', openedOrNot(contour, half));
  const { fold } = contour;
  if (!fold || half === 'as drawn' || half === 'no') return [...inner, ...seam, outline];
  const onFold: Path = { segments: [line(fold.from, fold.to)], closed: false };
  if (half === 'on fold') return [...inner, ...seam, path('crease', onFold), outline];
  const mirror = mirrorIn(fold.from, subtract(fold.to, fold.from));
  const twice = inner.flatMap((m) => (m.purpose === 'grain' ? [m] : [m, moved(m, mirror)]));
  return [...twice, ...seam, path('internal', onFold), outline];
};

/** The line that is sewn: never along a fold, whatever becomes of the fold. */
const seamPath = (seam: Contour, half: Template['half']): Path =>
  seam.fold && half === 'as drawn' ? { segments: seam.fold.rest, closed: false } : openedOrNot(seam, half);

/** A line round the piece: as drawn, opened out, or up to the fold, which is neither cut nor sewn. */
const openedOrNot = ({ path: whole, fold }: Contour, half: Template['half']): Path => {
  if (!fold || half === 'no' || half === 'as drawn') return whole;
  return half === 'opened' ? opened(fold) : { segments: fold.rest, closed: false };
};

const path = (purpose: PathMark['purpose'], drawn: Path): PathMark => ({
  kind: 'path',
  purpose,
  path: drawn,
  inner: false,
});

const contourFindings = (piece: Piece, contour: Contour, { line }: TemplateOptions): Finding[] => {
  if (contour.allowed || line === 'seam') return [];
  const only = piece.seamLineFrom === 'only outline';
  return [
    {
      code: 'layout-seam-as-cut',
      level: 'warning',
      where: { piece: piece.id },
      message: only
        ? `${piece.name || piece.id} has one outline only. It is cut as it is; its notches are drawn, not cut.`
        : `${piece.name || piece.id} has a seam line and no cutting line. The seam line is cut, without allowance; its notches are drawn, not cut.`,
      try: only
        ? 'Check whether the outline has its seam allowance; if not, add it with chalk or draw a cutting line.'
        : 'Add the allowance on the cloth, or draw a cutting line in the pattern.',
    },
  ];
};

const halfFindings = (piece: Piece, half: Template['half'], { lay }: TemplateOptions): Finding[] => {
  if (half !== 'as drawn' || lay === 'paper') return [];
  return [
    {
      code: 'layout-fold-kept',
      level: 'warning',
      where: { piece: piece.id },
      message: `${piece.name || piece.id} is half a piece, but its fold is not one straight edge without allowance. It is laid as drawn.`,
      try: 'Draw the fold as one straight line, or draw the whole piece.',
    },
  ];
};

const grainFindings = (piece: Piece, { lay }: TemplateOptions): Finding[] => {
  if (lay === 'paper' || piece.grainline) return [];
  return [
    {
      code: 'layout-no-grain',
      level: 'warning',
      where: { piece: piece.id },
      message: `${piece.name || piece.id} has no grainline. It is laid with its height along the cloth.`,
      try: 'Draw a grainline on the piece.',
    },
  ];
};
