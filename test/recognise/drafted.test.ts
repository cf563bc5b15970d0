import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measureOf, unfoldedDraft } from '../../fixtures/blocks/draft/draft.ts';
import type { SkirtOptions } from '../../fixtures/blocks/draft/skirt.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import type { Language } from '../../fixtures/blocks/draft/words.ts';
import type { Variant, WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import { recognise } from '../../src/recognise/index.ts';
import { differences, draftedFacts, emptySheet, foundFacts, readDrawing, sheetPiece, unaccounted } from './reading.ts';

/*
 * The truth is the draft (from published drafting rules, see fixtures/blocks/draft): what was drafted as the side must be
 * read as the side, whatever the format, language, angle, unit and hand.
 */

const files: readonly (readonly ['dxf' | 'svg', Variant])[] = [
  ['dxf', 'apparel'],
  ['dxf', 'lines and arcs'],
  ['dxf', 'bulges'],
  ['dxf', 'splines'],
  ['svg', 'cubics'],
  ['svg', 'polylines'],
];
const languages: readonly Language[] = ['en', 'de', 'fr', 'es', 'it', 'pt', 'nl', 'ja'];
/** Chords of 6 mm along a hip curve lose up to this much. mm */
const WITHIN = 0.6;

interface Case {
  readonly draft: SkirtOptions;
  readonly write: WriteOptions;
}

const wrongIn = ({ draft: options, write }: Case): string[] => {
  const draft = draftSkirt(SAMPLE_BODY, options);
  const drawing = readDrawing(draft, write);
  const cutting = write.outlines === 'cutting';
  const sheet = {
    ...emptySheet,
    allowance: 15,
    outlineIs: 'cutting line' as const,
    pieces: ['skirt-front', 'skirt-back', 'skirt-gore'].map((key) => sheetPiece(key, { allowances: { hem: 40 } })),
  };
  const { pattern, findings } = recognise(drawing, cutting ? { sheet } : {});
  const wrong = unaccounted(drawing, pattern);
  for (const piece of draft.pieces) {
    const found = pattern.pieces.find((p) => p.part === piece.part);
    if (!found) {
      wrong.push(`no ${piece.part} among ${pattern.pieces.map((p) => p.id).join()}`);
      continue;
    }
    const truth = draftedFacts(piece, measureOf(draft, 'skirt length'), write.mirror ?? false);
    const drawn =
      write.outlines === 'seam' ? { ...truth, edges: truth.edges.map((e) => ({ ...e, allowance: 0 })) } : truth;
    wrong.push(...differences(drawn, foundFacts(found), WITHIN).map((d) => `${piece.id} ${d}`));
  }
  if (pattern.pieces.length !== draft.pieces.length)
    wrong.push(`${pattern.pieces.length} pieces for ${draft.pieces.length}`);
  const sides = pattern.mates.filter((m) => m.id.startsWith('side seam')).length;
  const pairs = draft.pieces.some((p) => p.part === 'skirt gore')
    ? 0
    : draft.pieces.some((p) => p.part === 'skirt front' && !p.onFold)
      ? 2
      : 1;
  if (sides !== pairs) wrong.push(`${sides} side seams for ${pairs}`);
  if (!pattern.mates.some((m) => m.id === 'waist seam')) wrong.push('the waistband has no mate');
  const allowed = new Set(['recognise-loose-lines', 'recognise-sheet-piece-missing']);
  for (const f of findings) if (!allowed.has(f.code) && f.level !== 'note') wrong.push(`${f.code}: ${f.message}`);
  for (const d of pattern.doubts) wrong.push(`doubt: ${d.piece} ${d.message}`);
  return wrong;
};

const unitsOf = (variant: Variant): fc.Arbitrary<'mm' | 'cm' | 'in'> =>
  fc.constantFrom(...(variant === 'apparel' ? (['mm', 'in'] as const) : (['mm', 'cm', 'in'] as const)));

const cases: fc.Arbitrary<Case> = fc.constantFrom(...files).chain(([format, variant]) =>
  fc.record({
    draft: fc.record({
      darts: fc.constantFrom('lines' as const, 'outline' as const),
      back: fc.constantFrom('on the fold' as const, 'centre seam' as const),
      flare: fc.constantFrom(0, 40, 90),
      whole: fc.boolean(),
    }),
    write: fc.record({
      format: fc.constant(format),
      variant: fc.constant(variant),
      units: unitsOf(variant),
      language: fc.constantFrom(...languages),
      outlines: fc.constantFrom('both' as const, 'both' as const, 'seam' as const, 'cutting' as const),
      angle: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
      mirror: fc.boolean(),
      move: fc.record({ x: fc.integer({ min: -3000, max: 3000 }), y: fc.integer({ min: -3000, max: 3000 }) }),
      case: fc.constantFrom('as written' as const, 'upper' as const, 'lower' as const),
      accents: fc.boolean(),
      layers: fc.constantFrom('named' as const, 'single' as const),
      splitLabels: fc.boolean(),
      apart: format === 'svg' || variant === 'apparel' ? fc.boolean() : fc.constant(true),
      adjustmentLines: fc.constantFrom('double' as const, 'single' as const),
    }),
  }),
);

/** One outline on a layer of its own name only: in a file without layers nothing says that it is the seam line. */
const isFair = ({ write, draft }: Case): boolean =>
  !(write.outlines === 'seam' && (write.layers === 'single' || write.variant === 'apparel')) &&
  !(write.outlines === 'cutting' && draft.darts === 'outline');

describe('drafted blocks, read from any file', () => {
  it('are read as they were drafted', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(cases.filter(isFair), (c) => {
        expect(wrongIn(c)).toEqual([]);
      }),
      { numRuns: Number(process.env.RUNS ?? 30), seed: Number(process.env.SEED ?? 7) },
    );
  });

  for (const language of languages) {
    it(`are read in ${language}, in capitals without accents`, () => {
      const write: WriteOptions = {
        format: 'dxf',
        variant: 'lines and arcs',
        layers: 'single',
        language,
        case: 'upper',
        accents: false,
        angle: 0.7,
      };
      expect(wrongIn({ draft: {}, write })).toEqual([]);
    });
  }

  it('are read when they are gores', () => {
    for (const gores of [4, 6, 8]) {
      expect(
        wrongIn({ draft: { gores }, write: { format: 'svg', variant: 'cubics', angle: 2, mirror: true } }),
      ).toEqual([]);
    }
  });

  it('are read whole with outline darts', () => {
    expect(unfoldedDraft(draftSkirt(SAMPLE_BODY, {})).pieces.every((p) => !p.onFold)).toBe(true);
    expect(
      wrongIn({ draft: { whole: true, darts: 'outline' }, write: { format: 'dxf', variant: 'splines', angle: 3 } }),
    ).toEqual([]);
  });
});
