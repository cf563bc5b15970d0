import type { Point } from '../geometry/point.ts';
import { add, scale } from '../geometry/point.ts';
import { timesRound } from '../pattern/round.ts';
import { widthAcross } from './across.ts';
import { step } from './bend.ts';
import { bustsOf, moveBust } from './bust-point.ts';
import { type Garment, onPiece, tracingOf } from './garment.ts';
import { displaced } from './move-edge.ts';
import { NoRoom } from './no-room.ts';
import { along, edgeRun, lengthOfPoints, outwards, pointsOf, type Run, sewnLength } from './runs.ts';
import { prickedAtLevels, stiffMove } from './slash.ts';
import { solve, solveFor } from './solve.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';

/* The bust on a front of panels, whose seams do the work of darts: the seam is drawn out over the bust, or slid along. */

export interface PanelEdge {
  readonly piece: string;
  readonly edge: string;
}

/** Two edges sewn together: that of the panel nearer the centre, and that of the panel nearer the side. */
export interface PanelSeam {
  readonly centre: PanelEdge;
  readonly side: PanelEdge;
}

/** What widths and lengths may miss, mm. */
const WITHIN = 0.001;

/** Where along a panel seam things happen: its upper end, the bust, and the waist (or its lower end). */
interface Stations {
  readonly run: Run;
  readonly top: number;
  readonly bust: number;
  readonly foot: number;
  /** Index in the run of the prick at the bust. */
  readonly k: number;
}

const stations = (tracing: Tracing, edge: string, bust: number): Stations => {
  const run = edgeRun(tracing, edge);
  const heights = pointsOf(tracing, run).map((p) => p.y);
  const [low, top] = [Math.min(...heights), Math.max(...heights)];
  const waist = tracing.levels.get('waist');
  const foot = waist !== undefined && waist > low && waist < bust ? waist : low;
  if (bust <= foot || bust >= top) throw new NoRoom('the panel seam does not pass the bust level');
  const k = heights.reduce(
    (best, y, i) => (Math.abs(y - bust) < Math.abs((heights[best] as number) - bust) ? i : best),
    0,
  );
  return { run, top, bust, foot, k };
};

/**
 * The seam is moved by a distance at the bust, to nothing at its upper end and at the waist. Below the bust, where it runs
 * up and down, the step goes by height; above it, where it may bend over to the armhole, by the way along it.
 */
const bumped = (tracing: Tracing, edge: string, bust: number, by: Point): Tracing => {
  const { run, foot, k } = stations(tracing, edge, bust);
  const points = pointsOf(tracing, run);
  const way = along(points);
  const climbs = (points.at(-1) as Point).y > (points[0] as Point).y;
  const fromTop = (i: number): number => (climbs ? (way.at(-1) as number) - (way[i] as number) : (way[i] as number));
  const part = (p: Point, i: number): number =>
    (climbs ? i < k : i > k) ? (p.y - foot) / (bust - foot) : fromTop(i) / fromTop(k);
  const shift = points.map((p, i) => scale(by, step(Math.min(1, Math.max(0, part(p, i))))));
  return { ...tracing, seam: displaced(tracing.seam, run, shift) };
};

/** Length of a seam from its upper end to the place that stood at the bust. */
const above = (now: Tracing, { run, k }: Stations): number => {
  const points = pointsOf(now, run);
  const climbs = (points.at(-1) as Point).y > (points[0] as Point).y;
  return lengthOfPoints(climbs ? points.slice(k) : points.slice(0, k + 1));
};

/** The seam goes out by so much at the bust, and up or down there by as much as keeps its length above the bust. */
const drawnAside = (tracing: Tracing, edge: string, bust: number, out: number): Tracing => {
  const places = stations(tracing, edge, bust);
  const x = outwards(tracing, edge) * out;
  const done = (y: number): Tracing => bumped(tracing, edge, bust, { x, y });
  const length = above(tracing, places);
  return solveFor(done, (made) => above(made, places) - length, 0, -Math.abs(out) / 2, WITHIN);
};

