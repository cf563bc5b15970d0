import type { Finding } from '../finding.ts';
import { boundsOfPoints, heightOfBounds } from '../geometry/bounds.ts';
import { flatten } from '../geometry/flatten.ts';
import { signedArea } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Copies } from './copies.ts';
import { lotsOf } from './lots.ts';
import {
  allRound,
  EFFORTS,
  type EffortName,
  type NestItem,
  type Nesting,
  type NestProgress,
  type NestStrip,
  nest,
  type Pose,
  placed as placedAt,
} from './nest/index.ts';
import type { LayingProgress } from './progress.ts';
import type { Lay, Template } from './template.ts';

/** A copy of a piece where it lies. A point p of the template lies at `offset + turned(mirrored(p))`, mirrored x → −x. */
export interface PlacedPiece {
  readonly template: Template;
  /** Counted from 1, of `of` of this template. */
  readonly copy: number;
  readonly of: number;
  readonly mirror: boolean;
  /** Radians, anticlockwise. */
  readonly turn: number;
  readonly offset: Point;
}

/** Pieces on a strip from x = 0 to `length` and y = 0 to `height`, mm. */
export interface Arrangement {
  readonly pieces: readonly PlacedPiece[];
  readonly length: number;
  readonly height: number;
  /** Area of the pieces ÷ area of the strip. */
  readonly density: number;
  readonly iterations: number;
  readonly seed: number;
}

export interface ArrangeOptions {
  readonly lay: Lay;
  /** All pieces with their tops the same way. */
  readonly nap: boolean;
  readonly height: number;
  readonly gap: number;
  readonly effort: EffortName | number;
  readonly seed: number;
  /** The longest that a piece may lie along the strip, mm. */
  readonly longest?: number;
  /** URL of the search bundled as a worker; it changes the time taken, never the layout. */
  readonly worker?: string | undefined;
  readonly onProgress?: ((progress: LayingProgress) => void) | undefined;
}

/** Greatest distance between a curve and the chords the layout reckons with, mm; the gap takes it up. */
const CHORDS = 0.1;
/** Turns tried on paper, evenly all round. */
const PAPER_TURNS = 8;
/** Searches from this effort on, of which the best is taken. */
const SEARCHES = { from: EFFORTS.good, count: 2 } as const;

/** Lays the copies as close as the search finds, in lots where they are many. Pieces that cannot fit are left out and told. */
export const arrange = (
  copies: readonly Copies[],
  options: ArrangeOptions,
): { readonly arrangement: Arrangement; readonly findings: readonly Finding[] } => {
  const asked = copies.flatMap((c) => itemsOf(c, options));
  const { fit, findings } = fitting(asked, options);
  const pieces: PlacedPiece[] = [];
  let length = 0;
  let iterations = 0;
  const lots = lotsOf(fit);
  const told = { doing: 'laying out', pieces: countOf(fit), lots: lots.length } as const;
  for (const [i, lot] of lots.entries()) {
    const start = length === 0 ? 0 : length + options.gap;
    const before = { ...told, laid: pieces.length, lot: i + 1, inLot: countOf(lot) };
    const nesting = laid(lot, options, (p) => options.onProgress?.({ ...before, ...p, length: start + p.length }));
    pieces.push(...placedFrom(lot, nesting, start));
    length = start + nesting.length;
    iterations += nesting.iterations;
    findings.push(...nesting.hulled.map((i) => hulled(lot[i] as Asked)));
  }
  if (lots.length > 1) findings.push(inLots(told));
  const area = fit.reduce((sum, f) => sum + f.item.copies * Math.abs(signedArea(f.template.outline)), 0);
  const density = length > 0 ? area / (length * options.height) : 0;
  const arrangement = {
    pieces: numbered(pieces),
    length,
    height: options.height,
    density,
    iterations,
    seed: options.seed,
  };
  return { arrangement, findings };
};

interface Asked {
  readonly template: Template;
  readonly item: NestItem;
}

/** A mirrored copy is an item of its own: a pair is never two of a kind. */
const itemsOf = ({ template, asDrawn, mirrored }: Copies, options: ArrangeOptions): Asked[] =>
  [
    { copies: asDrawn, mirror: false },
    { copies: mirrored, mirror: true },
  ].flatMap(({ copies, mirror }) => {
    if (copies === 0) return [];
    const outline = flatten(template.outline, Math.min(CHORDS, Math.max(0.01, options.gap / 10)));
    const poses = posesOf(template, mirror, options);
    return [{ template, item: { name: `${template.fitting} ${template.id}`, outline, copies, poses } }];
  });

/** The ways a piece may lie. Mirrored is x → −x, so a mirrored piece turned half round has its top where it was. */
const posesOf = (template: Template, mirror: boolean, { lay, nap }: ArrangeOptions): Pose[] => {
  if (template.half === 'on fold') return foldPoses(template, nap);
  if (lay === 'paper') return allRound(PAPER_TURNS).map((p) => ({ ...p, mirror }));
  const half: Pose = { turn: Math.PI, mirror };
  const none: Pose = { turn: 0, mirror };
  if (nap) return [mirror ? half : none];
  return [none, half];
};

