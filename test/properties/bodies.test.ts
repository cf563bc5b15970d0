import { afterAll, describe, expect, it } from 'vitest';
import { fitToPerson } from '../../src/alterations/person.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { measuresOf, offTarget, WITHIN } from '../../src/alterations/targets.ts';
import { checkPattern } from '../../src/checks/index.ts';
import type { Finding } from '../../src/finding.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { figureAt, type GarmentName, garments, wearerOf } from '../bodies.ts';
import { capEase, crossed, mateDifferences } from './sewing-up.ts';

/*
 * From a person to a pattern, on many persons: bodies drawn around the misses' body table (a secondary copy of a US
 * home-sewing size table), each on the block of the size she would buy. How far they scatter about the table is from
 * memory (see test/bodies.ts). Every measurement is met, or the fitting is refused and says why; what is altered still
 * sews up. Some in every run; RETRUE_BODIES=500 for all, a fifth of them on each garment.
 *
 * Measured last on 29 November 2026, on 100 bodies each, 30 on panels: skirt 99 fitted, trousers 100, bodice 79, panels
 * 26, dress 74: 378 of 430 (87.9 %). Of those who keep within the customary most in every measurement by itself: 99 of
 * 99, 100 of 100, 74 of 79, 23 of 23, 69 of 74: 365 of 375 (97.3 %). Of all that were refused, 8 were for the cut of
 * a smaller bust, whose cutting line came to cross itself or which had no room; one sleeve missed its lengths; the others
 * are past a customary most, the upper arm's before all.
 */

const BODIES = Number(process.env.RETRUE_BODIES ?? 0);
/** How many of each in every run: 25 in all. */
const SOME: Readonly<Record<GarmentName, number>> = {
  ...{ skirt: 8, bodice: 4, 'panelled bodice': 3, trousers: 6, dress: 4 },
};
const GARMENTS = Object.keys(SOME) as GarmentName[];

const OPTIONS = { beyondLimits: false, choices: {}, show: 'mm' } as const;
/** Mates and caps may come to differ by so much more than they did, mm. */
const SEWS = 0.5;
/** Of the bodies that are within the customary mosts, so many have to be fitted. */
const MOST_ARE_FITTED = 0.95;

const drafted = new Map<string, Pattern>();
const blockOf = (garment: GarmentName, size: number): Pattern => {
  const key = `${garment} ${size}`;
  const pattern = drafted.get(key) ?? garments[garment].draft(figureAt(size));
  drafted.set(key, pattern);
  return pattern;
};

interface Told {
  readonly seed: number;
  /** Whether every measurement by itself keeps within the customary mosts. */
  readonly customary: boolean;
  readonly met: boolean;
  /** Codes of what refused it: before it is done, or by the checks of what was done. */
  readonly codes: readonly string[];
  readonly worst: number;
}

const errors = (findings: readonly Finding[]): Finding[] => findings.filter((f) => f.level === 'error');

const needsOf = (fitting: string, measurements: Readonly<Record<string, number>>) => ({
  fitting,
  measurements,
  direct: {},
});

const isCustomary = (pattern: Pattern, measurements: Readonly<Record<string, number>>): boolean =>
  Object.entries(measurements).every(([m, mm]) =>
    planFitting(pattern, needsOf('alone', { [m]: mm }), OPTIONS).findings.every((f) => f.code !== 'plan-past-limit'),
  );

