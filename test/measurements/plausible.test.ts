import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readChart } from '../../src/measurements/chart.ts';
import { expectedFrom, LOG_COVARIANCES, LOG_MEANS } from '../../src/measurements/plausible/girths.ts';
import { type Body, checkBody } from '../../src/measurements/plausible.ts';
import { garments, wearerOf } from '../bodies.ts';

const PUBLISHED = join(import.meta.dirname, '../../fixtures/published');
const INCH = 25.4;

type Unit = 'in' | 'cm' | 'mm';
const check = (measurements: Record<string, number>, unit: Unit = 'mm', checked?: Body['checked']) =>
  checkBody({
    measurements,
    writtenIn: Object.fromEntries(Object.keys(measurements).map((m) => [m, unit])),
    where: (cell) => ({ cell }),
    ...(checked ? { checked } : {}),
  });
const told = (...args: Parameters<typeof check>) => check(...args).map((f) => `${f.where.cell} ${f.code}: ${f.try}`);
const inches = (measurements: Record<string, number>) =>
  Object.fromEntries(Object.entries(measurements).map(([k, v]) => [k, v * INCH]));
const cm = (measurements: Record<string, number>) =>
  Object.fromEntries(Object.entries(measurements).map(([k, v]) => [k, v * 10]));

/**
 * A hundred people measured for Heinz, Peterson, Johnson and Kerk, "Exploring Relationships in Body Dimensions", Journal
 * of Statistics Education 11(2), 2003: fifty men and fifty women, not chosen. Centimetres.
 */
const COLUMNS = {
  chest: 'bust girth',
  waist: 'waist girth',
  hip: 'hip girth',
  thigh: 'thigh girth',
  'upper arm': 'upper-arm girth',
  knee: 'knee girth',
  ankle: 'ankle girth',
  wrist: 'wrist girth',
} as const;
const people = (() => {
  const [head = '', ...lines] = readFileSync(join(PUBLISHED, 'body-dimensions.csv'), 'utf8').trim().split('\n');
  const names = head.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    const girths = Object.entries(COLUMNS).map(([column, name]) => [name, Number(cells[names.indexOf(column)]) * 10]);
    return Object.fromEntries(girths) as Record<string, number>;
  });
})();

describe('people who were measured', () => {
  it('are a hundred, and nothing is asked about any of them', () => {
    expect(people).toHaveLength(100);
    expect(people.flatMap((person) => told(person, 'cm'))).toEqual([]);
  });

  it('give the means and covariances that are worked with', () => {
    const names = Object.values(COLUMNS);
    const logs = people.map((person) => names.map((name) => Math.log(person[name] ?? 0)));
    const means = names.map((_, i) => logs.reduce((sum, l) => sum + l[i]!, 0) / logs.length);
    for (const [i, mean] of means.entries()) {
      expect(LOG_MEANS[i]).toBeCloseTo(mean, 3);
      for (const [j, covariance] of LOG_COVARIANCES[i]!.entries()) {
        const sum = logs.reduce((s, l) => s + (l[i]! - mean) * (l[j]! - means[j]!), 0);
        expect(covariance).toBeCloseTo(sum / (logs.length - 1), 4);
      }
    }
    // As a straight line through the same bodies has it: hip 95, waist about 74 cm.
    expect(expectedFrom('waist girth', 'hip girth', 950).middle).toBeGreaterThan(700);
    expect(expectedFrom('waist girth', 'hip girth', 950).middle).toBeLessThan(780);
  });

  // Each girth of each person in turn written as its number of inches into a column of centimetres, the other way round,
  // and with the decimal mark slipped.
  it.each([
    ['inches in a column of centimetres', 1 / 2.54],
    ['centimetres in a column of inches', 2.54],
    ['the decimal mark one place on', 10],
    ['the decimal mark one place back', 1 / 10],
  ])('are found out with %s', (_, factor) => {
    const missed = people.flatMap((person) =>
      Object.keys(person)
        .map((name) => ({ name, found: check({ ...person, [name]: person[name]! * factor }, 'cm') }))
        .filter(({ name, found }) => !found.some((f) => f.where.cell === name && f.level !== 'note')),
    );
    expect(missed).toEqual([]);
  });

  it('get the value back that was meant, where inches were written for centimetres', () => {
    const all = people.flatMap((person) =>
      ['bust girth', 'waist girth', 'hip girth', 'thigh girth'].map((name) => {
        const number = Math.round((person[name]! / INCH) * 2) / 2;
        const [finding] = check({ ...person, [name]: number * 10 }, 'cm').filter((f) => f.where.cell === name);
        return finding?.try.includes(`${Math.trunc(number)}`) && /\d(½)? in meant/.test(finding.try);
      }),
    );
    expect(all.filter((right) => right).length / all.length).toBeGreaterThan(0.99);
  });
});

