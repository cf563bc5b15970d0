import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { broken, FACES } from '../../src/report/set-words.ts';
import { tied } from '../../src/report/tied.ts';

/** Every letter half as wide as it is high. */
const measure = (words: string, size: number): number => [...words].length * size * 0.5;

describe('words broken into lines', () => {
  const text = fc
    .array(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }), { minLength: 1, maxLength: 20 })
    .map((words) => words.map((w) => w.replace(/\s/gu, 'x')).join(' '));

  it('lose no letter, and are no wider than their room', () => {
    fc.assert(
      fc.property(text, fc.integer({ min: 4, max: 200 }), (words, room) => {
        const lines = broken(words, room, FACES.body, measure);
        const letters = (said: string): string => said.replace(/[ \u00a0]/g, '');
        expect(letters(lines.join(''))).toBe(letters(words));
        for (const line of lines) {
          if ([...line].length > 1) expect(measure(line, FACES.body.size)).toBeLessThanOrEqual(room);
        }
      }),
    );
  });

  it('keep an amount whole', () => {
    for (const amount of ['27 7/16 in', '+½ in', '70.5 cm', '≈ +13/32 in', '63 %', 'Skirt front × 2'.slice(6)]) {
      const lines = broken(`side edge ${amount} at the waist`, measure(amount, FACES.body.size), FACES.body, measure);
      expect(
        lines.map((l) => l.replaceAll('\u00a0', ' ')),
        amount,
      ).toContain(amount);
    }
  });
});

it('ties no words that are not amounts', () => {
  for (const words of ['in 4 parts', 'cut 2 in pairs', 'waist 12 inside', 'no. 3 incoming']) {
    expect(tied(words).replaceAll('\u00a0', ' ')).toBe(words);
  }
  expect(tied('no. 3 incoming')).not.toContain('\u00a0');
  expect(tied('waist 12 inside')).not.toContain('\u00a0');
});
