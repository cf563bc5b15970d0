import { afterAll, describe, expect, it } from 'vitest';
import { fitToPerson } from '../../src/alterations/person.ts';
import { offTarget, WITHIN } from '../../src/alterations/targets.ts';
import { checkPattern } from '../../src/checks/index.ts';
import type { Finding } from '../../src/finding.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { figureAt, type GarmentName, garments, wearerOf } from '../bodies.ts';

/*
 * From a person to a pattern, on many persons: bodies drawn around a published table (see test/bodies.ts), each on the
 * block of the size she would buy. Every measurement is met, or the fitting is refused and says why; nothing that was
 * whole is broken. Some in every run; RETRUE_BODIES=500 for all.
 */

const BODIES = Number(process.env.RETRUE_BODIES ?? 0);
/** How many of each in every run: 25 in all. */
const SOME: Readonly<Partial<Record<GarmentName, number>>> = { skirt: 9, bodice: 5, trousers: 7, dress: 4 };
const GARMENTS = Object.keys(SOME) as GarmentName[];

const drafted = new Map<string, Pattern>();
const blockOf = (garment: GarmentName, size: number): Pattern => {
  const key = `${garment} ${size}`;
  const pattern = drafted.get(key) ?? garments[garment].draft(figureAt(size));
  drafted.set(key, pattern);
  return pattern;
};

interface Told {
  readonly seed: number;
  readonly outcome: 'met' | 'refused';
  /** Codes of what refused it, and of what is broken. */
  readonly codes: readonly string[];
  readonly worst: number;
}

const errors = (findings: readonly Finding[]): Finding[] => findings.filter((f) => f.level === 'error');

const fitted = (garment: GarmentName, seed: number): Told => {
  const { boughtBy, measured } = garments[garment];
  const { size, body } = wearerOf(seed, boughtBy);
  const before = blockOf(garment, size);
  const stated = Object.fromEntries(Object.entries(measured(body)).filter(([m]) => before.draftedFor[m] !== undefined));
  const { plan, altered } = fitToPerson(
    before,
    { fitting: `${garment} ${seed}`, measurements: stated, direct: {} },
    { beyondLimits: false, choices: {}, show: 'mm' },
    { true: false, fullGrainline: false },
  );
  const refusals = errors([...plan.findings, ...(altered?.findings ?? [])]);
  for (const f of refusals) expect(f.message.length * f.try.length, f.code).toBeGreaterThan(0);
  if (refusals.length > 0) return { seed, outcome: 'refused', codes: refusals.map(reason), worst: 0 };
  if (!altered) throw new Error(`${garment} ${seed}: neither altered nor refused`);
  const off = (plan.targets ?? [])
    .flatMap((t) => (t.decides ? offTarget(t, t.after ?? []) : []))
    .map((o) => Math.abs(o.off));
  // Nothing the wearer was measured for goes without an alteration.
  expect((plan.targets ?? []).filter((t) => !t.decides).map((t) => t.measurement)).toEqual([]);
  const broken = errors(checkPattern(before, altered.pattern));
  expect(broken.map((f) => `${garment} ${seed}: ${f.message}`)).toEqual([]);
  return { seed, outcome: 'met', codes: [], worst: Math.max(0, ...off) };
};

const reason = (f: Finding): string => `${f.code} (${f.where.alteration ?? f.where.cell ?? f.where.piece ?? ''})`;

const rows: string[] = [];
afterAll(() => console.info(rows.join('\n')));

describe.each(GARMENTS)('bodies on a %s', (garment) => {
  const count = BODIES > 0 ? Math.ceil(BODIES / GARMENTS.length) : (SOME[garment] ?? 0);
  it(`are fitted, or refused with the reason: ${count} of them`, { timeout: 60_000 + count * 5_000 }, () => {
    const told = Array.from({ length: count }, (_, i) => fitted(garment, i + 1));
    const met = told.filter((t) => t.outcome === 'met');
    for (const t of met) expect(t.worst, `${garment} ${t.seed}`).toBeLessThanOrEqual(WITHIN);
    const refused = new Map<string, number>();
    for (const t of told) for (const c of new Set(t.codes)) refused.set(c, (refused.get(c) ?? 0) + 1);
    const most = [...refused].toSorted((a, b) => b[1] - a[1]).map(([c, n]) => `${n} × ${c}`);
    const worst = Math.max(0, ...met.map((t) => t.worst));
    rows.push(
      `${garment}: ${met.length} of ${count} met in every measurement (worst ${worst.toFixed(3)} mm), ${count - met.length} refused${most.length > 0 ? `: ${most.join(', ')}` : ''}`,
    );
    expect(met.length + told.filter((t) => t.outcome === 'refused').length).toBe(count);
  });
});
