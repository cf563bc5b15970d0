import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseAssignments } from '../../src/measurements/assignments.ts';
import { checkBody } from '../../src/measurements/plausible.ts';

const alterationColumns = [
  { name: 'full abdomen', canonical: 'full abdomen', sign: 1 },
  { name: 'flat abdomen', canonical: 'full abdomen', sign: -1 },
] as const;
const read = (text: string) => parseAssignments(text, { source: '--wearer', alterationColumns });

describe('lists of name=value', () => {
  it.each([
    'waist girth=27in, hip girth=37in',
    'waist girth = 27 in; hip girth = 37 in',
    ' Waist=27", HIPS=37", ',
    'waist=685,8 mm, hip=93,98 cm',
    'waist=68.58cm;hip=939,8mm',
    'waist=27in\nhip=37in',
  ])('%j', (text) => {
    const { measurements, findings } = read(text);
    expect(findings).toEqual([]);
    expect(measurements['waist girth']).toBeCloseTo(685.8, 9);
    expect(measurements['hip girth']).toBeCloseTo(939.8, 9);
  });

  it('reads amounts for alterations with their sign', () => {
    expect(read('waist=27in, flat abdomen=½in')).toMatchObject({
      measurements: { 'waist girth': 685.8 },
      direct: { 'full abdomen': { amount: -12.7, column: 'flat abdomen' } },
      show: 'in',
    });
  });

  it.each([
    ['waist=27', 'measure-unit-missing'],
    ['waist=1,234mm', 'measure-value-ambiguous'],
    ['waist 27in', 'measure-list-unreadable'],
    ['waist=', 'measure-list-unreadable'],
    ['waist=27in, waist girth=28in', 'measure-given-twice'],
    ['wiast=27in', 'measure-column-unknown'],
    ['waist=27in, 28in', 'measure-value-unreadable'],
    ['waist=27cm', 'measure-unit-mixed-up'],
  ])('%j is told as %s', (text, code) => expect(read(text).findings.map((f) => f.code)).toEqual([code]));

  it('reads any two values whatever separator and decimal mark they use', () => {
    const tenths = fc.integer({ min: 6500, max: 16000 });
    fc.assert(
      fc.property(
        tenths,
        tenths,
        fc.constantFrom(',', '.'),
        fc.constantFrom(',', ', ', ';', ' ; '),
        (a, b, mark, gap) => {
          const cm = (n: number) => (n / 100).toFixed(2).replace('.', mark);
          const { measurements } = read(`waist=${cm(a)} cm${gap}hip=${cm(b)}cm`);
          expect(measurements['waist girth']).toBeCloseTo(a / 10, 6);
          expect(measurements['hip girth']).toBeCloseTo(b / 10, 6);
        },
      ),
    );
  });
});

describe('bodies that cannot be', () => {
  const check = (measurements: Record<string, number>, writtenIn: Record<string, 'in' | 'cm' | 'mm'> = {}) =>
    checkBody({ measurements, writtenIn, where: () => ({}) }).map((f) => `${f.code}: ${f.try}`);

  it('finds the unit that was meant', () => {
    expect(check({ 'waist girth': 27 }, { 'waist girth': 'mm' })[0]).toMatch(/^measure-unit-mixed-up: Was 27 in meant/);
    expect(check({ 'waist girth': 680 * 25.4 }, { 'waist girth': 'in' })[0]).toContain('680.0 mm');
    expect(check({ 'hip girth': 96 * 25.4 }, { 'hip girth': 'in' })[0]).toContain('96.0 cm');
  });

  it('says how to ask for a change where a small value stands for a body', () => {
    expect(check({ 'hip girth': 12 }, { 'hip girth': 'mm' })[0]).toMatch(/^measure-impossible: .*'hip change'/);
    expect(check({ 'hip girth': 40 }, { 'hip girth': 'mm' })[0]).toMatch(/^measure-unit-mixed-up: .*'hip change'/);
    expect(check({ 'hip girth': 9000 }, { 'hip girth': 'mm' })[0]).toMatch(/^measure-(impossible|unit-mixed-up)/);
  });

  it('does not refuse what is only unusual', () => {
    expect(check({ 'waist girth': 1750, 'hip girth': 1800 }, { 'waist girth': 'cm' })[0]).toMatch(
      /^measure-out-of-range/,
    );
    expect(check({ 'waist girth': 480 })[0]).toMatch(/^measure-out-of-range/);
    expect(check({ 'waist girth': 420, 'hip girth': 520 }).join()).not.toContain('mixed-up');
  });

  // Misses' body table of US home sewing and ASTM D5585-11e1: no published size may be asked about.
  it('says nothing of published bodies', () => {
    for (const [bust, waist, hip] of [
      [30.5, 23, 32.5],
      [34, 26.5, 36],
      [42, 34, 44],
    ] as const) {
      expect(check({ 'bust girth': bust * 25.4, 'waist girth': waist * 25.4, 'hip girth': hip * 25.4 })).toEqual([]);
    }
  });
});
