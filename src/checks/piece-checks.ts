import type { Finding } from '../finding.ts';
import { selfCrossings } from '../geometry/crossings.ts';
import { flatten } from '../geometry/flatten.ts';
import { distanceToPath, polyline, signedArea } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance, subtract, turnBetween, turnOver } from '../geometry/point.ts';
import { edgeRuns, outlineSegments, ringRange } from '../pattern/edges.ts';
import type { Edge, Outline, Piece } from '../pattern/piece.ts';
import { isUntouched, onceForEachEdge, onceForEachOutline } from './of-the-block.ts';

/* Checks on one piece, before against after. Each gives findings, none when the piece is sound. */

/** An outline may gape by this much more than the file drew it, mm: what its last decimals are worth. */
const CLOSED = 0.01;
/** The stretch within which a turn counts as one, mm (a corner is the turn within 5 mm of line). */
const TURN_WITHIN = 5;
/** How much more a seam may turn within that stretch than it did, radians. */
const FAIR = Math.PI / 180;
/** What an allowance may differ, mm. */
const ALLOWANCE = 0.2;
/** What the grain may turn, radians. */
const GRAIN = 1e-4;

export const outlineFindings = (before: Piece, after: Piece): Finding[] => {
  const lines: readonly (readonly [string, Outline | undefined, Outline | undefined])[] = [
    ['seam line', before.seamLine, after.seamLine],
    ['cutting line', before.cuttingLine, after.cuttingLine],
  ];
  return lines.flatMap(([name, was, is]) => (was && is && was !== is ? outlineFaults(after.id, name, was, is) : []));
};

const outlineFaults = (piece: string, name: string, was: Outline, is: Outline): Finding[] => {
  const path = { segments: outlineSegments(is), closed: true };
  if (widestGap(is) > widestGap(was) + CLOSED)
    return [fault('check-outline-open', piece, `The ${name} does not close.`)];
  if (signedArea(path) <= 0) return [fault('check-outline-reversed', piece, `The ${name} is turned inside out.`)];
  const crossings = selfCrossings(path).length;
  if (crossings === 0 || crossings <= crossingsBefore(was)) return [];
  return [fault('check-outline-crosses', piece, `The ${name} crosses itself.`)];
};

/** How often the block's own outline crosses itself; the block is the same for all fittings. */
const crossingsBefore = onceForEachOutline(
  (outline) => selfCrossings({ segments: outlineSegments(outline), closed: true }).length,
);

/** Greatest distance between the end of one segment and the start of the next, mm. */
const widestGap = (outline: Outline): number => {
  const segments = outlineSegments(outline);
  return Math.max(0, ...segments.map((s, i) => distance(s.to, (segments[(i + 1) % segments.length] as typeof s).from)));
};

const fault = (code: string, piece: string, message: string): Finding => ({
  code,
  level: 'error',
  where: { piece },
  message,
  try: 'Ask for less at this place, share the change over more seams, or take another size.',
});

/**
 * The greatest turn of an edge within 5 mm of line, radians, and where; corners of the edge itself left out.
 * @param over stretch over which the turn is taken, mm; told for 5 mm of it
 */
export const sharpestTurn = (piece: Piece, edge: Edge, over: number): { turn: number; at: Point } => {
  const reach = Math.max(1, Math.round(over));
  const mouths = lineDartMouths(piece, edge);
  let sharpest = { turn: 0, at: { x: 0, y: 0 } };
  for (const run of edgeRuns(piece, edge)) {
    const points = evenly(flatten(run, 0.01), 1);
    for (let i = reach; i + reach < points.length; i++) {
      const here = points[i] as Point;
      if (mouths.some((m) => distance(here, m.middle) < m.half + reach)) continue;
      const turn = turnOver(points[i - reach] as Point, here, points[i + reach] as Point);
      const told = (Math.abs(turn) * TURN_WITHIN) / reach;
      if (told > sharpest.turn) sharpest = { turn: told, at: here };
    }
  }
  return sharpest;
};

/** Where darts drawn as lines open the edge: there the seam is fair when the dart is folded, not as it lies. */
const lineDartMouths = (piece: Piece, edge: Edge): { middle: Point; half: number }[] =>
  piece.darts
    .filter((d) => d.edge === edge.id && d.drawn.as === 'lines')
    .map(({ mouth: [a, b] }) => ({ middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, half: distance(a, b) / 2 }));

/** Chords up to this long make up a digitized curve, mm. */
const CHORD = 30;

