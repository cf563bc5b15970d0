import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import { draftDress, draftTieredDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import { measurementNames } from '../../src/measurements/terms.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { widthAt } from '../../src/pattern/taking/across.ts';
import { takeMeasurement, takenOnPieces } from '../../src/pattern/taking/index.ts';
import { patternOf } from '../drafted.ts';

/* Each measure on blocks whose drafting rule says how long or wide the line was drawn. */

const INCH = 25.4;
const taken = (pattern: Pattern, measurement: string): Record<string, number> =>
  Object.fromEntries(takeMeasurement(pattern, measurement).takings.map(({ of, mm }) => [of, mm]));

it('knows every measure by a name that a table of fittings can use', () => {
  expect(takenOnPieces.filter((name) => !(measurementNames as readonly string[]).includes(name))).toEqual([]);
});

describe.each([
  { darts: 'lines' as const, whole: false },
  { darts: 'outline' as const, whole: false },
  { darts: 'lines' as const, whole: true },
  { darts: 'outline' as const, whole: true, back: 'centre seam' as const },
])('a bodice drafted with %o', (options) => {
  const body = SAMPLE_BODICE_BODY;
  const pattern = patternOf(draftBodice(body, options));

  it.each<readonly [string, Record<string, number>]>([
    ['bust girth', { bodice: body.bust + 2 * INCH }],
    ['waist girth', { bodice: body.waist + INCH }],
    ['neck base girth', { bodice: body.neck }],
    ['back width', { back: body.backWidth }],
    ['chest width', { front: body.chestWidth }],
    ['shoulder length', { front: body.shoulder, back: body.shoulder }],
    ['front waist length', { front: body.frontLength }],
    ['back neck to waist', { back: body.backLength }],
    ['bust height', { front: body.bustHeight }],
    ['bust span', { front: body.bustSpan }],
    ['armhole depth', { back: body.armholeDepth }],
    ['upper-arm girth', { sleeve: body.upperArm + 50 }],
    ['elbow girth', { sleeve: body.elbow + 50 }],
    ['wrist girth', { sleeve: body.wrist + 45 }],
    ['outer arm length', { sleeve: body.armLength }],
    ['shoulder to elbow', { sleeve: body.shoulderToElbow }],
  ])('is as wide and long as the rule draws it: %s', (measurement, expected) => {
    const found = taken(pattern, measurement);
    expect(Object.keys(found)).toEqual(Object.keys(expected));
    for (const [of, mm] of Object.entries(expected)) expect(found[of], of).toBeCloseTo(mm, 1);
  });

  it('shows nothing of the hip', () => {
    expect(takeMeasurement(pattern, 'hip girth')).toEqual({ takings: [], lacks: [] });
    expect(takeMeasurement(pattern, 'crotch depth')).toEqual({ takings: [], lacks: [] });
  });
});

describe('a garment of more pieces', () => {
  const body = SAMPLE_BODICE_BODY;
  it('is as wide in panels, with a sleeve in two pieces', () => {
    const pattern = patternOf(draftBodice(body, { panels: true, sleeve: 'two pieces' }));
    expect(taken(pattern, 'bust girth').bodice).toBeCloseTo(body.bust + 2 * INCH, 1);
    // Where a panel seam takes the place of a dart, the waist is drawn anew across it.
    expect(taken(pattern, 'waist girth').bodice).toBeCloseTo(body.waist + INCH, 0);
    expect(taken(pattern, 'back width').back).toBeCloseTo(body.backWidth, 1);
    expect(taken(pattern, 'chest width').front).toBeCloseTo(body.chestWidth, 1);
    expect(taken(pattern, 'bust height').front).toBeCloseTo(body.bustHeight, 1);
    expect(taken(pattern, 'front waist length').front).toBeCloseTo(body.frontLength, 0);
    expect(taken(pattern, 'armhole depth').back).toBeCloseTo(body.armholeDepth, 1);
    expect(taken(pattern, 'upper-arm girth').sleeve).toBeCloseTo(body.upperArm + 50, 1);
    expect(taken(pattern, 'outer arm length').sleeve).toBeCloseTo(body.armLength, 1);
  });

  it('is taken in each layer of cloth', () => {
    const pattern = patternOf(draftBodice(body, { lining: true }));
    const bust = taken(pattern, 'bust girth');
    expect(Object.keys(bust)).toEqual(['bodice', 'bodice, lining']);
    expect(bust['bodice, lining']).toBeCloseTo(bust.bodice as number, 1);
    expect(Object.keys(taken(pattern, 'shoulder length'))).toEqual(['front', 'front, lining', 'back', 'back, lining']);
  });

  it('is taken tier by tier: bodice and skirt each have a waist', () => {
    const pattern = patternOf(draftTieredDress(SAMPLE_DRESS_BODY, {}));
    const waist = taken(pattern, 'waist girth');
    expect(Object.keys(waist).toSorted()).toEqual(['bodice', 'skirt']);
    expect(waist.skirt).toBeCloseTo(waist.bodice as number, 1);
    expect(Object.keys(taken(pattern, 'hip girth'))).toEqual(['skirt']);
  });

  it.each([false, true])('is taken at levels where a dress in one piece has no edge (whole: %s)', (whole) => {
    const pattern = patternOf(draftDress(SAMPLE_DRESS_BODY, { whole }));
    expect(taken(pattern, 'waist girth').dress).toBeCloseTo(SAMPLE_DRESS_BODY.waist + INCH, 1);
    expect(taken(pattern, 'hip girth').dress).toBeCloseTo(SAMPLE_DRESS_BODY.hip + 50, 1);
    expect(taken(pattern, 'bust girth').dress).toBeCloseTo(SAMPLE_DRESS_BODY.bust + 2 * INCH, 1);
    for (const mm of Object.values(taken(pattern, 'skirt length'))) expect(mm).toBeCloseTo(SAMPLE_DRESS_BODY.length, 6);
    // The level of the underarm touches both armholes from below.
    const widths = pattern.pieces.filter((p) => p.part === 'dress front').map((p) => widthAt(p, 'underarm') as number);
    for (const w of widths) expect(w / (whole ? 2 : 1)).toBeGreaterThan(SAMPLE_DRESS_BODY.bust / 4);
  });
});

it('says what a bodice lacks', () => {
  const pattern = patternOf(draftBodice(SAMPLE_BODICE_BODY, {}));
  const bare = { ...pattern, pieces: pattern.pieces.map((p) => ({ ...p, landmarks: [], levels: [] })) };
  expect(takeMeasurement(bare, 'bust height').lacks).toMatchObject([{ piece: 'front', what: 'no bust point' }]);
  expect(takeMeasurement(bare, 'bust girth').lacks.map((l) => l.what)).toEqual(['no bust level', 'no bust level']);
  const pointed = { ...bare, pieces: pattern.pieces.map((p) => ({ ...p, levels: [] })) };
  expect(taken(pointed, 'bust girth').bodice).toBeCloseTo(SAMPLE_BODICE_BODY.bust + 2 * INCH, 1);
});

describe('trousers', () => {
  const body = SAMPLE_TROUSER_BODY;
  const pattern = patternOf(draftTrousers(body, {}));
  it('are taken leg by leg, and round the body', () => {
    expect(taken(pattern, 'waist girth').trousers).toBeCloseTo(body.waist + 10, 1);
    // The waist of the draft dips a hair at the side, from where the depth is taken.
    expect(Math.abs((taken(pattern, 'crotch depth')['trouser front'] as number) - body.crotchDepth)).toBeLessThan(1);
    for (const m of ['thigh girth', 'knee girth']) expect(Object.keys(taken(pattern, m))).toEqual(['leg']);
    for (const m of ['front crotch length', 'back crotch length', 'crotch length']) {
      expect(Object.keys(taken(pattern, m)).length, m).toBe(1);
    }
    const total = taken(pattern, 'crotch length').crotch as number;
    const parts = [
      taken(pattern, 'front crotch length')['trouser front'],
      taken(pattern, 'back crotch length')['trouser back'],
    ];
    expect(total).toBeCloseTo((parts[0] as number) + (parts[1] as number), 9);
  });
});

describe('a skirt', () => {
  it.each([false, true])('drafted whole: %s, is taken from waist to hem', (whole) => {
    const pattern = patternOf(draftSkirt(SAMPLE_BODY, { whole }));
    for (const mm of Object.values(taken(pattern, 'skirt length'))) expect(mm).toBeCloseTo(SAMPLE_BODY.length, 6);
    for (const mm of Object.values(taken(pattern, 'waist to hip'))) expect(mm).toBeCloseTo(SAMPLE_BODY.waistToHip, 6);
    expect(takeMeasurement(pattern, 'bust girth')).toEqual({ takings: [], lacks: [] });
  });
});
