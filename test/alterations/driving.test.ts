import { describe, expect, it } from 'vitest';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import type { Change } from '../../src/alterations/asked.ts';
import { chooseAlterations, drives } from '../../src/alterations/driving.ts';
import { alterationCalled, catalogue } from '../../src/alterations/index.ts';
import { measurementNames } from '../../src/measurements/terms.ts';
import { patternOf } from '../drafted.ts';

/* What the catalogue publishes as the measurement behind an alteration is what the planner goes by. */

const OPTIONS = { beyondLimits: false, choices: {}, show: 'mm' } as const;
const PATTERNS = [draftDress(SAMPLE_DRESS_BODY, {}), draftTrousers(SAMPLE_TROUSER_BODY, {})].map(patternOf);

const change = (measurement: string): Change => ({
  ...{ measurement, amount: 10, needed: 10 },
  origin: { kind: 'measurement', measurement, wearer: 510, draftedFor: 500 },
});
const asked = (...measurements: string[]): Set<string> =>
  new Set(
    PATTERNS.flatMap((p) => chooseAlterations(measurements.map(change), p, OPTIONS).asked.map((a) => a.alteration)),
  );

describe('measurements and the alterations they call for', () => {
  it.each(catalogue.flatMap((c) => (c.measurement === undefined ? [] : [[c.name, c.measurement] as const])))(
    '%s is called for by the %s',
    (name, measurement) => {
      expect(measurementNames).toContain(measurement);
      expect(drives(measurement)).toBe(true);
      expect([...asked(measurement)]).toContain(name);
    },
  );

  it('call for nothing that is not in the catalogue', () => {
    const known = measurementNames.filter(drives);
    const names = [...new Set(known.flatMap((m) => [...asked(m)])), ...asked(...known)];
    expect(names.filter((name) => !alterationCalled(name))).toEqual([]);
  });

  it('are read as measurements even where an alteration has the same name', () => {
    for (const name of ['back width', 'chest width', 'crotch depth', 'bust height', 'waist to hip', 'armhole depth']) {
      expect(measurementNames).toContain(name);
    }
  });
});