/** A curve digitized in chords turns only at its vertices: the turn is taken over as long a stretch as its chords. */
const stretchOf = (piece: Piece, edge: Edge): number => {
  const segments = edgeRuns(piece, edge).flat();
  const chords = segments.filter((s) => s.kind === 'line').map((s) => distance(s.from, s.to));
  return Math.max(TURN_WITHIN, ...chords.filter((c) => c <= CHORD));
};

/** Points every `step` mm along a row of points. */
const evenly = (row: readonly Point[], step: number): Point[] => {
  const out: Point[] = row[0] ? [row[0]] : [];
  let left = step;
  for (let i = 1; i < row.length; i++) {
    let a = row[i - 1] as Point;
    const b = row[i] as Point;
    let d = distance(a, b);
    while (d >= left) {
      a = { x: a.x + ((b.x - a.x) * left) / d, y: a.y + ((b.y - a.y) * left) / d };
      out.push(a);
      d = distance(a, b);
      left = step;
    }
    left -= d;
  }
  return out;
};

const turnBefore = onceForEachEdge((piece, edge) => {
  const over = stretchOf(piece, edge);
  return { over, was: sharpestTurn(piece, edge, over).turn };
});

export const fairnessFindings = (before: Piece, after: Piece): Finding[] =>
  after.seamLine === before.seamLine
    ? []
    : after.edges.flatMap((edge) => {
        if (isUntouched(before, after, edge)) return [];
        const { over, was } = turnBefore(before, edge);
        const is = sharpestTurn(after, edge, over);
        if (is.turn - was <= FAIR) return [];
        const more = ((is.turn - was) * 180) / Math.PI;
        return [
          {
            code: 'check-not-fair',
            level: 'warning' as const,
            where: { piece: after.id, edge: edge.id },
            message: `The ${edge.role} turns ${more.toFixed(1)}° more within 5 mm than it did.`,
            try: 'Look at the place on the written piece and redraw the curve by hand, or ask for less.',
          },
        ];
      });

export const grainFindings = (before: Piece, after: Piece): Finding[] => {
  const was = before.grainline;
  const is = after.grainline;
  if (!was || !is || was === is) return [];
  const turned = turnBetween(subtract(was.to, was.from), subtract(is.to, is.from));
  if (Math.abs(turned) <= GRAIN) return [];
  return [
    {
      code: 'check-grain-turned',
      level: 'error',
      where: { piece: after.id },
      message: `The grainline is turned by ${((turned * 180) / Math.PI).toFixed(2)}°.`,
      try: 'This is a fault of the alteration: please report it with the pattern.',
    },
  ];
};

/** Distances of the cutting line from an edge of the seam line, evenly along it, mm. */
export const allowancesAlong = (piece: Piece, edge: Edge): number[] => {
  if (!piece.cuttingLine || edge.cuttingFirst === undefined || edge.cuttingLast === undefined) return [];
  const cut = piece.cuttingLine.spans;
  const along = ringRange(edge.cuttingFirst, edge.cuttingLast, cut.length).flatMap((i) => cut[i]?.segments ?? []);
  const path = polyline(flatten(along, 0.01));
  if (path.segments.length === 0) return [];
  const mouths = lineDartMouths(piece, edge);
  const places = edgeRuns(piece, edge)
    .flatMap((run) => evenly(flatten(run, 0.01), EVERY))
    .filter((p) => mouths.every((m) => distance(p, m.middle) > m.half + EVERY));
  return places.map((p) => distanceToPath(path, p) ?? 0);
};

/** Allowances are measured this far apart, mm; not over the mouth of a dart, where caps rise. */
const EVERY = 8;

const middling = (values: readonly number[]): number | undefined =>
  [...values].sort((a, b) => a - b)[values.length >> 1];

const allowanceBefore = onceForEachEdge((piece, edge) => middling(allowancesAlong(piece, edge)));

export const allowanceFindings = (before: Piece, after: Piece): Finding[] =>
  after.cuttingLine === before.cuttingLine
    ? []
    : after.edges.flatMap((edge) => {
        if (isUntouched(before, after, edge)) return [];
        const was = allowanceBefore(before, edge);
        const is = middling(allowancesAlong(after, edge));
        if (was === undefined || is === undefined || Math.abs(is - was) <= ALLOWANCE) return [];
        return [
          {
            code: 'check-allowance-changed',
            level: 'warning' as const,
            where: { piece: after.id, edge: edge.id },
            message: `The allowance along the ${edge.role} was ${was.toFixed(1)} mm and is ${is.toFixed(1)} mm.`,
            try: 'Measure the allowance on the written piece before cutting.',
          },
        ];
      });