describe('bodies of published tables', () => {
  it.each(['misses-body-table', 'standard-curvy-figure', 'standard-straight-figure'])(
    '%s: nothing is asked',
    async (name) => {
      const chart = await readChart(readFileSync(join(PUBLISHED, `${name}.csv`)), { fileName: name });
      expect(chart.findings).toEqual([]);
      expect(chart.sizes.length).toBeGreaterThan(7);
    },
  );

  // US home-sewing tables of toddlers', children's and girls' sizes, from memory: chest, waist, hip (from size 4 on) and
  // back neck to waist, inches.
  it.each([
    ['toddlers ½', 19, 19],
    ['toddlers 1', 20, 19.5],
    ['toddlers 2', 21, 20],
    ['toddlers 4', 23, 21],
    ['children 4', 23, 21, 24, 9.5],
    ['children 5', 24, 21.5, 25, 10],
    ['children 6', 25, 22, 26, 10.5],
    ['girls 7', 26, 23, 27, 11.5],
    ['girls 8', 27, 23.5, 28, 12],
    ['girls 10', 28.5, 24.5, 30, 12.75],
    ['girls 12', 30, 25.5, 32, 13.5],
    ['girls 14', 32, 26.5, 34, 14.25],
  ])('%s: a child, and no alarm', (_, bust, waist, hip?: number, back?: number) => {
    const body = {
      'bust girth': bust,
      'waist girth': waist,
      ...(hip === undefined ? {} : { 'hip girth': hip }),
      ...(back === undefined ? {} : { 'back neck to waist': back }),
    };
    const findings = check(inches(body), 'in');
    expect(findings.filter((f) => f.level !== 'note')).toEqual([]);
    if (bust < 25) expect(findings[0]?.message).toContain('EN 14682');
  });

  it('drawn around the misses table: nothing is asked about 200 of them in any garment', () => {
    for (const { boughtBy, measured } of Object.values(garments)) {
      for (let seed = 1; seed <= 200; seed++) {
        const { body } = wearerOf(seed, boughtBy);
        expect(told({ ...measured(body) }, 'cm'), `seed ${seed}`).toEqual([]);
      }
    }
  });
});

