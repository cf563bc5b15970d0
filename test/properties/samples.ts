import fc from 'fast-check';
import type { Body } from '../../fixtures/blocks/draft/draft.ts';
import { SAMPLE_BODY, type SkirtOptions } from '../../fixtures/blocks/draft/skirt.ts';
import type { Units, Variant, WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import { type Laid, lay, type Sample } from './laying.ts';

/* Blocks, positions, units and spellings to try things on. */

export const spellings: readonly (readonly ['dxf' | 'svg', Variant])[] = [
  ['dxf', 'apparel'],
  ['dxf', 'lines and arcs'],
  ['dxf', 'bulges'],
  ['dxf', 'splines'],
  ['svg', 'cubics'],
  ['svg', 'polylines'],
];

/** Bodies between sizes 6 and 20 of the misses' body table, mm; the hip 7 to 9 in below the waist. */
const bodies: fc.Arbitrary<Body> = fc
  .record({
    size: fc.double({ min: -1, max: 1, noNaN: true }),
    waistToHip: fc.integer({ min: 178, max: 229 }),
    length: fc.integer({ min: 500, max: 800 }),
  })
  .map(({ size, waistToHip, length }) => ({ waist: 724 + 140 * size, hip: 971 + 146 * size, waistToHip, length }));

const panels: fc.Arbitrary<SkirtOptions> = fc.record({
  flare: fc.integer({ min: 0, max: 60 }),
  darts: fc.constantFrom('lines' as const, 'outline' as const),
  back: fc.constantFrom('on the fold' as const, 'centre seam' as const),
  whole: fc.boolean(),
});
const gores: fc.Arbitrary<SkirtOptions> = fc.record({ gores: fc.constantFrom(5, 6, 8) });

export const blocks: fc.Arbitrary<SkirtOptions> = fc.oneof(
  { weight: 5, arbitrary: panels },
  { weight: 1, arbitrary: gores },
);

export const positions = fc.record({
  angle: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
  mirror: fc.boolean(),
  move: fc.record({ x: fc.integer({ min: -900, max: 900 }), y: fc.integer({ min: -900, max: 900 }) }),
});

/** An apparel DXF is in millimetres or inches. */
export const unitsOf = (variant: Variant): fc.Arbitrary<Units> =>
  variant === 'apparel' ? fc.constantFrom('mm', 'in') : fc.constantFrom('mm', 'cm', 'in');

export const writings: fc.Arbitrary<WriteOptions> = fc
  .constantFrom(...spellings)
  .chain(([format, variant]) =>
    fc.tuple(unitsOf(variant), positions).map(([units, position]) => ({ format, variant, units, ...position })),
  );

export const samples: fc.Arbitrary<Sample> = fc.record({ body: bodies, block: blocks, write: writings });

/** A part of the greatest amount within limits, signed. */
export const parts = fc
  .tuple(fc.integer({ min: 5, max: 100 }), fc.constantFrom(1 as const, -1 as const))
  .map(([percent, sign]) => ({ part: percent / 100, sign }));

export const UPRIGHT: WriteOptions = { format: 'svg', variant: 'cubics' };

const laidBefore = new Map<string, Laid>();

/** Reading a file takes longer than altering it, so samples that come up again are read once. */
export const layOnce = (sample: Sample): Laid => {
  const key = JSON.stringify(sample);
  const laid = laidBefore.get(key) ?? lay(sample);
  laidBefore.set(key, laid);
  return laid;
};

/** The plain sample block, with what is given changed. */
export const sampleOf = (
  block: SkirtOptions = {},
  write: Partial<WriteOptions> = {},
  body: Partial<Body> = {},
): Sample => ({
  body: { ...SAMPLE_BODY, ...body },
  block,
  write: { ...UPRIGHT, ...write } as WriteOptions,
});
