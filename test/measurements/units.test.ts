import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatChange,
  formatLength,
  isProblem,
  parseLength,
  showLength,
  unitCalled,
} from '../../src/measurements/units.ts';

const mm = (text: string, unit?: 'in' | 'cm' | 'mm'): number => {
  const read = parseLength(text, unit);
  if (isProblem(read)) throw new Error(`${text}: ${read.problem} ${read.message}`);
  return read.mm;
};
const problem = (text: string, unit?: 'in' | 'cm' | 'mm'): string => {
  const read = parseLength(text, unit);
  return isProblem(read) ? read.problem : `read as ${read.mm} mm`;
};

describe('reading lengths', () => {
  // 1 inch is exactly 25.4 mm: international yard and pound agreement of 1959; NIST SP 811, appendix B.8.
  it.each([
    ['1 in', 25.4],
    ['1 ft', 304.8],
    ['27 1/2 in', 698.5],
    ['27½ in', 698.5],
    ['27 ½ in', 698.5],
    ['27-1/2"', 698.5],
    ['27½″', 698.5],
    ['27.5 inches', 698.5],
    ['½"', 12.7],
    ['3/8 in', 9.525],
    ['-3/8 in', -9.525],
    ['−1 ⅜ in', -34.925],
    ['+⅝ in.', 15.875],
    ['70,5 cm', 705],
    ['70.5cm', 705],
    ['705 mm', 705],
    ['705MM', 705],
    ['0,375 in', 9.525],
    [',5 cm', 5],
    [`5'4"`, 1625.6],
    ['5′ 4½″', 1638.3],
    ['5 ft 4 in', 1625.6],
    [`5'`, 1524],
    ['1.7 m', 1700],
    ['27½ Zoll', 698.5],
    ['70,5\u00a0cm', 705],
    ['７０．５ｃｍ', 705],
    ['27 5/16 in', 693.7375],
    ['38¹⁄₂ in', 977.9],
    ['1¹/₂ in', 38.1],
    ['38 ¹⁄₂ in', 977.9],
    ['36-½ in', 927.1],
    // As a spreadsheet writes ″ in an encoding that has none, and as people type it.
    ['38½´´', 977.9],
    ['5´ 4´´', 1625.6],
    ['38½’’', 977.9],
    ['3/2 in', 38.1],
  ])('%s', (text, expected) => expect(mm(text)).toBeCloseTo(expected, 9));

  it('takes the unit of the heading for a bare number, and the written one before it', () => {
    expect(mm('27 1/2', 'in')).toBe(698.5);
    expect(mm('70,5', 'cm')).toBe(705);
    expect(parseLength('27 in', 'cm')).toMatchObject({ mm: 685.8, unit: 'in', unitWritten: true });
  });

  it.each([
    ['', 'empty'],
    ['  ', 'empty'],
    ['27', 'no unit'],
    ['27½', 'no unit'],
    ['1,234', 'ambiguous'],
    ['1,234 mm', 'ambiguous'],
    ['1 234 mm', 'ambiguous'],
    ["1'234 mm", 'ambiguous'],
    ['1.234,5 mm', 'ambiguous'],
    ['1,234.5 mm', 'ambiguous'],
    ['1.234.567 mm', 'ambiguous'],
    ['271/2 in', 'ambiguous'],
    ['11/8 in', 'ambiguous'],
    ['27 - 1/2 in', 'unreadable'],
    ['27 1/0 in', 'unreadable'],
    ['27 3/2 in', 'unreadable'],
    ['27.5 1/2 in', 'unreadable'],
    ['27 - 28 in', 'unreadable'],
    ['27 28 in', 'unreadable'],
    ['twenty in', 'unreadable'],
    ['27 furlongs', 'unreadable'],
    ['1e3 mm', 'unreadable'],
    ['NaN mm', 'unreadable'],
    ['--3 mm', 'unreadable'],
    ['27 in waist', 'unreadable'],
    ['=A1*2', 'unreadable'],
  ])('refuses %j: %s', (text, kind) => expect(problem(text)).toBe(kind));

  it('says what to write', () => {
    expect(parseLength('27')).toMatchObject({ try: expect.stringContaining('27 in') });
    expect(parseLength('1,234 mm')).toMatchObject({ try: 'Write 1234 or 1.234, whichever is meant.' });
    expect(parseLength('271/2 in')).toMatchObject({ try: 'Write 27 1/2 or 135 1/2, whichever is meant.' });
    expect(parseLength('11/8 in')).toMatchObject({ try: 'Write 1 1/8 or 1 3/8, whichever is meant.' });
  });

  it('never throws and never gives a number that is not finite', () => {
    const piece = fc.constantFrom(...'0123456789 ./,-+½⅜\'"', 'in', 'cm', 'ft');
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece, { maxLength: 9 }).map((p) => p.join('')),
        ),
        (text) => {
          const read = parseLength(text, 'in');
          return isProblem(read) || Number.isFinite(read.mm);
        },
      ),
      { numRuns: 500 },
    );
  });

  it.each([
    ['in', 'in'],
    ['Inches', 'in'],
    ['"', 'in'],
    ['cm.', 'cm'],
    ['Millimeter', 'mm'],
    ['センチ', 'cm'],
    ['kg', undefined],
  ])('knows the unit %s', (text, unit) => expect(unitCalled(text)).toBe(unit));
});