const distinct = (edges: readonly PanelEdge[]): PanelEdge[] =>
  edges.filter((e, i) => edges.findIndex((f) => f.piece === e.piece && f.edge === e.edge) === i);

const edgesOf = (seams: readonly PanelSeam[]): PanelEdge[] => distinct(seams.flatMap((s) => [s.centre, s.side]));

/**
 * Makes a front of panels larger (smaller) at the bust: each edge of the panel seams goes out there, and up or down by as
 * much as keeps the length of the seam above the bust; the panels at the centre are drawn out between bust and
 * waist by what the seam of the side panels has gained over theirs. The seams still match.
 * @param by what each edge adds to the width at the bust level, mm; solved for
 * @param bust height of the bust level
 */
export const fullerPanels = (garment: Garment, seams: readonly PanelSeam[], by: number, bust: number): Garment => {
  const edges = edgesOf(seams);
  const pieces = [...new Set(edges.map((e) => e.piece))];
  const start = pieces.reduce((g, p) => onPiece(g, p, (t) => prickedAtLevels(t, [bust])), garment);
  const times = (piece: string): number => timesRound(tracingOf(start, piece).piece);
  const girth = (g: Garment): number =>
    pieces.reduce((sum, p) => sum + times(p) * widthAcross(tracingOf(g, p), bust), 0);
  const out = (mm: number): Garment => {
    const drawn = edges.reduce((g, { piece, edge }) => onPiece(g, piece, (t) => drawnAside(t, edge, bust, mm)), start);
    return evened(drawn, start, seams, bust);
  };
  const target = girth(start) + by * edges.reduce((sum, e) => sum + times(e.piece), 0);
  const done = solveFor(out, (made) => girth(made) - target, by, by * 0.97, WITHIN);
  return pieces.reduce((g, p) => onPiece(g, p, (t) => bustAside(t, by)), done);
};

/** The bust point that is marked on a panel goes out with its seam, at its level. */
const bustAside = (tracing: Tracing, by: number): Tracing =>
  bustsOf(tracing).reduce((t, b) => moveBust(t, tracing, b, { x: b.side * by, y: 0 }), tracing);

/** The centre panels drawn out between bust and waist until their seams have gained as much as those of the side panels. */
const evened = (now: Garment, start: Garment, seams: readonly PanelSeam[], bust: number): Garment => {
  const gained = (g: Garment, { piece, edge }: PanelEdge): number =>
    sewnLength(tracingOf(g, piece), edge) - sewnLength(tracingOf(start, piece), edge);
  return distinct(seams.map((s) => s.centre)).reduce((g, centre, i, all) => {
    // A whole panel has two seams: it is drawn out once, for the first.
    if (all.findIndex((c) => c.piece === centre.piece) !== i) return g;
    const seam = seams.find((s) => s.centre.piece === centre.piece) as PanelSeam;
    const target = gained(g, seam.side);
    const { foot } = stations(tracingOf(start, centre.piece), centre.edge, bust);
    const drawn = (d: number): Garment => onPiece(g, centre.piece, (t) => drawnOut(t, bust, foot, d));
    const first = target - gained(g, centre);
    if (Math.abs(first) < WITHIN) return g;
    return solveFor(drawn, (made) => gained(made, centre) - target, first, first * 0.95, WITHIN);
  }, now);
};