/** The fold lies along the lower edge. The cloth is double, so the piece may lie either side up. */
const foldPoses = (template: Template, nap: boolean): Pose[] => {
  const { fold } = template;
  if (!fold) return [];
  const low = fold.from.y <= boundsOfPoints(flatten(template.outline, CHORDS)).minY + 0.5;
  const kept: Pose = low ? { turn: 0, mirror: false, pin: 'low' } : { turn: Math.PI, mirror: true, pin: 'low' };
  const reversed: Pose = low ? { turn: 0, mirror: true, pin: 'low' } : { turn: Math.PI, mirror: false, pin: 'low' };
  return nap ? [kept] : [kept, reversed];
};

const fitting = (
  asked: readonly Asked[],
  options: ArrangeOptions,
): { readonly fit: readonly Asked[]; readonly findings: Finding[] } => {
  const findings: Finding[] = [];
  const fit = asked.flatMap((a) => {
    const poses = a.item.poses.filter((pose) => fits(a.item, pose, options));
    if (poses.length > 0) return [{ ...a, item: { ...a.item, poses } }];
    findings.push(tooWide(a, options));
    return [];
  });
  return { fit, findings };
};

const sizes = (item: NestItem, pose: Pose): { along: number; across: number } => {
  const box = boundsOfPoints(item.outline.map((p) => placedAt(p, pose, { x: 0, y: 0 })));
  return { along: box.maxX - box.minX, across: heightOfBounds(box) };
};

const fits = (item: NestItem, pose: Pose, { height, longest }: ArrangeOptions): boolean => {
  const { along, across } = sizes(item, pose);
  return across <= height + 1e-6 && (longest === undefined || along <= longest + 1e-6);
};

const countOf = (asked: readonly Asked[]): number => asked.reduce((sum, a) => sum + a.item.copies, 0);

const laid = (
  lot: readonly Asked[],
  options: ArrangeOptions,
  onProgress: (progress: NestProgress) => void,
): Nesting => {
  const { height, gap, effort, seed, worker } = options;
  const strip: NestStrip = { height, gap };
  const trials = typeof effort === 'number' ? effort : EFFORTS[effort];
  const searches = trials >= SEARCHES.from ? SEARCHES.count : 1;
  return nest(
    lot.map((a) => a.item),
    strip,
    { effort, seed, searches, onProgress, ...(worker ? { worker } : {}) },
  );
};

const placedFrom = (lot: readonly Asked[], nesting: Nesting, start: number): PlacedPiece[] =>
  nesting.placements
    .map((p) => ({ ...p, template: (lot[p.item] as Asked).template }))
    .map(({ template, turn, mirror, offset }) => ({
      ...{ template, copy: 0, of: 0, mirror, turn },
      offset: { x: offset.x + start, y: offset.y },
    }));

/** Copies counted from 1 along the strip, those as drawn first. */
const numbered = (pieces: readonly PlacedPiece[]): PlacedPiece[] => {
  const templates = [...new Set(pieces.map((p) => p.template))];
  return templates.flatMap((template) => {
    const ordered = pieces
      .filter((p) => p.template === template)
      .toSorted((a, b) => Number(a.mirror) - Number(b.mirror) || a.offset.x - b.offset.x || a.offset.y - b.offset.y);
    return ordered.map((p, i) => ({ ...p, copy: i + 1, of: ordered.length }));
  });
};

const inLots = ({ pieces, lots }: Pick<LayingProgress, 'pieces' | 'lots'>): Finding => ({
  code: 'layout-in-lots',
  level: 'note',
  where: {},
  message: `${pieces} pieces are laid in ${lots} lots of whole fittings, in the order given, one lot after the other along the strip. Among so many, each piece is not compared with every other: time and memory would grow with the square of their number.`,
  try: 'Nothing to do. Each lot has the whole effort, so --effort good or best saves length here as on a small plot.',
});

const hulled = ({ template }: Asked): Finding => ({
  code: 'layout-outline-hulled',
  level: 'warning',
  where: { piece: template.id, ...(template.fitting === '' ? {} : { fitting: template.fitting }) },
  message: `The outline of ${template.name} crosses itself; room was kept for the whole of it, hollows and all.`,
  try: 'Mend the outline in the pattern, and it will lie closer.',
});

const tooWide = ({ template, item }: Asked, { height, longest, lay }: ArrangeOptions): Finding => {
  const all = item.poses.map((pose) => sizes(item, pose));
  const least = Math.min(...all.map((s) => s.across));
  const long = longest !== undefined && least <= height;
  const whose = template.fitting === '' ? {} : { fitting: template.fitting };
  return {
    code: long ? 'layout-piece-too-long' : 'layout-piece-too-wide',
    level: 'error',
    where: { piece: template.id, ...whose },
    message: long
      ? `${template.name} is ${Math.round(Math.min(...all.map((s) => s.along)))} mm long, and one frame takes ${Math.round(longest)} mm. It was left out.`
      : `${template.name} is ${Math.round(least)} mm wide ${lay === 'paper' ? 'at the least' : 'with its grain along the roll'}, and ${Math.floor(height)} mm are free between the margins. It was left out.`,
    try: long
      ? 'Let pages be longer (--user-unit for PDF), write another format, or tile it with --paper.'
      : 'Take a wider roll or cloth, smaller margins, or tile it with --paper.',
  };
};
