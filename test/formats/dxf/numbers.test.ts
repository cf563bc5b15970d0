import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalsFor, plainNumber, reformat, reformatInteger } from '../../../src/formats/dxf/numbers.ts';
import { numberReading } from '../../../src/formats/dxf/tags.ts';

describe('a changed number', () => {
  it.each([
    ['12.5', 13.25, 3, '13.25'],
    ['12.500000', 13.25, 3, '13.250000'],
    ['12', 13, 3, '13'],
    ['12', 13.25, 3, '13.25'],
    ['12.', 13, 3, '13.'],
    ['12.0', 13, 3, '13.0'],
    ['12.0', 13.123456, 3, '13.123'],
    ['12.0', 13.123456, 5, '13.12346'],
    ['    12.50', 7.25, 3, '     7.25'],
    ['12.50   ', 107.25, 3, '107.25  '],
    ['+12.5', 7.5, 3, '+7.5'],
    ['+12.5', -7.5, 3, '-7.5'],
    ['1.25E+02', 130.5, 3, '1.305E+02'],
    ['1.2500000000000000e+002', 130.5, 3, '1.3050000000000000e+002'],
    ['1.5e-05', 0.25, 3, '2.5e-01'],
    ['12,5', 13.25, 3, '13,25'],
    ['12.345678901234567', 20.5, 3, '20.5'],
    ['0.1', -0.00001, 3, '0.0'],
  ])('%s becomes %d with %d decimals: %s', (original, value, decimals, text) => {
    expect(reformat(original, value, decimals).text).toBe(text);
  });

  it('is right to half a step of its decimals, in whatever notation', () => {
    const originals = fc.constantFrom(
      '0',
      '1.5',
      '12.500',
      '+3.25',
      '   7.0',
      '1.0E+03',
      '2.50000e-01',
      '12.345678901234567',
      '4,5',
    );
    fc.assert(
      fc.property(
        originals,
        fc.double({ min: -5000, max: 5000, noNaN: true }),
        fc.integer({ min: 0, max: 6 }),
        (original, value, decimals) => {
          const { text } = reformat(original, value, decimals);
          expect(['plain', 'comma', 'ambiguous']).toContain(numberReading(text.trim()));
          expect(Math.abs(Number(text.trim().replace(',', '.')) - value)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);
        },
      ),
    );
  });

  it('says when it needed more decimals than it had', () => {
    expect(reformat('12.5', 13.255, 3).widened).toBe(true);
    expect(reformat('12.5', 13.2, 3).widened).toBe(false);
  });

  it('needs three decimals in mm, five in inches, six in metres', () => {
    expect([1, 10, 25.4, 1000, 0.001].map(decimalsFor)).toEqual([3, 4, 5, 6, 0]);
  });

  it('written afresh always has a decimal', () => {
    expect([plainNumber(3, 6), plainNumber(0.1234567, 6), plainNumber(-0, 6)]).toEqual(['3.0', '0.123457', '0.0']);
  });

  it('that counts keeps its width', () => expect(reformatInteger('     4', 12)).toBe('    12'));
});

describe('a value reads as', () => {
  it.each([
    ['1.5', 'plain'],
    ['.5', 'plain'],
    ['-5.', 'plain'],
    ['1e5', 'plain'],
    ['1D-3', 'plain'],
    ['1,5', 'comma'],
    ['12,25', 'comma'],
    ['1,234', 'ambiguous'],
    ['NaN', 'bad'],
    ['inf', 'bad'],
    ['1e999', 'bad'],
    ['', 'bad'],
    ['0x10', 'bad'],
    ['1 2', 'bad'],
  ])('%s: %s', (value, reading) => expect(numberReading(value)).toBe(reading));
});
