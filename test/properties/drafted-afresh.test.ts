import { afterAll, describe, expect, it } from 'vitest';
import type { Body } from '../../fixtures/blocks/draft/draft.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { alterPattern } from '../../src/alterations/alter.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { hasErrors } from '../../src/finding.ts';
import { patternOf } from '../drafted.ts';
import { apart, edgePath } from './comparing.ts';

/*
 * A block drafted for one body and altered to another, against the block drafted for that other body by the same
 * published rule (see fixtures/blocks/draft/skirt.ts: WikiEducator, "Handout for drafting skirt block"). The rule takes
 * all change between waist and hip at the side seam and leaves the darts alone, so the waist takes side edges only.
 *
 * Steps of one size, from the misses' body table (a secondary copy of a US home-sewing size table): waist 1½, hip 2 in.
 */

/** DESIGN's bound at one size up and down, mm. */
const EQUIVALENT = 2;
const INCH = 25.4;

const steps: readonly (readonly [string, Partial<Body>])[] = [
  ['waist', { waist: 1.5 * INCH }],
  ['hip', { hip: 2 * INCH }],
  ['waist and hip', { waist: 1.5 * INCH, hip: 2 * INCH }],
  ['waist to hip', { waistToHip: 0.5 * INCH }],
  ['length', { length: 2 * INCH }],
];

const bodyAt = (step: Partial<Body>, sizes: number): Body => {
  const by = (key: keyof Body): number => SAMPLE_BODY[key] + sizes * (step[key] ?? 0);
  return { waist: by('waist'), hip: by('hip'), waistToHip: by('waistToHip'), length: by('length') };
};

/** Greatest distance of each edge of the altered front and back from the edge drafted afresh. */
const deviations = (flare: number, step: Partial<Body>, sizes: number): Map<string, number> => {
  const wearer = bodyAt(step, sizes);
  const [before, afresh] = [SAMPLE_BODY, wearer].map((body) => patternOf(draftSkirt(body, { flare })));
  if (!before || !afresh) throw new Error('not drafted');
  const measurements = {
    'waist girth': wearer.waist,
    'hip girth': wearer.hip,
    'waist to hip': wearer.waistToHip,
    'skirt length': wearer.length,
  };
  const plan = planFitting(
    before,
    { fitting: 'Brünnhilde', measurements, direct: {} },
    { beyondLimits: Math.abs(sizes) > 1, choices: { waist: { take: 'side edges only' } }, show: 'in' },
  );
  expect(hasErrors(plan.findings)).toBe(false);
  const altered = alterPattern(before, plan, { true: false, fullGrainline: false }).pattern;
  const found = new Map<string, number>();
  for (const piece of altered.pieces.filter((p) => p.part !== 'waistband')) {
    const other = afresh.pieces.find((p) => p.id === piece.id);
    for (const edge of piece.edges) {
      const twin = other?.edges.find((e) => e.id === edge.id);
      if (other && twin) found.set(`${piece.id} ${edge.id}`, apart(edgePath(piece, edge), edgePath(other, twin)));
    }
  }
  return found;
};

const rows: string[] = [];
const edges = ['front', 'back'].flatMap((p) => ['fold', 'hem', 'side', 'waist'].map((e) => `${p} ${e}`));
afterAll(() =>
  console.info(
    [`${'altered against drafted afresh, mm'.padEnd(40)}${edges.map((e) => e.padStart(12)).join('')}`, ...rows].join(
      '\n',
    ),
  ),
);

describe.each([0, 40])('a side that flares by %i mm', (flare) => {
  it.each(steps.flatMap(([what, step]) => [1, -1, 2, -2].map((sizes) => [what, sizes, step] as const)))(
    '%s by %i',
    (what, sizes, step) => {
      const found = deviations(flare, step, sizes);
      expect([...found.keys()].sort()).toEqual([...edges].sort());
      rows.push(
        `${`flare ${flare}, ${what} ${sizes > 0 ? '+' : '−'}${Math.abs(sizes)}`.padEnd(40)}${edges.map((e) => (found.get(e) as number).toFixed(2).padStart(12)).join('')}`,
      );
      if (Math.abs(sizes) === 1) for (const [edge, off] of found) expect(off, edge).toBeLessThanOrEqual(EQUIVALENT);
    },
  );
});
