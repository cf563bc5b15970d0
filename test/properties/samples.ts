import fc from 'fast-check';
import { SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { Body } from '../../fixtures/blocks/draft/draft.ts';
import { SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { SAMPLE_BODY, type SkirtOptions } from '../../fixtures/blocks/draft/skirt.ts';
import { SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import type { Units, Variant, WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import type * as made from './garments.ts';
import { deeds, type Laid, lay, type Sample, takesAnyOf } from './laying.ts';

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

const skirts: fc.Arbitrary<made.Drafted> = fc.record({ garment: fc.constant('skirt'), body: bodies, block: blocks });

/** A body a size up or down from the sample in everything, lengths less than girths. */
const sized = <B extends object>(body: B): fc.Arbitrary<B> =>
  fc
    .double({ min: -1, max: 1, noNaN: true })
    .map((size) => Object.fromEntries(Object.entries(body).map(([name, mm]) => [name, mm * (1 + 0.03 * size)])) as B);

const darts = fc.constantFrom('lines' as const, 'outline' as const);
const bodices: fc.Arbitrary<made.Drafted> = fc.record({
  garment: fc.constant('bodice'),
  body: sized(SAMPLE_BODICE_BODY),
  block: fc.oneof(
    fc.record({ darts, back: fc.constantFrom('on the fold' as const, 'centre seam' as const), whole: fc.boolean() }),
    fc.record({ shoulderDart: fc.boolean(), slope: fc.integer({ min: 0, max: 8 }) }),
    fc.constantFrom({ panels: true }, { sleeve: 'two pieces' as const }, { elbowDart: 20 }),
  ),
});
const trousers: fc.Arbitrary<made.Drafted> = fc.record({
  garment: fc.constant('trousers'),
  body: sized(SAMPLE_TROUSER_BODY),
  block: fc.record({ darts, leg: fc.constantFrom('shaped' as const, 'straight' as const) }),
});
const dresses: fc.Arbitrary<made.Drafted> = fc.record({
  garment: fc.constantFrom('dress' as const, 'dress in two tiers' as const),
  body: sized(SAMPLE_DRESS_BODY),
  block: fc.record({ whole: fc.boolean() }),
});

/** Every garment, each on bodies and with choices of its own. */
export const garments: Readonly<Record<string, fc.Arbitrary<made.Drafted>>> = {
  skirts,
  bodices,
  trousers,
  dresses,
};

export const samplesOf = (drafted: fc.Arbitrary<made.Drafted>): fc.Arbitrary<Sample> =>
  fc.record({ drafted, write: writings });

/** Any garment. */
export const samples: fc.Arbitrary<Sample> = samplesOf(fc.oneof(skirts, bodices, trousers, dresses));
export const skirtSamples: fc.Arbitrary<Sample> = samplesOf(skirts);

const takenBefore = new Map<string, readonly string[]>();

/** The deeds that a block can take, by name: those that it takes anything of. */
export const deedsFor = (drafted: made.Drafted): readonly string[] => {
  const key = JSON.stringify([drafted.garment, drafted.block]);
  const { pattern } = layOnce({ drafted, write: UPRIGHT });
  const taken =
    takenBefore.get(key) ??
    deeds.filter((d) => ([1, -1] as const).some((s) => takesAnyOf(pattern, d, s))).map((d) => d.says);
  takenBefore.set(key, taken);
  return taken;
};

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

/** The plain sample skirt, with what is given changed. */
export const sampleOf = (
  block: SkirtOptions = {},
  write: Partial<WriteOptions> = {},
  body: Partial<Body> = {},
): Sample => ({
  drafted: { garment: 'skirt', body: { ...SAMPLE_BODY, ...body }, block },
  write: { ...UPRIGHT, ...write } as WriteOptions,
});

/** Any garment, upright in SVG, with what is given changed. */
export const sampleFrom = (drafted: made.Drafted, write: Partial<WriteOptions> = {}): Sample => ({
  drafted,
  write: { ...UPRIGHT, ...write } as WriteOptions,
});
