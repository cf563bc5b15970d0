import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { add, between, distance, scale, subtract, unit } from '../geometry/point.ts';
import { line } from '../geometry/segment.ts';
import type { Dart, InnerLine, Piece } from '../pattern/piece.ts';
import { fromPaper } from '../pattern/upright.ts';
import { along, at, edgeRun, inDarts, mouthIndex, pointsOf } from './runs.ts';
import { type Prick, pricked, type Tracing, trace } from './tracing.ts';

/*
 * A slit is a dart of no width: the paper cut from an edge towards a point, nothing opened yet. The verbs that swing
 * parts of the paper open it to a dart, or close a strip beside it, as they do with a dart that was there before.
 */

/** Width of a slit, mm: its two mouths have to be told apart, and nobody can measure it. */
const HAIR = 0.001;

export interface Slit {
  readonly tracing: Tracing;
  /** Id of the dart that it is. */
  readonly dart: string;
}

const evidence = { evidence: [{ says: 'drawn by an alteration', weight: 1 }], confidence: 1 };

/**
 * Cuts a slit into an edge, or, with a width, marks a strip there as a dart of that width.
 * @param place taken to the nearest place of the edge outside its darts; the middle of the mouth
 * @param tip upright frame, as the paper lies now
 */
export const slit = (tracing: Tracing, edgeId: string, place: Point, tip: Point, width = HAIR): Slit => {
  const middle = placeAlong(tracing, edgeId, place);
  const like = drawnLike(tracing);
  const dart = freshName(tracing);
  const first = prickAlong(tracing, edgeId, middle - width / 2, { dart, which: 0 });
  const second = prickAlong(first.tracing, edgeId, middle + width / 2, { dart, which: 1 });
  const home = fromPaper(tracing.piece.upright, tip);
  const lineId = `new:${dart}:${like}`;
  const mouth = [first.prick.home, second.prick.home] as const;
  const newDart: Dart = {
    id: dart,
    edge: edgeId,
    drawn: { as: 'lines', lines: [lineId] },
    mouth,
    tip: home,
    ...evidence,
  };
  const legs: InnerLine = {
    id: lineId,
    kind: 'dart',
    closed: false,
    spans: [{ segments: [line(mouth[0], home)] }, { segments: [line(home, mouth[1])] }],
    ...evidence,
  };
  const { piece } = tracing;
  const slitted: Piece = { ...piece, darts: [...piece.darts, newDart], lines: [...piece.lines, legs] };
  const traced = trace(slitted);
  return {
    dart,
    tracing: {
      ...second.tracing,
      piece: slitted,
      lines: new Map([...tracing.lines, [lineId, traced.lines.get(lineId) ?? []]]),
      tips: new Map([...tracing.tips, [dart, { was: tip, at: tip }]]),
    },
  };
};

const freshName = ({ piece }: Tracing): string => {
  const taken = new Set(piece.darts.map((d) => d.id));
  let n = 1;
  while (taken.has(`slit-${n}`)) n++;
  return `slit-${n}`;
};

/** Takes a slit out again: its mouths are pricks no more. */
export const withoutSlit = (tracing: Tracing, dartId: string): Tracing => {
  const dart = tracing.piece.darts.find((d) => d.id === dartId);
  const lines = dart?.drawn.as === 'lines' ? dart.drawn.lines : [];
  const { piece } = tracing;
  return {
    ...tracing,
    piece: {
      ...piece,
      darts: piece.darts.filter((d) => d !== dart),
      lines: piece.lines.filter((l) => !lines.includes(l.id)),
    },
    seam: tracing.seam.filter((p) => p.mouth?.dart !== dartId),
    lines: new Map([...tracing.lines].filter(([id]) => !lines.includes(id))),
    tips: new Map([...tracing.tips].filter(([id]) => id !== dartId)),
  };
};

/** A dart that is there already shows how darts are drawn in this pattern. */
const drawnLike = ({ piece }: Tracing): string =>
  piece.lines.find((l) => l.kind === 'dart' && !l.id.startsWith('new:'))?.id ??
  piece.seamLine.spans.find((s) => s.source)?.source?.drawable ??
  '';

/** Room between the mouth of a new dart and another, or a corner, mm. */
const CLEAR = 1;

/** How far along the sewn edge, in seam direction, the place lies that is nearest to a point; mm from its start on the paper. */
const placeAlong = (tracing: Tracing, edgeId: string, p: Point): number => {
  const run = edgeRun(tracing, edgeId);
  const points = pointsOf(tracing, run);
  const way = along(points);
  const darts = inDarts(tracing, edgeId);
  let best = { along: Number.NaN, away: Number.POSITIVE_INFINITY };
  run.slice(1).forEach((index, k) => {
    const [from, to] = [run[k] as number, index];
    if (darts.has(from) && darts.has(to) && darts.get(from)?.dart === darts.get(to)?.dart) return;
    const [a, b] = [points[k] as Point, points[k + 1] as Point];
    const length = distance(a, b);
    if (length === 0) return;
    const t = Math.min(1, Math.max(0, dotAlong(a, b, p) / length));
    const away = distance(p, between(a, b, t));
    if (away < best.away) best = { along: (way[k] as number) + t * length, away };
  });
  return Math.min((way.at(-1) as number) - CLEAR, Math.max(CLEAR, best.along));
};

const dotAlong = (a: Point, b: Point, p: Point): number => {
  const d = unit(subtract(b, a));
  return (p.x - a.x) * d.x + (p.y - a.y) * d.y;
};

/** A mouth pricked into an edge, so far along it. */
const prickAlong = (
  tracing: Tracing,
  edgeId: string,
  far: number,
  mouth: NonNullable<Prick['mouth']>,
): { tracing: Tracing; prick: Prick } => {
  const run = edgeRun(tracing, edgeId);
  const way = along(pointsOf(tracing, run));
  const k = way.findIndex((d, i) => i > 0 && d > far);
  if (k < 1) throw new Bug('a slit past the end of its edge');
  const [i, j] = [run[k - 1] as number, run[k] as number];
  const t = (far - (way[k - 1] as number)) / ((way[k] as number) - (way[k - 1] as number));
  const [a, b] = [tracing.seam[i], tracing.seam[j]] as [Prick, Prick];
  const prick: Prick = { ...pricked(a, b, Math.max(1e-9, t)), corner: true, bends: true, mouth };
  return {
    tracing: { ...tracing, seam: [...tracing.seam.slice(0, i + 1), prick, ...tracing.seam.slice(i + 1)] },
    prick,
  };
};

/** Mouths of a dart, first to last in seam direction, as the paper lies now. */
export const mouthsOf = (tracing: Tracing, dartId: string): readonly [Point, Point] => [
  at(tracing, mouthIndex(tracing, dartId, 0)),
  at(tracing, mouthIndex(tracing, dartId, 1)),
];

/** Point so far from `from` towards `to`. */
export const towards = (from: Point, to: Point, by: number): Point => add(from, scale(unit(subtract(to, from)), by));
