import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { planFitting } from '../../src/alterations/plan.ts';
import { usableOn } from '../../src/alterations/usable.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { measurementNames, terms } from '../../src/measurements/terms.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';

const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');
const options = { beyondLimits: true, choices: {}, show: 'mm' } as const;

/** The plan for a wearer who is 5 mm off the body the pattern was drafted for, in these measurements. */
const planFor = (pattern: Pattern, names: readonly string[]) => {
  const draftedFor = Object.fromEntries(measurementNames.map((name) => [name, terms[name].range[0]]));
  const measurements = Object.fromEntries(names.map((name) => [name, (draftedFor[name] ?? 0) + 5]));
  return planFitting({ ...pattern, draftedFor }, { fitting: 'Dorothea', measurements, direct: {} }, options);
};
const isUnused = (pattern: Pattern, name: string): boolean =>
  planFor(pattern, [name]).findings.some((f) => f.code === 'plan-measurement-unused');

describe.each(['skirt-cubics.svg', 'bodice-cubics.svg', 'trousers-apparel-mm.dxf', 'dress-cubics.svg'])(
  '%s',
  (file) => {
    it('has as usable just what a plan takes', async () => {
      const { file: read } = await readPatternFile(join(BLOCKS, file), {});
      const pattern = read!.pattern;
      const usable = usableOn(pattern);
      const named = usable.flatMap((u) => [u.measurement, ...u.orElse]);
      expect(usable.length).toBeGreaterThan(3);
      for (const name of measurementNames) {
        if (name === 'stature' || name === 'high bust girth') continue;
        const plan = planFor(pattern, [name]);
        if (named.includes(name)) expect(plan.steps.length, name).toBeGreaterThan(0);
        else expect(plan.steps.length === 0 || isUnused(pattern, name), name).toBe(true);
      }
      expect(named.includes('high bust girth')).toBe(named.includes('bust girth'));
    });

    it('does without second choices where the first are given', async () => {
      const { file: read } = await readPatternFile(join(BLOCKS, file), {});
      const pattern = read!.pattern;
      const usable = usableOn(pattern);
      const first = usable.map((u) => u.measurement);
      const steps = (names: readonly string[]) =>
        planFor(pattern, names).steps.map(({ alteration, amount, origin }) => [alteration, amount, origin]);
      for (const second of usable.flatMap((u) => u.orElse)) {
        expect(steps([...first, second]), second).toEqual(steps(first));
      }
    });
  },
);