describe('showing lengths', () => {
  it.each([
    [698.5, 'in', '27½ in'],
    [25.4 * (27 + 3 / 16), 'in', '27 3/16 in'],
    [9.525, 'in', '⅜ in'],
    [-9.525, 'in', '−⅜ in'],
    [25.4 * (1 + 1 / 32), 'in', '1 1/32 in'],
    [25.4 / 16, 'in', '1/16 in'],
    [685.8, 'in', '27 in'],
    [0, 'in', '0 in'],
    [700, 'in', '≈ 27 9/16 in'],
    [0.2, 'in', '≈ 0 in'],
    [705, 'mm', '705.0 mm'],
    [-12.34, 'mm', '−12.3 mm'],
    [-0.01, 'mm', '0.0 mm'],
    [705, 'cm', '70.5 cm'],
    [705.5, 'cm', '70.55 cm'],
    [700, 'cm', '70.0 cm'],
  ] as const)('%d mm in %s: %s', (length, unit, text) => expect(formatLength(length, unit)).toBe(text));

  it('signs a change', () => {
    expect(formatChange(9.525, 'in')).toBe('+⅜ in');
    expect(formatChange(-25.4, 'in')).toBe('−1 in');
    expect(formatChange(0, 'mm')).toBe('0.0 mm');
    expect(formatChange(12, 'cm')).toBe('+1.2 cm');
    expect(formatChange(700, 'in')).toBe('≈ +27 9/16 in');
  });

  it('reads back what it shows: to 0.05 mm when it says so, to half a thirty-second of an inch at worst', () => {
    const length = fc.double({ min: -3000, max: 3000, noNaN: true });
    fc.assert(
      fc.property(length, fc.constantFrom('in' as const, 'cm' as const, 'mm' as const), (value, unit) => {
        const { text, exact } = showLength(value, unit);
        expect(Math.abs(mm(text) - value)).toBeLessThanOrEqual(exact ? 0.0501 : 25.4 / 64 + 1e-9);
      }),
      { numRuns: 500 },
    );
  });

  it('shows every thirty-second of an inch exactly', () => {
    fc.assert(
      fc.property(fc.integer({ min: -2000, max: 2000 }), (count) => {
        const { text, exact } = showLength((count / 32) * 25.4, 'in');
        expect(exact).toBe(true);
        expect(mm(text)).toBeCloseTo((count / 32) * 25.4, 9);
      }),
    );
  });
});
