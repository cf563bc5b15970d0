import type { Point } from '../geometry/point.ts';
import { dot, scale } from '../geometry/point.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Claim } from './claims.ts';
import type { Grain } from './grain.ts';
import type { Stated } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';
import { directionOf } from './strokes.ts';
import type { EdgeTemplate, Follows, Template } from './template.ts';
import type { Hold, Standing } from './template-fit.ts';
import { saidOf, shapeFit } from './template-fit.ts';
import type { Run } from './template-runs.ts';
import { LONGEST_RUN, runsOf } from './template-runs.ts';

/** What is known of a piece besides its outline. */
export interface TemplateFacts {
  /** Of words and marks, by stretch. */
  readonly claims: readonly Claim[];
  /** How many darts open on each stretch, and how many notches stand on it. */
  readonly marks: Standing;
  readonly grain?: Grain;
  /** A line drawn down the middle of the piece. */
  readonly centreLine?: { readonly from: Point; readonly to: Point };
  /** Directions in which letters stand. */
  readonly letters: readonly Point[];
  readonly stated: Stated;
  /** A line said to be the waist runs across the piece. */
  readonly waistLine: boolean;
  /** Of what the pattern has side panels. */
  readonly panelled: readonly ('front' | 'back')[];
  /** The edge that the name of a facing says it follows. */
  readonly follows?: Follows;
  /** By the pattern sheet. */
  readonly up?: Point;
}

/** One way to lay a template on an outline. */
export interface Alignment {
  readonly template: Template;
  readonly hold: Hold;
  /** The run of outline for each edge of the template. */
  readonly runs: readonly Run[];
  /** Role of each stretch. */
  readonly roles: readonly EdgeRole[];
  /** How well the shape alone fits, at most 1; and all in all. */
  readonly shape: number;
  readonly score: number;
}

/** So many stretches more than edges are corners too many for a likeness by shape. */
export const MOST_SURPLUS = 3;

/** A piece with more edges than this is not one that can be told by its shape. */
const MOST_EDGES = 26;
/** Weight of the whole outline against one word on it. */
export const OUTLINE = 4;

/** An edge that fits worse than this is no start. */
const LEAST_FIT = 0;

/** All templates laid on an outline in every way, best first; one for each way to give out the roles. */
export const align = (shape: Shape, candidates: readonly Template[], facts: TemplateFacts): Alignment[] => {
  const n = shape.stretches.length;
  if (n < 3 || n > MOST_EDGES) return [];
  const runs = runsOf(shape);
  const claims = bySpeakers(facts.claims);
  const around = shape.stretches.reduce((sum, s) => sum + s.length, 0);
  const best = new Map<string, Alignment>();
  for (const template of candidates) {
    const k = template.ring.length;
    if (k > n) continue;
    const said = template.ring.map((e) => runs.map((row) => row.map((r) => saidOf(r, e, claims, facts.marks))));
    for (const hold of holds(shape, template, facts)) {
      const found = lay(template, hold, runs, said, around);
      if (!found) continue;
      const score = found.score + beside(template, hold, facts) + sideByArmhole(found);
      const key = `${template.name} ${template.form} ${found.roles.join()}`;
      const before = best.get(key);
      if (!before || score > before.score) best.set(key, { ...found, score });
    }
  }
  return [...best.values()].sort((a, b) => b.score - a.score);
};

const bySpeakers = (claims: readonly Claim[]): ReadonlyMap<number, readonly Claim[]> => {
  const known = new Map<number, Claim[]>();
  for (const c of claims) {
    if ((c.by === 'lie' && c.role !== 'centre') || c.by === 'dart' || c.by === 'notch') continue;
    known.set(c.stretch, [...(known.get(c.stretch) ?? []), c]);
  }
  return known;
};

/** Ways to hold the paper: up along the grain, a centre line, or the longer edges and square to them. */
const holds = (shape: Shape, template: Template, facts: TemplateFacts): Hold[] => {
  const ways: Point[] = [];
  const enter = (d: Point): void => {
    for (const up of [d, scale(d, -1)]) if (!ways.some((w) => dot(w, up) > 0.9995)) ways.push(up);
  };
  if (facts.up) ways.push(facts.up);
  else {
    if (facts.grain) enter(directionOf(facts.grain));
    if (facts.centreLine) enter(directionOf(facts.centreLine));
    const least = 0.07 * shape.trace.length;
    for (const s of shape.stretches) {
      if (s.length < least) continue;
      enter(s.direction);
      enter({ x: -s.direction.y, y: s.direction.x });
    }
  }
  return ways.flatMap((up) =>
    template.symmetric
      ? [{ up, mirrored: false }]
      : [
          { up, mirrored: false },
          { up, mirrored: true },
        ],
  );
};

