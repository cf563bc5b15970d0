import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { SAMPLE_BODICE_BODY as UPPER } from '../../fixtures/blocks/draft/bodice.ts';
import { SAMPLE_DRESS_BODY as DRESS } from '../../fixtures/blocks/draft/dress.ts';
import { SAMPLE_TROUSER_BODY as LOWER } from '../../fixtures/blocks/draft/trousers.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { takeMeasurement } from '../../src/pattern/taking/index.ts';

/*
 * The same measures on pieces as a user's file has them: turned, mirrored, half and whole, in other units, with levels
 * that only the recogniser established. What they must come to is what the drafting rule drew (fixtures/blocks/draft).
 */

const INCH = 25.4;
const upperBody = {
  'bust girth': UPPER.bust + 2 * INCH,
  'waist girth': UPPER.waist + INCH,
  'neck base girth': UPPER.neck,
  'back width': UPPER.backWidth,
  'chest width': UPPER.chestWidth,
  'shoulder length': UPPER.shoulder,
  'back neck to waist': UPPER.backLength,
  'front waist length': UPPER.frontLength,
  'bust height': UPPER.bustHeight,
  'armhole depth': UPPER.armholeDepth,
  'upper-arm girth': UPPER.upperArm + 50,
  'outer arm length': UPPER.armLength,
};

/** What a file in chords loses, and what the waist of one panel is found higher than that of its neighbour, mm. */
const AS_WRITTEN = 1;

describe.each<readonly [string, Readonly<Record<string, number>>]>([
  ['bodice-apparel-mm.dxf', upperBody],
  ['bodice-splines-turned-german.dxf', upperBody],
  ['bodice-panels-cubics-inches.svg', upperBody],
  ['bodice-lined-whole-cubics-french.svg', upperBody],
  [
    'dress-cubics.svg',
    { ...upperBody, 'hip girth': DRESS.hip + 50, 'waist to hip': DRESS.waistToHip, 'skirt length': DRESS.length },
  ],
  [
    'dress-lines-and-arcs-whole-turned-cm-german.dxf',
    { 'bust girth': DRESS.bust + 2 * INCH, 'hip girth': DRESS.hip + 50 },
  ],
  ['trousers-apparel-mm.dxf', { 'waist girth': LOWER.waist + 10, 'crotch depth': LOWER.crotchDepth }],
  [
    'trousers-splines-straight-mirrored-turned-french.dxf',
    { 'waist girth': LOWER.waist + 10, 'crotch depth': LOWER.crotchDepth },
  ],
])('%s', (file, expected) => {
  it('measures what the rule drew', async () => {
    const { file: read } = await readPatternFile(join(import.meta.dirname, '../../fixtures/blocks', file), {});
    if (!read) throw new Error('not read');
    for (const [measurement, mm] of Object.entries(expected)) {
      const { takings, lacks } = takeMeasurement(read.pattern, measurement);
      expect(lacks.map((l) => `${measurement}: ${l.name} has ${l.what}`)).toEqual([]);
      expect(takings.length, measurement).toBeGreaterThan(0);
      expect(Math.abs((takings[0]?.mm ?? 0) - mm), `${measurement}: ${takings[0]?.mm} for ${mm}`).toBeLessThan(
        AS_WRITTEN,
      );
    }
  });
});
