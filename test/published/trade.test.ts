import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { draftSkirt } from '../../fixtures/blocks/draft/skirt.ts';
import { alterPattern } from '../../src/alterations/alter.ts';
import type { Plan } from '../../src/alterations/contract.ts';
import { alterationCalled } from '../../src/alterations/index.ts';
import { measureGirths } from '../../src/checks/girths.ts';
import { linesMeet } from '../../src/geometry/intersect.ts';
import { distance, type Point, point, turn } from '../../src/geometry/point.ts';
import { lengthOf } from '../../src/geometry/segment.ts';
import { readChart, sizeCalled } from '../../src/measurements/chart.ts';
import { crotchDepthEase, easeTable, leastEase } from '../../src/measurements/ease.ts';
import { swingOf } from '../../src/paper/wedge.ts';
import { edgeCalled, edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { straightWidth } from '../../src/pattern/taking/across.ts';
import { patternOf as drafted } from '../drafted.ts';
import {
  errorsOf,
  inches,
  MM,
  patternOf,
  pieceAlong,
  pieceOf,
  planned,
  quarterCircle,
  twoOnTheFold,
} from './pieces.ts';

/**
 * Published tables and worked values that concern skirts, recomputed by the program's own functions on small pieces
 * drawn by hand. Each stands beside its source. "Derived" values follow from the construction by plane geometry and
 * are worked out here again; "common practice" has no source.
 */
const degrees = (radians: number): number => (radians * 180) / Math.PI;
const radians = (deg: number): number => (deg * Math.PI) / 180;

const altered = (pattern: Pattern, plan: Plan): Pattern => {
  const done = alterPattern(pattern, plan, { true: false, fullGrainline: false });
  expect(done.findings.filter((f) => f.level === 'error')).toEqual([]);
  return done.pattern;
};
const only = (pattern: Pattern): Piece => pattern.pieces[0] as Piece;
const edge = (piece: Piece, id: string): number => {
  const found = edgeCalled(piece, id);
  return found ? inches(edgeLength(piece, found)) : Number.NaN;
};
/** Where an edge begins, inches. */
const startOf = (piece: Piece, id: string): Point => {
  const from = piece.seamLine.spans[edgeCalled(piece, id)?.first ?? -1]?.segments[0]?.from ?? point(Number.NaN, 0);
  return point(inches(from.x), inches(from.y));
};
const sharesOf = (plan: Plan, alteration: string): number[] =>
  (plan.steps.find((s) => s.alteration === alteration)?.shares ?? []).map((s) => inches(s.amount));
const edgesCounted = (plan: Plan, alteration: string): number =>
  (plan.steps.find((s) => s.alteration === alteration)?.shares ?? []).reduce((n, s) => n + s.counted, 0);

describe('a girth change is divided by the seam edges that can take it', () => {
  // Central Washington University costume text, chapter 17: front and back on the fold, a quarter each.
  it('front and back cut on the fold: a quarter each', () => {
    const plan = planned(twoOnTheFold({ 'waist girth': 27 }), { body: { 'waist girth': 28 } });
    expect(sharesOf(plan, 'waist').every((s) => Math.abs(s - 1 / 4) < 1e-9)).toBe(true);
    expect(edgesCounted(plan, 'waist')).toBe(4);
  });

  // Derived, D1; the most of half an inch is common practice.
  it('waist 27 to 30 in: ¾ in at four edges, past half an inch, refused, or done and warned of', () => {
    const pattern = twoOnTheFold({ 'waist girth': 27 });
    const plan = planned(pattern, { body: { 'waist girth': 30 } });
    expect(sharesOf(plan, 'waist').map((s) => s.toFixed(6))).toEqual(['0.750000', '0.750000']);
    expect(edgesCounted(plan, 'waist')).toBe(4);
    expect(errorsOf(plan)).toEqual(['plan-past-limit']);
    const beyond = planned(pattern, { body: { 'waist girth': 30 } }, { beyondLimits: true });
    expect(beyond.findings.map((f) => [f.code, f.level])).toEqual([['plan-beyond-limit', 'warning']]);
    const waist = (p: Pattern) => inches(measureGirths(p).find((g) => g.level === 'waist')?.girth ?? Number.NaN);
    expect(waist(altered(pattern, beyond)) - waist(pattern)).toBeCloseTo(3, 3);
  });

  // Derived, D2.
  it('hip 2 in larger: half an inch an edge, within the limit, and the hem as much wider', () => {
    const pattern = twoOnTheFold({ 'hip girth': 36 });
    const plan = planned(pattern, { body: { 'hip girth': 38 } });
    expect(sharesOf(plan, 'hip').map((s) => s.toFixed(6))).toEqual(['0.500000', '0.500000']);
    expect(errorsOf(plan)).toEqual([]);
    const girth = (p: Pattern, level: string) => inches(measureGirths(p).find((g) => g.level === level)?.girth ?? 0);
    const after = altered(pattern, plan);
    expect(girth(after, 'hip') - girth(pattern, 'hip')).toBeCloseTo(2, 4);
    expect(girth(after, 'hem') - girth(pattern, 'hem')).toBeCloseTo(2, 3);
  });

  // Derived from the same rule: a skirt of n gores has 2n edges (common practice).
  it('five gores: ten edges', () => {
    const gore = pieceOf({
      id: 'gore',
      part: 'skirt gore',
      half: false,
      cut: 5,
      corners: [
        [0, 0],
        [-2, -24],
        [7, -24],
        [5, 0],
      ],
      edges: [
        ['gore seam', 1],
        ['hem', 1],
        ['gore seam', 1],
        ['waist', 1],
      ],
      hip: -8,
    });
    const plan = planned(patternOf([gore], { 'waist girth': 25 }), { body: { 'waist girth': 27.5 } });
    expect(edgesCounted(plan, 'waist')).toBe(10);
    expect(sharesOf(plan, 'waist').map((s) => s.toFixed(6))).toEqual(['0.250000', '0.250000']);
  });
});

describe('gores and circles', () => {
  // Bennett, The Perfect Dressmaking System (1914): waist 25 in, hip 40 in, five gores: 5 in and 8 in in a gore.
  it('five gores for waist 25, hip 40 in: 5 in and 8 in in a gore', () => {
    const body = { waist: 25 * MM, hip: 40 * MM, waistToHip: 7 * MM, length: 36 * MM };
    const pattern = drafted(draftSkirt(body, { gores: 5, ease: { waist: 0, hip: 0 }, band: false }));
    const gore = only(pattern);
    expect(edge(gore, 'waist')).toBeCloseTo(5, 4);
    const level = gore.lines.find((l) => l.kind === 'level')?.spans.flatMap((s) => s.segments) ?? [];
    expect(inches(level.reduce((sum, s) => sum + lengthOf(s), 0))).toBeCloseTo(8, 4);
    expect(inches(measureGirths(pattern).find((g) => g.level === 'waist')?.girth ?? 0)).toBeCloseTo(25, 3);
  });

  // The rule of thumb for a circle skirt, as printed: waist 66 cm, radius 66 / 6 − 0.5 = 10.5 cm; exactly 66 / 2π.
  it('a circle skirt with a radius of 10.504 cm has a waist of 66 cm', () => {
    const radius = 660 / (2 * Math.PI);
    expect(radius).toBeCloseTo(105.04, 2);
    expect(Math.abs(radius - 105)).toBeLessThan(0.1);
    const skirt = pieceAlong(
      {
        part: 'skirt',
        half: false,
        cut: 4,
        edges: [
          ['side', 1],
          ['hem', 1],
          ['side', 1],
          ['waist', 1],
        ],
      },
      quarterCircle(radius, radius + 600),
    );
    const girths = measureGirths(patternOf([skirt]));
    expect(girths.find((g) => g.level === 'waist')?.girth).toBeCloseTo(660, 6);
    expect(girths.find((g) => g.level === 'hem')?.girth).toBeCloseTo(660 + 2 * Math.PI * 600, 6);
  });
});

/** A side seam that slants 10° off the upright all the way from its top level to the hem, 20 in high. */
const SLOPE = Math.tan(radians(10));
const slanting = (): Pattern =>
  patternOf([
    pieceOf({
      corners: [
        [0, 0],
        [0, -20],
        [9 + 20 * SLOPE, -20],
        [9, 0],
      ],
      edges: [
        ['fold', 1],
        ['hem', 1],
        ['side', 1],
        ['waist', 1],
      ],
      hip: 0,
      line: -10,
    }),
  ]);

describe('length', () => {
  // Derived, D3.
  it('1½ in at the line: the seam is redrawn end to end, 1.479 in longer, and the sweep stays', () => {
    const before = slanting();
    const after = altered(before, planned(before, { direct: { 'length at the adjustment line': 1.5 } }));
    const expected = Math.hypot(21.5, 20 * SLOPE) - Math.hypot(20, 20 * SLOPE);
    expect(expected).toBeCloseTo(1.479, 3);
    expect(edge(only(after), 'side') - edge(only(before), 'side')).toBeCloseTo(expected, 3);
    expect(edge(only(after), 'hem')).toBeCloseTo(edge(only(before), 'hem'), 4);
    expect(edge(only(after), 'fold') - edge(only(before), 'fold')).toBeCloseTo(1.5, 6);
  });

  // Derived, D3.
  it('1½ in at the hem: the seam runs on at its slope, 1.523 in longer, the sweep 0.264 in wider', () => {
    const before = slanting();
    const after = altered(before, planned(before, { direct: { 'length at the hem': 1.5 } }));
    expect([1.5 / Math.cos(radians(10)), 1.5 * SLOPE].map((x) => x.toFixed(3))).toEqual(['1.523', '0.264']);
    expect(edge(only(after), 'side') - edge(only(before), 'side')).toBeCloseTo(1.5 / Math.cos(radians(10)), 4);
    expect(edge(only(after), 'hem') - edge(only(before), 'hem')).toBeCloseTo(1.5 * SLOPE, 4);
  });

  // Common practice: the printed lines stay square to the grain; the paper is cut, or folded, between the two.
  it.each([
    { by: 1.5, heights: ['-13.875', '-15.625'] },
    { by: -1, heights: ['-13.500', '-13.500'] },
  ])('a double line stays level when the piece becomes $by in longer', ({ by, heights }) => {
    const before = twoOnTheFold({});
    const after = altered(before, planned(before, { direct: { 'length at the adjustment line': by } }));
    for (const piece of after.pieces) {
      const ends = piece.lines.map((l) => l.spans.flatMap((s) => s.segments).flatMap((s) => [s.from, s.to]));
      for (const [i, line] of ends.entries()) {
        expect(line.map((p) => inches(p.y).toFixed(3))).toEqual(line.map(() => heights[i]));
      }
      expect(ends.length).toBe(2);
    }
  });

  // Central Washington University costume text, chapter 17: to shorten by n, a fold n / 2 deep.
  it('shortened by 1 in: a fold ½ in deep, so what lies within ½ in of the line is hidden', () => {
    const piece = pieceOf({
      corners: [
        [0, 0],
        [0, -24],
        [9, -24],
        [9, 0],
      ],
      edges: [
        ['fold', 1],
        ['hem', 1],
        ['side', 1],
        ['waist', 1],
      ],
      hip: -8,
      line: -14,
      holes: [
        [3, -13.49],
        [3, -13.51],
        [3, -14.49],
        [3, -14.51],
      ],
    });
    const before = patternOf([piece]);
    const done = alterPattern(before, planned(before, { direct: { 'length at the adjustment line': -1 } }), {
      true: false,
      fullGrainline: false,
    });
    const heights = only(done.pattern).points.map((p) => inches(p.at.y));
    // Above the fold nothing moves, below it all comes up by an inch; what is folded away lies on the fold.
    const expected = [-13.49, -13.5, -13.5, -13.51];
    for (const [i, h] of heights.entries()) expect(h).toBeCloseTo(expected[i] as number, 2);
    const hidden = done.findings.filter((f) => f.code === 'alter-hidden-in-tuck');
    expect(hidden.map((f) => f.message)).toEqual([
      '2 marks lay where the tuck is folded, and lie on the fold now: ' +
        'a drill hole, 76.2 mm from the fold as drafted, a drill hole, 76.2 mm from the fold as drafted.',
    ]);
    expect(edge(only(done.pattern), 'side')).toBeCloseTo(23, 6);
  });
});

describe('the wedge for a full abdomen', () => {
  // Derived, D4: a gap of 1 in, 9 in from its hinge, is a chord: 2 · 9 · sin(θ / 2) = 1.
  const swing = swingOf(1, 9);
  it('1 in, 9 in from its hinge, is a swing of 6.369°', () => {
    expect(degrees(swing)).toBeCloseTo(6.369, 3);
    expect(2 * 9 * Math.sin(swing / 2)).toBeCloseTo(1, 12);
  });

  // New Mexico State University, Guide C-209: the top hip is 3 to 4 in below the waist.
  it('lies 3 to 4 in below the waist', () => {
    const depth = Number(alterationCalled('abdomen')?.card.options.find((o) => o.name === 'depth')?.default);
    expect(inches(depth)).toBeGreaterThanOrEqual(3);
    expect(inches(depth)).toBeLessThanOrEqual(4);
  });

  // Derived, D4: what the swing carries 3½ in above the hinge.
  it('3½ in below the waist: centre refilled 0.444, darts deepened 0.444, side waist out 0.388 in', () => {
    const refilled = 9 - (9 * Math.cos(swing) - 3.5 * Math.sin(swing));
    const out = 3.5 * Math.sin(swing);
    expect([refilled, out].map((x) => x.toFixed(3))).toEqual(['0.444', '0.388']);
    const before = patternOf([
      pieceOf({
        corners: [
          [0, 0],
          [0, -24],
          [9, -24],
          [9, 0],
          [5, 0],
          [4.5, -3],
          [4, 0],
        ],
        edges: [
          ['fold', 1],
          ['hem', 1],
          ['side', 1],
          ['waist', 4],
        ],
        darts: [4],
        hip: -8,
      }),
    ]);
    const after = altered(before, planned(before, { direct: { abdomen: 1 } }));
    const [was, is] = [only(before), only(after)];
    const mouth = (p: Piece): number => {
      const [a, b] = p.darts[0]?.mouth ?? [];
      return a && b ? inches(distance(a, b)) : Number.NaN;
    };
    // The waist is also bent to meet the centre squarely again, which takes a hundredth of an inch at most.
    expect(Math.abs(mouth(is) - mouth(was) - refilled)).toBeLessThan(0.01);
    expect(startOf(is, 'waist').x - startOf(was, 'waist').x).toBeCloseTo(out, 2);
    // The centre is straight again and just an inch longer; waist and side are what they were.
    expect(startOf(is, 'fold').x).toBeCloseTo(0, 6);
    expect(edge(is, 'fold') - edge(was, 'fold')).toBeCloseTo(1, 4);
    expect(edge(is, 'waist')).toBeCloseTo(edge(was, 'waist'), 3);
    expect(edge(is, 'side')).toBeCloseTo(edge(was, 'side'), 2);
    // The hem part keeps the grain: it has not moved.
    expect(startOf(is, 'side')).toEqual(startOf(was, 'side'));
  });
});

describe('darts', () => {
  // Derived, D6: a dart's width is in proportion to the distance from its tip.
  it('1 in wide 4 in from its tip: ¾ in at 3 in', () => {
    const front = pieceOf({
      corners: [
        [0, 0],
        [0, -24],
        [9, -24],
        [9, 0],
        [5, 0],
        [4.5, -4],
        [4, 0],
      ],
      edges: [
        ['fold', 1],
        ['hem', 1],
        ['side', 1],
        ['waist', 4],
      ],
      darts: [4],
    });
    // Straight across, 1 in below the waist, what the dart takes out is not counted.
    expect(9 - inches(straightWidth(front, -1 * MM))).toBeCloseTo(0.75, 9);
    expect(9 - inches(straightWidth(front, -2 * MM))).toBeCloseTo(0.5, 9);
    expect(9 - inches(straightWidth(front, -4.5 * MM))).toBeCloseTo(0, 9);
  });

  // Derived, D7: folded to one side, the middle line of a dart of full angle 2α lies 2α beyond the edge's square.
  it.each([
    { says: 'middle line 4 in, intake 1 in', middle: 4, half: Math.atan(0.5 / 4), cap: 0.127 },
    { says: 'legs 4 in, intake 1 in', middle: Math.sqrt(16 - 0.25), half: Math.asin(0.5 / 4), cap: 0.128 },
  ])('the cap over a straight edge, $says: $cap in', ({ middle, half, cap }) => {
    const tip = point(0, 0);
    const folded = turn(point(0, 1), 2 * half, tip);
    // Cut along the edge, `middle` from the tip, through the folded dart.
    const peak = linesMeet(tip, folded, point(0, middle), point(1, 0));
    expect(distance(tip, peak ?? tip) - middle).toBeCloseTo(cap, 3);
    expect(middle * (1 / Math.cos(2 * half) - 1)).toBeCloseTo(cap, 3);
  });
});

describe('size tables', () => {
  const chart = (name: string) => {
    const file = `${name}.csv`;
    return readChart(readFileSync(join(import.meta.dirname, '../../fixtures/published', file)), { fileName: file });
  };
  const sizeOf = async (name: string, size: string): Promise<Readonly<Record<string, number>>> => {
    const row = sizeCalled(await chart(name), size);
    if (!('measurements' in row)) throw new Error(row.message);
    return Object.fromEntries(Object.entries(row.measurements).map(([k, mm]) => [k, inches(mm)]));
  };

  // ASTM D5585-11e1, waist girth of the curvy and the straight figure, size 12.
  it('D5585 size 12, straight for curvy: waist 1½ in, ⅜ in an edge', async () => {
    const [curvy, straight] = [
      await sizeOf('standard-curvy-figure', '12'),
      await sizeOf('standard-straight-figure', '12'),
    ];
    expect([curvy['waist girth'], straight['waist girth']]).toEqual([expect.closeTo(30.75), expect.closeTo(32.25)]);
    const body = { 'waist girth': straight['waist girth'] ?? 0 };
    const plan = planned(twoOnTheFold({ 'waist girth': curvy['waist girth'] ?? 0 }), { body });
    expect(sharesOf(plan, 'waist')).toEqual([expect.closeTo(3 / 8, 6), expect.closeTo(3 / 8, 6)]);
    expect(errorsOf(plan)).toEqual([]);
  });

  // ASTM D5585-11e1: the two figures differ by the same at every size.
  it('D5585: straight for curvy is 1½ in at every size', async () => {
    const sizes = (await chart('standard-curvy-figure')).sizes.map((s) => s.size);
    expect(sizes).toEqual(['00', '0', '2', '4', '6', '8', '10', '12', '14', '16', '18', '20']);
    for (const size of sizes) {
      const by = async (f: string) => (await sizeOf(`standard-${f}-figure`, size))['waist girth'] ?? Number.NaN;
      expect((await by('straight')) - (await by('curvy')), size).toBeCloseTo(1.5, 6);
    }
  });

  // Misses' body table (a secondary copy of a US home-sewing size table): 12 is 26½ and 36 in, 14 is 28 and 38 in.
  it("misses' size 12 altered to 14: waist 1½ in, hip 2 in; ⅜ and ½ in an edge", async () => {
    const [twelve, fourteen] = [await sizeOf('misses-body-table', '12'), await sizeOf('misses-body-table', '14')];
    const pick = (of: Readonly<Record<string, number>>) => ({
      'waist girth': of['waist girth'] ?? 0,
      'hip girth': of['hip girth'] ?? 0,
    });
    const plan = planned(twoOnTheFold(pick(twelve)), { body: pick(fourteen) });
    const needed = Object.fromEntries(plan.steps.map((s) => [s.alteration, inches(s.amount)]));
    expect(needed).toEqual({ waist: expect.closeTo(1.5, 6), hip: expect.closeTo(2, 6) });
    expect(sharesOf(plan, 'waist')).toEqual([expect.closeTo(3 / 8, 6), expect.closeTo(3 / 8, 6)]);
    expect(sharesOf(plan, 'hip')).toEqual([expect.closeTo(1 / 2, 6), expect.closeTo(1 / 2, 6)]);
    expect(errorsOf(plan)).toEqual([]);
  });
});

describe('wearing ease', () => {
  const C16 = 'Central Washington University costume text, chapter 16';
  const C209 = 'New Mexico State University, Guide C-209';
  it.each([
    ['bodice or dress', 'bust girth', 1.5, 2, C16],
    ['bodice or dress', 'waist girth', 0.75, 1, C16],
    ['bodice or dress', 'hip girth', 2, 2.75, C16],
    ['skirt or trousers', 'waist girth', 0.5, 0.75, C16],
    ['skirt or trousers', 'hip girth', 2, 2.75, C16],
    ['trousers', 'waist girth', 0, 1, C209],
    ['trousers', 'hip girth', 2, 4, C209],
    ['trousers', 'thigh girth', 1, 2, C209],
    ['any garment', 'bust girth', 3, 4, 'New Mexico State University, Guide C-228'],
  ] as const)('%s, %s: %d to %d in (%s)', (garment, place, least, most, source) => {
    const rows = easeTable.filter((r) => r.garment === garment && r.place === place && r.source === source);
    expect(rows.map((r) => [inches(r.least), inches(r.most ?? Number.NaN)])).toEqual([
      [expect.closeTo(least, 9), expect.closeTo(most, 9)],
    ]);
    expect(inches(leastEase(garment, place)?.least ?? Number.NaN)).toBeCloseTo(least, 9);
  });

  // New Mexico State University, Guide C-209: crotch depth ½ in where the hip is under 36 in, 1 in where it is over 38 in.
  it.each([
    [35, 0.5],
    [39, 1],
  ])('crotch depth at hip %d in: %d in', (hip, ease) => {
    expect(inches(crotchDepthEase(hip * MM))).toBeCloseTo(ease, 9);
  });
});
