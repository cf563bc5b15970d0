import { describe, expect, it } from 'vitest';
import { asRuled, inSixteenths, ruledChange, taped, tapedAfter, tapedChange, tapedFromTo } from '../../src/job/tape.ts';

/* Marks of tapes and rulers: common practice, no source. 1 in is 25.4 mm exactly (international yard, 1959). */

const inches = (value: number): number => value * 25.4;

describe('a measured length on a page', () => {
  it('is at an eighth of an inch or a whole millimetre', () => {
    expect(taped(inches(26 + 17 / 32), 'in')).toBe('26½ in');
    expect(taped(inches(41 + 3 / 32), 'in')).toBe('41⅛ in');
    expect(taped(704.6, 'mm')).toBe('705 mm');
    expect(taped(704.6, 'cm')).toBe('70.5 cm');
    expect(taped(699.9, 'cm')).toBe('70 cm');
  });

  it('shows no change where a tape shows none', () => {
    const [before, after] = [inches(41 + 3 / 32), inches(41 + 3 / 32 - 1 / 32)];
    expect(tapedFromTo(before, after, 'in')).toBe('41⅛ in');
    expect(tapedChange(before, after, 'in')).toBe('no change');
    expect(tapedAfter(before, after, 'in')).toBe('41⅛ in');
    // A sixteenth over two marks of the tape, and one between them.
    expect(tapedFromTo(inches(10.06), inches(10.07), 'in')).toBe('10 in');
    expect(tapedChange(inches(10), inches(10.25), 'in')).toBe('+¼ in');
    expect(tapedChange(100, 98.8, 'mm')).toBe('−1 mm');
  });
});

describe('an amount on a page', () => {
  it('is at a sixteenth of an inch or half a millimetre, in texts too', () => {
    expect(ruledChange(inches(13 / 32), 'in')).toBe('+7/16 in');
    expect(ruledChange(inches(-5 / 16), 'in')).toBe('−5/16 in');
    expect(ruledChange(0.2, 'mm')).toBe('no change');
    expect(asRuled('+⅜ in at ≈ 20 11/32 in (now ≈ 21 3/32 in)')).toBe('+⅜ in at 20⅜ in (now 21⅛ in)');
    expect(asRuled('overlapped ≈ 0 in')).toBe('overlapped under 1/16 in');
    expect(asRuled('≈ +13/32 in, 27½ in, 7/32 in in all')).toBe('+7/16 in, 27½ in, ¼ in in all');
    expect(asRuled('out 12.7 mm, 516.66 mm, 3.1 cm')).toBe('out 12.5 mm, 516.5 mm, 3.1 cm');
  });

  it('is rounded once where the amount is known', () => {
    // 10 mm are 12.6 thirty-seconds and 6.3 sixteenths of an inch.
    expect(asRuled('waist lowered ≈ 13/32 in at the centre back', [10])).toBe('waist lowered ⅜ in at the centre back');
    expect(asRuled('waist lowered ≈ 13/32 in at the centre back', [25.4])).toBe(
      'waist lowered 7/16 in at the centre back',
    );
  });

  it('stays as the user wrote it where a text may quote it', () => {
    expect(inSixteenths('“27.35 cm” in cell C4, 27 1/64 in')).toBe('“27.35 cm” in cell C4, 27 1/64 in');
  });
});