/** What speaks for a template as a whole. */
const beside = (template: Template, { up }: Hold, facts: TemplateFacts): number => {
  let score = 0;
  if (facts.waistLine) score += template.waistInside ? 0.5 : -0.4;
  else if (template.waistInside) score -= 0.2;
  if (template.follows && facts.follows) score += template.follows === facts.follows ? 0.5 : -2;
  if (template.form === 'half') score += facts.stated.onFold ? 0.4 : 0;
  if (template.form === 'whole') score += (facts.stated.onFold ? -0.8 : 0) + (facts.centreLine ? 0.4 : 0);
  const side = template.parts[0]?.endsWith('front') ? 'front' : 'back';
  if (template.panelled) score += facts.panelled.includes(side) ? 0.3 : -0.8;
  const { letters } = facts;
  const standing = letters.filter((l) => Math.abs(dot(l, up)) > 0.8);
  if (standing.length > 0) score += (0.1 / standing.length) * standing.reduce((s, l) => s + Math.sign(dot(l, up)), 0);
  if (facts.grain?.head) {
    const middle = scale({ x: facts.grain.from.x + facts.grain.to.x, y: facts.grain.from.y + facts.grain.to.y }, 0.5);
    const ahead = dot({ x: facts.grain.head.x - middle.x, y: facts.grain.head.y - middle.y }, up);
    score += Math.abs(ahead) > 1 ? 0.05 * Math.sign(ahead) : 0;
  }
  return score;
};

/** How well the side's length fits what the template ends at. */
const sideByArmhole = ({ template, runs }: Alignment): number => {
  const lengthOf = (role: EdgeRole): number => runs[template.ring.findIndex((e) => e.role === role)]?.length ?? 0;
  const { armholes } = template;
  if (!armholes) return 0;
  const ratio = lengthOf('side') / Math.max(1, lengthOf('armhole'));
  const times = ratio < armholes[0] ? armholes[0] / ratio : ratio / armholes[1];
  return times <= 1 ? 0 : -1.2 * Math.log2(times);
};

type Table = readonly (readonly (readonly number[])[])[];

/** The best way to give the stretches out to a template's edges in turn, each at least one. */
const lay = (
  template: Template,
  hold: Hold,
  runs: readonly (readonly Run[])[],
  said: Table,
  around: number,
): Alignment | undefined => {
  const order = template.ring.map((_, i) => i);
  if (hold.mirrored) order.reverse();
  const fits = order.map((i) =>
    runs.map((row) => row.map((r) => shapeFit(r, template.ring[i] as EdgeTemplate, hold, around))),
  );
  const n = runs.length;
  const k = order.length;
  const worth = (e: number, first: number, count: number): number =>
    (OUTLINE * (fits[e]?.[first]?.[count - 1] as number)) / k +
    (said[order[e] as number]?.[first]?.[count - 1] as number);
  let best: { score: number; counts: number[]; start: number } | undefined;
  for (let start = 0; start < n; start++) {
    // Where the first edge cannot run there is no need to look on.
    if (!((fits[0] as number[][])[start] as number[]).some((fit) => fit > LEAST_FIT)) continue;
    const way = fromStart(n, k, start, worth);
    if (way && (!best || way.score > best.score)) best = { ...way, start };
  }
  if (!best) return undefined;
  const found: Run[] = new Array(k);
  const roles: EdgeRole[] = new Array(n).fill('unknown');
  let first = best.start;
  let shape = 0;
  best.counts.forEach((count, e) => {
    const run = runs[first]?.[count - 1] as Run;
    const i = order[e] as number;
    found[i] = run;
    for (const s of run.stretches) roles[s] = (template.ring[i] as EdgeTemplate).role;
    shape += fits[e]?.[first]?.[count - 1] as number;
    first = (first + count) % n;
  });
  return { template, hold, runs: found, roles, shape: shape / k, score: best.score };
};

/** Shares n stretches out to k edges from `start` on, by what each share is worth. */
const fromStart = (
  n: number,
  k: number,
  start: number,
  worth: (edge: number, first: number, count: number) => number,
): { score: number; counts: number[] } | undefined => {
  const score: number[][] = [[0]];
  const taken: number[][] = [[]];
  for (let e = 0; e < k; e++) {
    const [before, row, counts] = [score[e] as number[], [] as number[], [] as number[]];
    for (let m = e + 1; m <= n - (k - e - 1); m++) {
      for (let count = 1; count <= Math.min(LONGEST_RUN, n - 1, m - e); count++) {
        const so = before[m - count];
        if (so === undefined) continue;
        const value = so + worth(e, (start + m - count) % n, count);
        if (row[m] === undefined || value > (row[m] as number)) {
          row[m] = value;
          counts[m] = count;
        }
      }
    }
    score.push(row);
    taken.push(counts);
  }
  const total = score[k]?.[n];
  if (total === undefined) return undefined;
  const counts: number[] = [];
  for (let e = k - 1, m = n; e >= 0; e--) {
    const count = taken[e + 1]?.[m] as number;
    counts.unshift(count);
    m -= count;
  }
  return { score: total, counts };
};

export const startOf = (shape: Shape, run: Run): Point =>
  (shape.stretches[run.stretches[0] as number] as Stretch).start;
export const endOf = (shape: Shape, run: Run): Point =>
  (shape.stretches[run.stretches[run.stretches.length - 1] as number] as Stretch).end;
