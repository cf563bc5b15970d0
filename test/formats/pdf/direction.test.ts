import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stretches } from '../../../src/formats/pdf/direction.ts';

/** As it stands on paper, letter by letter from the left. */
const seen = (text: string): string =>
  stretches(text)
    .map((s) => (s.rightToLeft ? [...s.text].reverse().join('') : s.text))
    .join('');

describe('the order of letters on paper', () => {
  it.each([
    // Capitals of the example in UAX #9, section 3.4 (L2), as Hebrew letters: car means CAR.
    ['car means אבג.', 'car means גבא.'],
    ['Skirt front', 'Skirt front'],
    ['חצאית', 'תיאצח'],
    ['אב 12', '12 בא'],
    ['אב 12.5', '12.5 בא'],
    ['12 אב', 'בא 12'],
    ['12 ab אב', '12 ab בא'],
  ])('%s', (text, paper) => {
    expect(seen(text)).toBe(paper);
  });

  it('leaves text without such letters alone, whatever is in it', () => {
    expect(stretches('(12) Юбка [α] 裁断')).toEqual([{ text: '(12) Юбка [α] 裁断', rightToLeft: false }]);
  });

  it('turns brackets round with the text', () => {
    expect(seen('אב (ג)')).toBe('(ג) בא');
  });

  it('keeps every letter', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'abאבג12 .-') }), (text) => {
        expect([...seen(text)].sort()).toEqual([...text].sort());
      }),
    );
  });
});

const fribidi = spawnSync('fribidi', ['--version']).status === 0;
if (!fribidi && process.env.CI) throw new Error('fribidi is needed for this check (package libfribidi-bin)');

it.skipIf(!fribidi)('is that of an independent program, fribidi', () => {
  const words = fc.string({ unit: fc.constantFrom(...'abcאבגד12 .,/'), minLength: 1, maxLength: 14 });
  const lines = fc.sample(words, { numRuns: 400, seed: 1786 }).filter((t) => t.trim() === t);
  const run = spawnSync('fribidi', ['--nopad', '--nobreak', '--charset', 'UTF-8'], {
    input: `${lines.join('\n')}\n`,
    encoding: 'utf8',
  });
  expect(run.status).toBe(0);
  const theirs = run.stdout.split('\n').slice(0, lines.length);
  expect(lines.map(seen)).toEqual(theirs);
});
