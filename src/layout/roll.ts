import type { Finding } from '../finding.ts';
import type { Frame, Margins, Sheet, SheetMark } from '../formats/sheet.ts';
import { pathBounds } from '../geometry/path.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Arrangement, PlacedPiece } from './arrange.ts';
import { type DrawnPiece, drawPiece, placing } from './draw.ts';
import { paragraph, RULER, ruler, SQUARE_IN, SQUARE_MM, testSquare } from './guides.ts';
import { shifted } from './marks.ts';

/** Length of roll taken at the start by test squares, words and a ruler, mm. */
const HEAD = 126;
/** Between the head and the first piece, and at the end of a frame, mm. */
const APART = 5;

export interface RollOptions {
  /** Across, mm. */
  readonly width: number;
  readonly margins: Margins;
  /** Whether test squares and rulers are drawn. */
  readonly guides: boolean;
  /** The lower edge is the fold of the cloth: pieces lie on it, and the ruler along the roll goes to the other edge. */
  readonly folded: boolean;
  readonly gap: number;
  /** Longest frame among the formats to be written, mm; absent when none has a limit. */
  readonly longest?: number;
  readonly title: string;
  /** Lines printed at the start. */
  readonly words: readonly string[];
}

/** A stretch of roll that can be one frame. Everything in it is in the roll's own position. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly DrawnPiece[];
}

/** Pieces where they lie on a roll, x along it from its start, y from its lower edge. */
export interface Roll {
  readonly options: RollOptions;
  readonly stretches: readonly Stretch[];
  /** Length of roll used, margins and head included, mm. */
  readonly length: number;
  readonly findings: readonly Finding[];
}

/** What is left across the roll for pieces, mm. */
export const stripHeight = ({ width, margins, guides, folded }: Omit<RollOptions, 'title' | 'words'>): number =>
  width - margins.top - (folded ? 0 : margins.bottom) - (guides ? RULER : 0);

/** What is left along the longest frame for pieces, mm. */
export const stripLongest = ({ longest, margins, guides }: RollOptions): number | undefined =>
  longest === undefined ? undefined : longest - margins.left - margins.right - (guides ? HEAD + APART : 0);

/** Puts the arrangement on the roll, in stretches no longer than a frame, each ending between pieces. */
export const roll = (arrangement: Arrangement, options: RollOptions): Roll => {
  const { margins, gap } = options;
  const head = options.guides ? HEAD + APART : 0;
  const low = options.folded ? 0 : margins.bottom + (options.guides ? RULER : 0);
  const groups = split(arrangement.pieces, stripLongest(options), gap);
  const stretches: Stretch[] = [];
  let from = 0;
  for (const group of groups.stretches) {
    const start = (stretches.length === 0 ? margins.left + head : from + gap) - group.from;
    const pieces = group.pieces.map(({ piece }) =>
      drawPiece({ ...piece, offset: { x: piece.offset.x + start, y: piece.offset.y + low } }),
    );
    const to = group.to + start;
    stretches.push({ from: stretches.length === 0 ? 0 : group.from + start, to, pieces });
    from = to;
  }
  if (stretches.length === 0) stretches.push({ from: 0, to: margins.left + head, pieces: [] });
  const length = (stretches.at(-1) as Stretch).to + margins.right;
  const findings = stretches.flatMap((s) => s.pieces.flatMap((p) => p.findings));
  return {
    options,
    stretches,
    length,
    findings: [...findings, ...(groups.moved ? [movedForFrames(groups.stretches.length)] : [])],
  };
};

interface Group {
  readonly from: number;
  readonly to: number;
  readonly pieces: readonly Boxed[];
}
interface Boxed {
  readonly piece: PlacedPiece;
  readonly from: number;
  readonly to: number;
}

/**
 * Fills one frame after the other along the strip. What would stand across the end goes into the next, together with
 * all that lies after it, so pieces keep their places among each other and nothing comes to lie on another.
 */
const split = (
  pieces: readonly PlacedPiece[],
  longest: number | undefined,
  gap: number,
): { readonly stretches: readonly Group[]; readonly moved: boolean } => {
  const boxed = pieces.map((piece): Boxed => {
    const b = pathBounds(transformPath(placing(piece), piece.template.outline));
    return { piece, from: b.minX, to: b.maxX };
  });
  let left = boxed.toSorted((a, b) => a.from - b.from);
  const stretches: Group[] = [];
  let moved = false;
  while (left.length > 0) {
    const from = (left[0] as Boxed).from;
    const end = from + (longest ?? Number.POSITIVE_INFINITY);
    const inside = left.filter((b, i) => b.to <= end + 1e-6 || i === 0);
    const to = Math.max(...inside.map((b) => b.to));
    left = left.filter((b) => !inside.includes(b));
    if (left.some((b) => b.from < to + gap - 1e-6)) moved = true;
    stretches.push({ from, to, pieces: inside });
  }
  return { stretches, moved };
};

/** The roll as frames of at most `longest` mm, or as one when there is no limit. */
export const rollSheet = (given: Roll, longest: number | undefined): Sheet => {
  const { options, stretches, length } = given;
  const whole = longest === undefined || length <= longest + 1e-6;
  const parts = whole
    ? [{ from: 0, to: length - options.margins.right, pieces: stretches.flatMap((s) => s.pieces) }]
    : stretches;
  return { title: options.title, frames: parts.map((part, i) => frameOf(part, i, parts.length, options)) };
};

const frameOf = (part: Stretch, index: number, count: number, options: RollOptions): Frame => {
  const { margins, width, guides } = options;
  const start = index === 0 ? 0 : part.from - margins.left;
  const frameWidth = part.to - start + margins.right;
  const pieces = part.pieces.flatMap((p) => p.marks).map((m) => shifted(m, -start, 0));
  return {
    name: String(index + 1),
    title: count === 1 ? options.title : `${options.title}, part ${index + 1} of ${count}`,
    width: frameWidth,
    height: width,
    marks: [...(guides && index === 0 ? head(frameWidth, options) : []), ...pieces],
  };
};

/** Test squares, rulers along both ways of the roll, and what to know before it is cut. */
const head = (length: number, { width, margins, title, words, folded }: RollOptions): SheetMark[] => {
  const x = margins.left;
  const y = margins.bottom + RULER + 4;
  const free = width - margins.top - (folded ? RULER : 0) - y;
  const alongAt = folded ? width - margins.top - RULER : margins.bottom;
  const acrossAt = folded ? margins.bottom : margins.bottom + RULER;
  const along = ruler(x, alongAt, length - margins.left - margins.right, 'x');
  const across = ruler(x + HEAD - RULER, acrossAt, width - margins.top - margins.bottom - RULER, 'y');
  const squares = testSquare(x + 2, y, SQUARE_MM, '100 mm');
  const second = free >= SQUARE_MM + SQUARE_IN + 10 ? testSquare(x + 2, y + SQUARE_MM + 6, SQUARE_IN, '4 in') : [];
  const top = y + SQUARE_MM + (second.length > 0 ? SQUARE_IN + 12 : 6);
  const room = free + y - top - 2;
  const text = room > 60 ? paragraph([title, ...words], { x: x + 8, y: top }, 4, room, Math.PI / 2) : [];
  return [...along, ...across, ...squares, ...second, ...text];
};

const movedForFrames = (count: number): Finding => ({
  code: 'layout-moved-for-frames',
  level: 'note',
  where: {},
  message: `The plot is longer than one page may be. It is in ${count} frames, and pieces were moved along so that none is cut in two.`,
  try: 'Nothing to do. Formats without a longest page have the whole roll in one frame.',
});
