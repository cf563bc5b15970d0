import { describe, expect, it } from 'vitest';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { readEase } from '../../src/job/orders/ease.ts';
import { parseAssignments } from '../../src/measurements/assignments.ts';
import { readFittings } from '../../src/measurements/fittings.ts';
import { patternOf } from '../drafted.ts';

const INCH = 25.4;
const skirt = patternOf(draftSkirt(SAMPLE_BODY, {}));
const dress = patternOf(draftDress(SAMPLE_DRESS_BODY, {}));
const columns = [{ name: 'hip', canonical: 'hip', sign: 1 as const }];

describe('ease asked for', () => {
  it('is a list of places and lengths, signed too: cloth may stretch', () => {
    const { ease, findings } = readEase('waist=3/4 in, hip girth=-2cm; bust girth ease=50 mm', skirt);
    expect(findings).toEqual([]);
    expect(ease).toEqual({ 'waist girth': expect.closeTo(0.75 * INCH, 9), 'hip girth': -20, 'bust girth': 50 });
  });

  it('may be the least of the garment at a place, or everywhere (costume text, chapter 16)', () => {
    expect(readEase('waist girth=least', skirt).ease).toEqual({ 'waist girth': 0.5 * INCH });
    expect(readEase('waist girth=least', dress).ease).toEqual({ 'waist girth': 0.75 * INCH });
    expect(readEase('least', dress).ease).toEqual({
      'bust girth': 1.5 * INCH,
      'waist girth': 0.75 * INCH,
      'hip girth': 2 * INCH,
    });
  });

  it.each([
    ['wasit girth=1in', 'measure-column-unknown', 'waist girth'],
    ['waist girth=1', 'measure-unit-missing', 'in'],
    ['waist girth=much', 'measure-value-unreadable', ''],
    ['waist girth', 'measure-list-unreadable', 'name=value'],
    ['wrist girth=least', 'job-ease-no-least', 'wrist girth=2in'],
  ])('is refused as %s', (text, code, help) => {
    const { findings } = readEase(text, skirt);
    expect(findings.map((f) => f.code)).toEqual([code]);
    expect(findings[0]?.try).toContain(help);
  });

  it('can stand beside a wearer, and in a table of fittings', async () => {
    const list = parseAssignments('hip girth=38in, hip girth ease=3in', {
      source: '--wearer',
      alterationColumns: columns,
    });
    expect(list).toMatchObject({
      measurements: { 'hip girth': expect.closeTo(38 * INCH, 9) },
      ease: { 'hip girth': expect.closeTo(3 * INCH, 9) },
      findings: [],
    });
    const table = await readFittings('fitting,hip girth (in),hip ease (in)\nOrtrud,38,2 1/2\n', {
      fileName: 'f.csv',
      alterationColumns: columns,
    });
    expect(table.findings).toEqual([]);
    expect(table.fittings[0]).toMatchObject({
      measurements: { 'hip girth': expect.closeTo(38 * INCH, 9) },
      ease: { 'hip girth': expect.closeTo(2.5 * INCH, 9) },
    });
  });

  it('is no part of a body that a pattern was drafted for', () => {
    const { findings } = parseAssignments('hip girth=38in, hip girth ease=3in', { source: '--drafted' });
    expect(findings.map((f) => f.code)).toEqual(['measure-column-unknown']);
  });
});