const fitted = (garment: GarmentName, seed: number): Told => {
  const { boughtBy, measured, sizes } = garments[garment];
  const { size, body } = wearerOf(seed, boughtBy, sizes);
  const before = blockOf(garment, size);
  const stated = Object.fromEntries(Object.entries(measured(body)).filter(([m]) => before.draftedFor[m] !== undefined));
  const customary = isCustomary(before, stated);
  const { plan, altered } = fitToPerson(before, needsOf(`${garment} ${seed}`, stated), OPTIONS, {
    true: false,
    fullGrainline: false,
  });
  const done = altered ? [...altered.findings, ...checkPattern(before, altered.pattern, altered.eased)] : [];
  const refusals = errors([...plan.findings, ...done]);
  for (const f of refusals) saysWhy(f);
  if (refusals.length > 0) return { seed, customary, met: false, codes: refusals.map(reason), worst: 0 };
  if (!altered) throw new Error(`${garment} ${seed}: neither altered nor refused`);
  // Nothing the wearer was measured for goes without an alteration.
  expect((plan.targets ?? []).filter((t) => !t.decides).map((t) => t.measurement)).toEqual([]);
  sewsUp(`${garment} ${seed}`, before, altered.pattern, altered.eased);
  const off = (plan.targets ?? []).flatMap((t) => offTarget(t, measuresOf(altered.pattern, t.measurement)));
  return { seed, customary, met: true, codes: [], worst: Math.max(0, ...off.map((o) => Math.abs(o.off))) };
};

/** What is the matter, where, and what to try, in words of the trade. */
const saysWhy = (f: Finding): void => {
  expect(f.message, f.code).toMatch(/^.{12,}\.$/s);
  expect(f.message, f.code).not.toMatch(/NaN|undefined|null|\bsolve/);
  expect(f.try.length, f.code).toBeGreaterThan(8);
};

const sewsUp = (called: string, before: Pattern, after: Pattern, eased: ReadonlyMap<string, number>): void => {
  const was = mateDifferences(before);
  const apart = mateDifferences(after, eased).map((is, i) => Math.abs(is - (was[i] as number)));
  expect(Math.max(0, ...apart), `${called}: mates`).toBeLessThanOrEqual(SEWS);
  expect(Math.abs((capEase(after) ?? 0) - (capEase(before) ?? 0)), `${called}: cap`).toBeLessThanOrEqual(SEWS);
  expect(crossed(after), called).toEqual([]);
};

const reason = (f: Finding): string => `${f.code} (${f.where.alteration ?? f.where.cell ?? f.where.piece ?? ''})`;

const all: Told[] = [];
const rows: string[] = [];
const percent = (part: number, whole: number): string =>
  `${part} of ${whole}${whole > 0 ? ` (${((100 * part) / whole).toFixed(1)} %)` : ''}`;

const row = (name: string, told: readonly Told[]): string => {
  const within = told.filter((t) => t.customary);
  const worst = Math.max(0, ...told.map((t) => t.worst)).toFixed(3);
  return `${name}: ${percent(told.filter((t) => t.met).length, told.length)} fitted, worst ${worst} mm; within the customary mosts ${percent(within.filter((t) => t.met).length, within.length)}`;
};

const refusalsOf = (told: readonly Told[]): string => {
  const refused = new Map<string, number>();
  for (const t of told) for (const c of new Set(t.codes)) refused.set(c, (refused.get(c) ?? 0) + 1);
  return [...refused]
    .toSorted((a, b) => b[1] - a[1])
    .map(([c, n]) => `  ${n} × ${c}`)
    .join('\n');
};

afterAll(() => {
  const ended = all.length > 0 ? row('all', all) : '';
  console.info([...rows, ended].join('\n'));
});

describe.each(GARMENTS)('bodies on a %s', (garment) => {
  const count = BODIES > 0 ? Math.ceil(BODIES / GARMENTS.length) : SOME[garment];
  it(`are fitted, or refused with the reason: ${count} of them`, { timeout: 60_000 + count * 60_000 }, () => {
    const told = Array.from({ length: count }, (_, i) => fitted(garment, i + 1));
    all.push(...told);
    rows.push([row(garment, told), refusalsOf(told)].filter((s) => s !== '').join('\n'));
    for (const t of told) expect(t.worst, `${garment} ${t.seed}`).toBeLessThanOrEqual(WITHIN);
    expect(told.every((t) => t.met || t.codes.length > 0)).toBe(true);
  });
});

it('bodies within the customary mosts are fitted, but for one in twenty', () => {
  const within = all.filter((t) => t.customary);
  expect(within.filter((t) => t.met).length).toBeGreaterThanOrEqual(Math.floor(MOST_ARE_FITTED * within.length));
});