/** All that lies below the bust goes down by `by`, evenly less from the waist up to the bust, where it is nothing. */
const drawnOut = (tracing: Tracing, bust: number, foot: number, by: number): Tracing => {
  const fall = (y: number): number => (y >= bust ? 0 : by * Math.min(1, (bust - y) / (bust - foot)));
  const down = (p: Point): Point => (fall(p.y) === 0 ? p : { x: p.x, y: p.y - fall(p.y) });
  const lowered = (p: Prick): Prick => {
    const to = down(p.at);
    return to === p.at ? p : { ...p, at: to };
  };
  const lineLowered = (line: readonly Prick[]): readonly Prick[] => {
    const stiff = stiffMove(line, down);
    return stiff ? line.map((p) => moved(p, stiff)) : line.map(lowered);
  };
  const placed = <M extends { readonly at: Point }>(m: M): M => ({ ...m, at: down(m.at) });
  return {
    ...tracing,
    seam: tracing.seam.map(lowered),
    lines: new Map([...tracing.lines].map(([id, line]) => [id, lineLowered(line)])),
    marks: new Map([...tracing.marks].map(([id, m]) => [id, placed(m)])),
    tips: new Map([...tracing.tips].map(([id, t]) => [id, placed(t)])),
    landmarks: new Map([...tracing.landmarks].map(([id, l]) => [id, placed(l)])),
    levels: new Map([...tracing.levels].map(([name, h]) => [name, h - fall(h)])),
  };
};

/** A seam is slid by no more than so much of its length between two stations. */
const MOST_SLID = 0.22;

/**
 * Sets the bust of a front of panels lower (higher) by `drop` along the grain: the seams are slid down (up) there, to
 * nothing at their ends, that of the side panels by as much as gives both the same length above the bust.
 * @throws NoRoom when the seam would be pressed together
 */
export const lowerPanels = (garment: Garment, seams: readonly PanelSeam[], drop: number, bust: number): Garment => {
  const edges = edgesOf(seams);
  const pieces = [...new Set(edges.map((e) => e.piece))];
  const start = pieces.reduce((g, p) => onPiece(g, p, (t) => prickedAtLevels(t, [bust])), garment);
  const places = (e: PanelEdge): Stations => stations(tracingOf(start, e.piece), e.edge, bust);
  for (const e of edges) {
    const { top, foot } = places(e);
    const room = drop > 0 ? bust - foot : top - bust;
    if (Math.abs(drop) > room * MOST_SLID) {
      throw new NoRoom(`the panel seam is only ${room.toFixed(0)} mm high ${drop > 0 ? 'below' : 'above'} the bust`);
    }
  }
  const slid = (e: PanelEdge, mm: number): Tracing => bumped(tracingOf(start, e.piece), e.edge, bust, { x: 0, y: -mm });
  const gained = (e: PanelEdge, mm: number): number =>
    above(slid(e, mm), places(e)) - above(tracingOf(start, e.piece), places(e));
  const down = (e: PanelEdge): number => {
    const seam = seams.find((s) => s.side.piece === e.piece && s.side.edge === e.edge);
    if (!seam) return drop;
    const target = gained(seam.centre, drop);
    return solve((mm) => gained(e, mm) - target, drop, drop * 0.95, WITHIN);
  };
  const drops = edges.map((e) => ({ ...e, mm: down(e) }));
  const bent = drops.reduce(
    (g, { piece, edge, mm }) => onPiece(g, piece, (t) => bumped(t, edge, bust, { x: 0, y: -mm })),
    start,
  );
  return pieces.reduce((g, p) => {
    const own = drops.find((d) => d.piece === p);
    return onPiece(g, p, (t) => lowered(t, own?.mm ?? drop));
  }, bent);
};

/** Bust point and bust level go down, and the line that draws the level. */
const lowered = (tracing: Tracing, drop: number): Tracing => {
  const level = tracing.levels.get('bust');
  const down = { x: 0, y: -drop };
  const marked = bustsOf(tracing).reduce((t, b) => moveBust(t, tracing, b, down), tracing);
  if (level === undefined) return marked;
  const isIt = new Set(
    tracing.piece.lines
      .filter((l) => l.kind === 'level')
      .filter((l) => (tracing.lines.get(l.id) ?? []).every((p) => Math.abs(p.at.y - level) < 0.5))
      .map((l) => l.id),
  );
  const lines = [...marked.lines].map(
    ([id, line]) => [id, isIt.has(id) ? line.map((p) => ({ ...p, at: add(p.at, down) })) : line] as const,
  );
  return { ...marked, lines: new Map(lines), levels: new Map([...marked.levels, ['bust', level - drop]]) };
};
