import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readChart } from '../../src/measurements/chart.ts';
import { expectedFrom, LOG_COVARIANCES, LOG_MEANS } from '../../src/measurements/plausible/girths.ts';
import { type Body, checkBody } from '../../src/measurements/plausible.ts';
import { formatLength } from '../../src/measurements/units.ts';
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

  // The girths of each person, all of them written as numbers of the other unit.
  it.each([
    ['inches', 'cm', 1 / 2.54, 'in'],
    ['centimetres', 'in', 2.54, 'cm'],
  ] as const)('are asked about as a whole where a row was written in %s', (words, unit, factor, meant) => {
    const wrong = people.filter((person) => {
      const trunk = ['bust girth', 'waist girth', 'hip girth'].map((name) => [name, person[name]! * factor] as const);
      const found = check(Object.fromEntries(trunk), unit).filter((f) => f.level !== 'note');
      const right = trunk.map(([name]) => `${name} ${formatLength(person[name]!, meant)}`).join(', ');
      const says = `In ${words} the whole row goes together: ${right}.`;
      return !(found.length === 1 && found[0]?.code === 'measure-row-unit' && found[0].message.includes(says));
    });
    // The figure of one, as centimetres, is an infant's; the note on that tells of the other unit too.
    const infants = wrong.filter((person) => person['waist girth']! / person['bust girth']! > 0.9);
    expect(wrong).toEqual(meant === 'in' ? infants : []);
    expect(infants.length).toBeLessThan(2);
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

describe('girths in the wrong cells', () => {
  /** Every two girths that differ visibly, exchanged on every body, and whether that was told with both and their values. */
  const exchanges = (bodies: readonly Record<string, number>[]) => {
    const [first = {}] = bodies;
    const names = Object.keys(first);
    const pairs = names.flatMap((a, i) => names.slice(i + 1).map((b) => [a, b] as const));
    return pairs.map(([a, b]) => {
      const apart = bodies.filter((body) => Math.abs(Math.log(body[a]! / body[b]!)) > 0.03);
      const missed = apart.filter((body) => {
        const findings = check({ ...body, [a]: body[b]!, [b]: body[a]! }, 'cm');
        const right = (name: string) => `${name} ${formatLength(body[name]!, 'cm')}`;
        return !findings.some((f) => f.level !== 'note' && f.try.includes(right(a)) && f.try.includes(right(b)));
      });
      return { pair: `${a}, ${b}`, of: apart.length, missed: missed.length };
    });
  };
  const onlyThese = (body: Record<string, number>, names: readonly string[]) =>
    Object.fromEntries(names.map((name) => [name, body[name]!]));
  const missedIn = (bodies: readonly Record<string, number>[]) =>
    exchanges(bodies)
      .filter(({ missed }) => missed > 0)
      .map(({ pair }) => pair);

  // A bust and a hip, an upper arm and a knee are near each other: exchanged they are mostly another believable body.
  it('any two of the eight of a hundred people', () => {
    const all = exchanges(people);
    expect(all).toHaveLength(28);
    const hard = ['bust girth, hip girth', 'upper-arm girth, knee girth'];
    expect(all.filter(({ pair, missed }) => missed > 1 && !hard.includes(pair))).toEqual([]);
    expect(all.reduce((sum, { missed }) => sum + missed, 0)).toBeLessThan(80);
    for (const { pair, of, missed } of all) expect(missed / of, pair).toBeLessThan(0.65);
  });

  it('of bust, waist and hip alone: all but bust and hip', () => {
    expect(missedIn(people.map((p) => onlyThese(p, ['bust girth', 'waist girth', 'hip girth'])))).toEqual([
      'bust girth, hip girth',
    ]);
    expect(missedIn(people.map((p) => onlyThese(p, ['bust girth', 'waist girth'])))).toEqual([]);
    expect(missedIn(people.map((p) => onlyThese(p, ['waist girth', 'hip girth'])))).toEqual([]);
  });

  it('in every size of the misses table', async () => {
    const { sizes } = await readChart(readFileSync(join(PUBLISHED, 'misses-body-table.csv')), { fileName: 'misses' });
    const bodies = sizes.map((s) => onlyThese(s.measurements, ['bust girth', 'waist girth', 'hip girth']));
    expect(missedIn(bodies)).toEqual(['bust girth, hip girth']);
  });

  it('are never suspected of the people who were measured, whichever two or three girths are known', () => {
    const names = Object.values(COLUMNS);
    const some = names.flatMap((a, i) =>
      names.slice(i + 1).flatMap((b, j) => [[a, b], ...names.slice(i + j + 2).map((c) => [a, b, c])]),
    );
    expect(some).toHaveLength(28 + 56);
    const suspected = people.flatMap((p) =>
      some.flatMap((of) => check(onlyThese(p, of), 'cm').filter((f) => f.code === 'measure-exchanged')),
    );
    expect(suspected).toEqual([]);
  });

  it('bust 28, waist 35, hip 39: the two cells, and what they would be', () => {
    const body = inches({ 'bust girth': 28, 'waist girth': 35, 'hip girth': 39 });
    const places = { 'bust girth': 'B2', 'waist girth': 'C2', 'hip girth': 'D2' } as Record<string, string>;
    const writtenIn = Object.fromEntries(Object.keys(body).map((m) => [m, 'in' as const]));
    const findings = checkBody({
      measurements: body,
      writtenIn,
      where: (m) => (places[m] === undefined ? {} : { address: places[m] }),
    });
    expect(findings).toEqual([
      {
        code: 'measure-exchanged',
        level: 'warning',
        where: { address: 'B2' },
        message:
          "These hardly belong to one body: bust girth 28 in (cell B2) and waist girth 35 in (cell C2). In each other's place they do.",
        try: "If they were exchanged, put them right: bust girth 35 in and waist girth 28 in. If it was measured so, write yes in the column 'checked'.",
      },
    ]);
  });

  it('all moved on by a column: both ways to put them right', () => {
    const [only, ...others] = told(inches({ 'bust girth': 38, 'waist girth': 36, 'hip girth': 28 }), 'in');
    expect(others).toEqual([]);
    expect(only).toContain(
      'waist girth 28 in and hip girth 36 in; or bust girth 36 in, waist girth 28 in and hip girth 38 in.',
    );
  });

  it.each([
    [
      'a girth and a length',
      { 'waist girth': 28, 'hip girth': 8, 'waist to hip': 38 },
      'hip girth 38 in and waist to hip 8 in.',
    ],
    [
      'the first and a length',
      { 'waist girth': 8, 'hip girth': 38, 'waist to hip': 28 },
      'waist girth 28 in and waist to hip 8 in.',
    ],
    [
      'two lengths, of which one may be in another unit',
      { 'waist girth': 28, 'hip girth': 38, 'waist to hip': 24, 'skirt length': 8 },
      'waist to hip 8 in and skirt length 24 in; or was a waist to hip of 24.0 cm meant?',
    ],
  ])('of which one is outside its range: %s', (_, body, expected) => {
    const findings = check(inches(body as unknown as Record<string, number>), 'in');
    expect(findings).toHaveLength(1);
    expect(findings[0]?.try).toContain(expected);
  });

  it('are shown each in the unit it was written in', () => {
    const measurements = { 'bust girth': 28 * INCH, 'waist girth': 890, 'hip girth': 980 };
    const [finding] = checkBody({
      measurements,
      writtenIn: { 'bust girth': 'in', 'waist girth': 'cm', 'hip girth': 'cm' },
      where: () => ({}),
    });
    expect(finding?.try).toContain('bust girth 89.0 cm and waist girth 28 in.');
  });

  it('of which one cannot be a measurement of that name: an error, as it would be without', () => {
    const body = cm({ 'bust girth': 16, 'waist girth': 72, 'hip girth': 97, 'wrist girth': 92 });
    const [finding] = check(body, 'cm', () => true);
    expect(finding).toMatchObject({ code: 'measure-impossible', level: 'error' });
    expect(finding?.try).toBe('If they were exchanged, put them right: bust girth 92.0 cm and wrist girth 16.0 cm.');
  });
});

describe('the cell that is off, and what was likeliest meant', () => {
  const body = (bust: number, waist: number, hip: number) =>
    told(inches({ 'bust girth': bust, 'waist girth': waist, 'hip girth': hip }), 'in');
  it.each([
    ['hip 73 for 37', body(36, 28, 73), /^hip girth .*[Ww]as 37 in meant/],
    ['hip 83 for 38', body(36, 28, 83), /^hip girth .*[Ww]as 38 in or 83\.0 cm meant/],
    ['hip 83, and all of a large body', body(39, 28, 83), /^hip girth .*[Ww]as 38 in meant/],
    ['bust 63 for 36', body(63, 28, 38), /^bust girth .*[Ww]as 36 in meant/],
    ['waist 82 for 28', body(36, 82, 38), /^waist girth .*[Ww]as 82\.0 cm or 28 in meant/],
    ['waist 72, written in centimetres', body(35, 72, 39), /^waist girth .*[Ww]as 72\.0 cm meant/],
  ])('%s', (_, findings, expected) => {
    expect(findings).toEqual([expect.stringMatching(expected)]);
  });

  it('is none of its own where the whole row is in another unit; and beside one that cannot be, each for itself', () => {
    const pair = (waist: number, hip: number) => check(inches({ 'waist girth': waist, 'hip girth': hip }), 'in');
    for (const [waist, hip] of [
      [70, 95],
      [68, 92],
    ] as const)
      expect(pair(waist, hip)).toMatchObject([
        {
          code: 'measure-row-unit',
          level: 'error',
          message: expect.stringContaining(`waist girth ${waist}.0 cm, hip girth ${hip}.0 cm`),
        },
      ]);
    const withBack = told(inches({ 'waist girth': 70, 'hip girth': 95, 'back width': 15 }), 'in');
    expect(withBack).toEqual([
      expect.stringMatching(/^waist girth .*was 70\.0 cm meant/),
      expect.stringMatching(/^hip girth .*[Ww]as 95\.0 cm meant/),
    ]);
  });

  it('of a waist and a hip, the one that is rare by itself, with what the other may have been', () => {
    const pair = (waist: number, hip: number) => told(inches({ 'waist girth': waist, 'hip girth': hip }), 'in');
    expect(pair(26.5, 60)).toEqual([
      expect.stringMatching(/^hip girth .*Measure again\. Or was a waist girth of 62½ in/),
    ]);
    expect(pair(27, 60)).toEqual([expect.stringMatching(/^hip girth .*Measure again\. If/)]);
  });

  it('of two girths alone, the one of a size that is rare', () => {
    const two = (bust: number, hip: number) => told(inches({ 'bust girth': bust, 'hip girth': hip }), 'in');
    expect(two(63, 38)).toEqual([expect.stringMatching(/^bust girth .*36 in meant/)]);
    expect(two(36, 63)).toEqual([expect.stringMatching(/^hip girth .*36 in meant/)]);
    expect(two(36, 73)).toEqual([expect.stringMatching(/^hip girth .*37 in meant/)]);
  });

  it('a number past all bodies of which the digits were turned about is an error of digits', () => {
    const [finding] = check(cm({ 'bust girth': 92, 'waist girth': 17, 'hip girth': 98 }), 'cm');
    expect(finding).toMatchObject({ code: 'measure-digits-turned', level: 'error' });
    expect(finding?.try).toContain('Was 71.0 cm meant? Put the digits right.');
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
      /measure-exchanged: If they were exchanged, put them right: waist girth 27½ in and hip girth 38 in\./,
    );
    expect(others).toEqual([]);
  });

  it('a thigh and an upper arm that were exchanged', () => {
    const body = cm({ 'bust girth': 92, 'waist girth': 72, 'hip girth': 97, 'thigh girth': 36, 'upper-arm girth': 57 });
    expect(told(body, 'cm').join('\n')).toMatch(
      /^thigh girth measure-exchanged: If they were exchanged, put them right: thigh girth 57.0 cm and upper-arm girth 36.0 cm\.[^\n]*$/,
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
