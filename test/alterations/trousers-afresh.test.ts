import { afterAll, describe, expect, it } from 'vitest';
import { draftTrousers, SAMPLE_TROUSER_BODY, type TrouserBody } from '../../fixtures/blocks/draft/trousers.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, edgePath } from '../properties/comparing.ts';
import { alteredBy } from './altering.ts';
import { changed, trouserBodies } from './other-bodies.ts';

/*
 * Trousers drafted for one body and altered to another, against trousers drafted for that other body by the same rule
 * (see fixtures/blocks/draft/trousers.ts). Steps of one size: waist and hip from the misses' body table (1½ and 2 in), the
 * rest ours. The rule gives a change of the waist to the side seams and leaves darts alone; a longer leg to the parts above
 * and below the knee by half each.
 */

const INCH = 25.4;
/** The bound at one size up and down, mm. */
const EQUIVALENT = 2;

interface Step {
  readonly what: string;
  readonly body: Partial<TrouserBody>;
  readonly amounts: Readonly<Record<string, number>>;
  /** Whether alteration and rule divide the change alike, so that the bound holds. */
  readonly alike: boolean;
}

const steps: readonly Step[] = [
  { what: 'waist', body: { waist: 1.5 * INCH }, amounts: { waist: 1.5 * INCH }, alike: true },
  { what: 'waist to hip', body: { waistToHip: 0.25 * INCH }, amounts: { 'waist to hip': 0.25 * INCH }, alike: true },
  {
    what: 'crotch depth',
    body: { crotchDepth: 0.25 * INCH, waistToFloor: 0.25 * INCH },
    amounts: { 'crotch depth': 0.25 * INCH },
    alike: true,
  },
  {
    what: 'leg',
    body: { waistToFloor: INCH },
    amounts: { 'length above the knee': INCH / 2, 'length below the knee': INCH / 2 },
    alike: true,
  },
  // The rule gives a third of a larger hip to the centre and draws the crotch out with it; the trade gives it to the side
  // alone, and the crotch what the tape says. The figures are shown.
  { what: 'hip', body: { hip: 2 * INCH }, amounts: { hip: 2 * INCH }, alike: false },
];

/** On the sample body one size and two up and down; on three others one size. */
const bodies: readonly (readonly [string, TrouserBody, readonly number[]])[] = [
  ['the sample', SAMPLE_TROUSER_BODY, [1, -1, 2, -2]],
  ...trouserBodies(SAMPLE_TROUSER_BODY).map(([name, body]) => [name, body, [1, -1]] as const),
];

/** Greatest distance of each edge of the altered front and back from the edge drafted afresh. */
const deviations = (body: TrouserBody, before: Pattern, step: Step, sizes: number): Map<string, number> => {
  const afresh = patternOf(draftTrousers(changed(body, step.body, sizes)));
  const amounts = Object.fromEntries(Object.entries(step.amounts).map(([name, amount]) => [name, amount * sizes]));
  const { pattern } = alteredBy(before, amounts, { waist: { take: 'side edges only' } });
  const found = new Map<string, number>();
  for (const id of ['front', 'back']) {
    const [piece, other] = [pattern, afresh].map((p) => p.pieces.find((q) => q.id === id));
    for (const edge of piece?.edges ?? []) {
      const twin = other?.edges.find((e) => e.id === edge.id);
      if (piece && other && twin) found.set(`${id} ${edge.id}`, apart(edgePath(piece, edge), edgePath(other, twin)));
    }
  }
  return found;
};

const edges = ['front', 'back'].flatMap((p) => ['crotch', 'inseam', 'hem', 'side', 'waist'].map((e) => `${p} ${e}`));
const rows: string[] = [];
afterAll(() =>
  console.info(
    [`${'altered against drafted afresh, mm'.padEnd(36)}${edges.map((e) => e.padStart(13)).join('')}`, ...rows].join(
      '\n',
    ),
  ),
);

describe.each(bodies)('trousers for %s altered to another body', (name, body, times) => {
  const before = patternOf(draftTrousers(body));
  it.each(steps.flatMap((step) => times.map((sizes) => [step.what, sizes, step] as const)))(
    '%s by %i',
    (what, sizes, step) => {
      const found = deviations(body, before, step, sizes);
      expect([...found.keys()].sort()).toEqual([...edges].sort());
      rows.push(
        `${`${name}, ${what} ${sizes > 0 ? '+' : '−'}${Math.abs(sizes)}`.padEnd(36)}${edges.map((e) => (found.get(e) as number).toFixed(2).padStart(13)).join('')}`,
      );
      if (step.alike && Math.abs(sizes) === 1) {
        for (const [edge, off] of found) expect(off, edge).toBeLessThanOrEqual(EQUIVALENT);
      }
    },
  );
});
