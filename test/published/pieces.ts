import type { Needs, Plan, PlanOptions } from '../../src/alterations/contract.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { arcAbout, line, type Segment } from '../../src/geometry/segment.ts';
import type { Judged } from '../../src/pattern/evidence.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Edge, EdgeRole, Level, PaperPoint, PartName, Piece } from '../../src/pattern/piece.ts';

/* Small pieces of straight lines, drawn by hand in inches, on which a published amount can be followed with a ruler. */

export const MM = 25.4;
export const inches = (mm: number): number => mm / MM;

const stated: Judged = { evidence: [{ says: 'drawn so', weight: 1 }], confidence: 1 };

export type XY = readonly [x: number, y: number];

export interface Drawn {
  readonly id?: string;
  readonly part?: PartName;
  readonly half?: boolean;
  readonly cut?: number;
  /** Corners anticlockwise, inches; the first edge begins at the first. */
  readonly corners: readonly XY[];
  /** Role of each edge, and how many sides of the outline it takes. */
  readonly edges: readonly (readonly [EdgeRole, number])[];
  /** Darts in the outline of the waist: index of the side that is the first leg. */
  readonly darts?: readonly number[];
  /** Height of the hip level, inches. */
  readonly hip?: number;
  /** Height of the middle of a double adjustment line, its two lines ¼ in apart. */
  readonly line?: number;
  /** Drill holes. */
  readonly holes?: readonly XY[];
}

const mm = ([x, y]: XY) => ({ x: x * MM, y: y * MM });

export const pieceOf = (drawn: Drawn): Piece => {
  const corners = drawn.corners.map(mm);
  const sides = corners.map((c, i) => line(c, corners[(i + 1) % corners.length] as typeof c));
  return pieceAlong(drawn, sides);
};

/** A piece along any segments, mm. */
export const pieceAlong = (drawn: Omit<Drawn, 'corners'>, sides: readonly Segment[]): Piece => {
  const id = drawn.id ?? 'front';
  const roles = drawn.edges.map(([role]) => role);
  let next = 0;
  const edges = drawn.edges.map(([role, count], i): Edge => {
    const first = next;
    next += count;
    const again = roles.slice(0, i).filter((r) => r === role).length;
    return { id: again > 0 ? `${role}-${again + 1}` : role, role, first, last: next - 1, allowance: 0, ...stated };
  });
  const bounds = [...sides.map((s) => s.from)];
  const far = Math.max(...bounds.map((p) => p.x));
  const levels: Level[] = drawn.hip === undefined ? [] : [{ name: 'hip', height: drawn.hip * MM, ...stated }];
  const height = drawn.line === undefined ? undefined : drawn.line * MM;
  const adjustment =
    height === undefined ? [] : [height + MM / 8, height - MM / 8].map((y) => line({ x: 0, y }, { x: far, y }));
  return {
    id,
    name: id,
    part: drawn.part ?? 'skirt front',
    partJudged: stated,
    upright: { origin: { x: 0, y: 0 }, up: { x: 0, y: 1 }, ...stated },
    half: drawn.half ?? true,
    cut: { count: drawn.cut ?? 1, mirrored: false, cloth: 'shell', ...stated },
    seamLine: {
      spans: sides.map((s, index) => ({ source: { drawable: `${id}-seam`, index, reversed: false }, segments: [s] })),
    },
    seamLineFrom: 'drawn',
    edges,
    levels,
    darts: (drawn.darts ?? []).map((first, i) => ({
      id: `dart-${i + 1}`,
      edge: 'waist',
      drawn: { as: 'outline', first, last: first + 1 },
      mouth: [(sides[first] as Segment).from, (sides[first + 1] as Segment).to],
      tip: (sides[first] as Segment).to,
      ...stated,
    })),
    notches: [],
    lines: adjustment.map((s, i) => ({
      id: `${id}-adjustment-${i}`,
      kind: 'adjustment',
      closed: false,
      spans: [{ source: { drawable: `${id}-adjustment-${i}`, index: 0, reversed: false }, segments: [s] }],
      ...stated,
    })),
    points: (drawn.holes ?? []).map(
      (at, i): PaperPoint => ({ id: `${id}-hole-${i}`, kind: 'drill', at: mm(at), ...stated }),
    ),
    texts: [],
    landmarks: [],
    adjustmentLines:
      height === undefined ? [] : [{ lines: [`${id}-adjustment-0`, `${id}-adjustment-1`], height, ...stated }],
  };
};

/** A closed quarter ring: inner radius, outer radius, mm; its straight ends are the fold and the side. */
export const quarterCircle = (inner: number, outer: number): readonly Segment[] => {
  const centre = { x: 0, y: 0 };
  const quarter = Math.PI / 2;
  return [
    line({ x: 0, y: -inner }, { x: 0, y: -outer }),
    arcAbout(centre, outer, -quarter, quarter),
    line({ x: outer, y: 0 }, { x: inner, y: 0 }),
    arcAbout(centre, inner, 0, -quarter),
  ];
};

/** @param draftedFor body measurements, inches */
export const patternOf = (pieces: readonly Piece[], draftedFor: Readonly<Record<string, number>> = {}): Pattern => ({
  fileName: 'by hand',
  style: '',
  size: '',
  pieces,
  mates: [],
  draftedFor: Object.fromEntries(Object.entries(draftedFor).map(([name, n]) => [name, n * MM])),
  loose: [],
  repeats: new Map(),
  doubts: [],
  views: [],
});

/** A plain skirt quarter: fold on the left, 24 in long, `wide` at waist, hip and hem; hip level 8 in down. */
export const quarter = (id: 'front' | 'back', wide: number): Piece =>
  pieceOf({
    id,
    part: id === 'front' ? 'skirt front' : 'skirt back',
    corners: [
      [0, 0],
      [0, -24],
      [wide, -24],
      [wide, 0],
    ],
    edges: [
      ['fold', 1],
      ['hem', 1],
      ['side', 1],
      ['waist', 1],
    ],
    hip: -8,
    line: -14,
  });

/** Front and back cut on the fold, two side seams: four side edges. */
export const twoOnTheFold = (draftedFor: Readonly<Record<string, number>>): Pattern =>
  patternOf([quarter('front', 9), quarter('back', 9.5)], draftedFor);

/** Plans for body measurements and direct amounts, inches. */
export const planned = (
  pattern: Pattern,
  wanted: { readonly body?: Readonly<Record<string, number>>; readonly direct?: Readonly<Record<string, number>> },
  options: Partial<PlanOptions> = {},
): Plan => {
  const needs: Needs = {
    fitting: 'by hand',
    measurements: Object.fromEntries(Object.entries(wanted.body ?? {}).map(([name, n]) => [name, n * MM])),
    direct: Object.fromEntries(
      Object.entries(wanted.direct ?? {}).map(([name, n]) => [name, { amount: n * MM, column: `${name} (in)` }]),
    ),
  };
  return planFitting(pattern, needs, { beyondLimits: false, choices: {}, show: 'in', ...options });
};

export const errorsOf = (plan: Plan): string[] => plan.findings.filter((f) => f.level === 'error').map((f) => f.code);