describe('slips of the pen', () => {
  it('27 cm is a waist no adult has', () => {
    expect(told(cm({ 'waist girth': 27, 'hip girth': 95 }), 'cm')).toEqual([
      'waist girth measure-unit-mixed-up: Was 27 in meant? Write the unit behind the number.',
    ]);
  });

  it('705 cm is 70.5 cm, or 705 mm', () => {
    expect(told(cm({ 'waist girth': 705, 'hip girth': 95 }), 'cm')[0]).toMatch(/Was (705.0 mm|70.5 cm) meant/);
    expect(told(inches({ 'waist girth': 7.05, 'bust girth': 96 }), 'in').join()).toMatch(/bust girth .*96.0 cm/);
    expect(told(inches({ 'waist girth': 275, 'hip girth': 38 }), 'in')[0]).toContain(
      'measure-decimal-slip: Was 27½ in meant',
    );
  });

  it('a waist larger than the hip says what they would be the other way round', () => {
    const [only, ...others] = told(inches({ 'waist girth': 38, 'hip girth': 27.5 }), 'in');
    expect(only).toMatch(
      /measure-waist-over-hip: If the two were exchanged, put them right: waist 27½ in, hip 38 in\./,
    );
    expect(others).toEqual([]);
  });

  it('a thigh and an upper arm that were exchanged', () => {
    const body = cm({ 'bust girth': 92, 'waist girth': 72, 'hip girth': 97, 'thigh girth': 36, 'upper-arm girth': 57 });
    expect(told(body, 'cm').join('\n')).toMatch(
      /^thigh girth measure-far-from-others: Were thigh girth and upper-arm girth exchanged\?[^\n]*$/,
    );
  });

  it('digits turned about: 75 for 57', () => {
    const body = cm({ 'bust girth': 92, 'waist girth': 72, 'hip girth': 97, 'upper-arm girth': 28, 'thigh girth': 57 });
    expect(told(body, 'cm')).toEqual([]);
    expect(told({ ...body, 'upper-arm girth': 820 }, 'cm')[0]).toContain('was 28.0 cm meant');
    expect(told({ ...body, 'thigh girth': 750 }, 'cm')).toEqual([
      "thigh girth measure-far-from-others: Was 57.0 cm meant? If it was measured so, write yes in the column 'checked'.",
    ]);
  });

  it.each([
    [
      'a back as long as a skirt',
      { 'back neck to waist': 540, 'front waist length': 440, stature: 1650 },
      'back neck to waist',
    ],
    [
      'a back length that hardly goes with the height',
      { 'back neck to waist': 520, stature: 1600 },
      'back neck to waist',
    ],
    ['the armhole below the waist', { 'armhole depth': 300, 'back neck to waist': 400 }, 'armhole depth'],
    ['an elbow at the wrist', { 'shoulder to elbow': 450, 'outer arm length': 570 }, 'shoulder to elbow'],
    [
      'a crotch seam that is not its parts',
      { 'front crotch length': 300, 'back crotch length': 370, 'crotch length': 760 },
      'crotch length',
    ],
    [
      'half the back width',
      { 'back width': 280, 'chest width': 330, 'bust girth': 1060, 'across back shoulder': 410 },
      'back width',
    ],
    ['a hem that slopes', { 'skirt length at front': 610, 'skirt length at back': 810 }, 'skirt length at front'],
  ])('%s', (_, body, at) => {
    const findings = check(body as unknown as Record<string, number>);
    expect(findings.map((f) => [f.level, f.where.cell])).toEqual([['warning', at]]);
    expect(findings[0]?.try).toContain("yes in the column 'checked'");
  });

  it('what a person has checked is a note; what nobody can measure stays an error', () => {
    const body = inches({ 'waist girth': 44, 'hip girth': 41 });
    expect(check(body, 'in').map((f) => f.level)).toEqual(['warning']);
    expect(check(body, 'in', () => true).map((f) => f.level)).toEqual(['note']);
    expect(check(body, 'in', (m) => m === 'hip girth').map((f) => f.level)).toEqual(['note']);
    expect(check(body, 'in', (m) => m === 'bust girth').map((f) => f.level)).toEqual(['warning']);
    expect(check({ 'waist girth': 30 }, 'mm', () => true)[0]).toMatchObject({ level: 'note' });
    expect(check({ 'waist girth': 9 }, 'mm', () => true)[0]).toMatchObject({
      code: 'measure-impossible',
      level: 'error',
    });
  });

  it('a grown figure in inches is not taken for a baby in centimetres', () => {
    const bodies: Record<string, number>[] = [
      { 'bust girth': 36, 'waist girth': 28, 'hip girth': 38 },
      { 'bust girth': 44, 'waist girth': 38, 'hip girth': 46 },
      { 'waist girth': 34, 'hip girth': 42 },
    ];
    for (const body of bodies) {
      expect(check(cm(body), 'cm').filter((f) => f.level !== 'note').length, JSON.stringify(body)).toBeGreaterThan(0);
    }
  });
});
