import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { Draft } from '../../fixtures/blocks/draft/draft.ts';
import { draftDress, draftTieredDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import type { Language } from '../../fixtures/blocks/draft/words.ts';
import type { Variant, WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import { recognise } from '../../src/recognise/index.ts';
import type { PatternSheet } from '../../src/recognise/sheet/types.ts';
import { patternOf } from '../drafted.ts';
import { readOtherwise } from './pattern-facts.ts';
import { emptySheet, readDrawing, sheetPiece, unaccounted } from './reading.ts';

/*
 * The truth is the draft (from published drafting rules, see fixtures/blocks/draft), whatever the format, language, angle,
 * unit and hand. Chords of 6 mm along curves lose up to WITHIN of a length.
 */
const WITHIN = 0.7;

const files: readonly (readonly ['dxf' | 'svg', Variant])[] = [
  ['dxf', 'apparel'],
  ['dxf', 'lines and arcs'],
  ['dxf', 'bulges'],
  ['dxf', 'splines'],
  ['svg', 'cubics'],
  ['svg', 'polylines'],
];
const languages: readonly Language[] = ['en', 'de', 'fr', 'es', 'it', 'pt', 'nl', 'ja'];

const told: ReadonlySet<string> = new Set(['recognise-loose-lines', 'recognise-cut-count-assumed']);

const wrongIn = (draft: Draft, write: WriteOptions): string[] => {
  const drawing = readDrawing(draft, write);
  const { pattern, findings } = recognise(drawing, write.outlines === 'cutting' ? { sheet: allowancesOf(draft) } : {});
  return [
    ...unaccounted(drawing, pattern),
    ...readOtherwise(patternOf(draft), pattern, WITHIN, write.outlines !== 'seam'),
    ...findings.filter((f) => !told.has(f.code)).map((f) => `${f.code}: ${f.message}`),
    ...pattern.doubts.map((d) => `doubt: ${d.piece} ${d.message}`),
  ];
};

/** A pattern sheet that states nothing but the allowances, by piece and edge. */
const allowancesOf = (draft: Draft): PatternSheet => ({
  ...emptySheet,
  outlineIs: 'cutting line',
  pieces: draft.pieces.map((p) => {
    const key = p.part.replaceAll(' ', '-') + (p.cloth === 'lining' ? '-lining' : '');
    const role = (name: string): string => name.replace(/ (right|left|\d)$/, '').replace('underlap end', 'end');
    return sheetPiece(key, { allowances: Object.fromEntries(p.edges.map((e) => [role(e.name), e.allowance])) });
  }),
});

const drafts: readonly (readonly [string, () => Draft])[] = [
  ['bodice', () => draftBodice(SAMPLE_BODICE_BODY, {})],
  ['bodice with darts in the outline', () => draftBodice(SAMPLE_BODICE_BODY, { darts: 'outline' })],
  ['whole bodice', () => draftBodice(SAMPLE_BODICE_BODY, { whole: true })],
  [
    'bodice with a shoulder dart, centre seams',
    () => draftBodice(SAMPLE_BODICE_BODY, { shoulderDart: true, back: 'centre seam', front: 'centre seam' }),
  ],
  ['bodice in panels', () => draftBodice(SAMPLE_BODICE_BODY, { panels: true })],
  [
    'bodice with collar, facings, cuff and two-piece sleeve',
    () => draftBodice(SAMPLE_BODICE_BODY, { sleeve: 'two pieces', collar: true, facings: true }),
  ],
  ['bodice with cuff and lining', () => draftBodice(SAMPLE_BODICE_BODY, { cuff: true, lining: true })],
  ['trousers', () => draftTrousers(SAMPLE_TROUSER_BODY, {})],
  [
    'straight trousers, darts in the outline',
    () => draftTrousers(SAMPLE_TROUSER_BODY, { leg: 'straight', darts: 'outline' }),
  ],
  ['dress', () => draftDress(SAMPLE_DRESS_BODY, {})],
  ['whole dress', () => draftDress(SAMPLE_DRESS_BODY, { whole: true })],
  ['dress in two tiers', () => draftTieredDress(SAMPLE_DRESS_BODY, {})],
];

const cases = fc.record({
  draft: fc.constantFrom(...drafts),
  write: fc.constantFrom(...files).chain(([format, variant]) =>
    fc.record({
      format: fc.constant(format),
      variant: fc.constant(variant),
      units: fc.constantFrom(...(variant === 'apparel' ? (['mm', 'in'] as const) : (['mm', 'cm', 'in'] as const))),
      language: fc.constantFrom(...languages),
      outlines: fc.constantFrom('both' as const, 'both' as const, 'seam' as const, 'cutting' as const),
      angle: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
      mirror: fc.boolean(),
      move: fc.record({ x: fc.integer({ min: -3000, max: 3000 }), y: fc.integer({ min: -3000, max: 3000 }) }),
      case: fc.constantFrom('as written' as const, 'upper' as const, 'lower' as const),
      accents: fc.boolean(),
      layers: fc.constantFrom('named' as const, 'single' as const),
      splitLabels: fc.boolean(),
      adjustmentLines: fc.constantFrom('double' as const, 'single' as const),
    }),
  ),
});

/**
 * In a file without layers nothing says that a lone outline is the seam line; and where loose lines of one layer run on
 * one another (the free edge of a facing, that has no allowance), nothing says which outline each belongs to.
 */
const isFair = ({ draft: [name], write }: { draft: (typeof drafts)[number]; write: WriteOptions }): boolean =>
  (write.outlines !== 'cutting' || !/whole|outline/.test(name)) &&
  (write.layers !== 'single' && write.variant !== 'apparel'
    ? true
    : write.outlines !== 'seam' &&
      !(write.layers === 'single' && name.includes('facings') && /^(lines and arcs|splines)$/.test(write.variant)));

describe('drafted bodices, sleeves, trousers and dresses', () => {
  for (const [name, draft] of drafts) {
    it(`${name}: read as drafted`, () => {
      expect(wrongIn(draft(), { format: 'dxf', variant: 'lines and arcs' })).toEqual([]);
    });
  }

  it('are read as drafted from any file', { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(cases.filter(isFair), ({ draft: [name, draft], write }) => {
        expect([name, ...wrongIn(draft(), write)]).toEqual([name]);
      }),
      { numRuns: Number(process.env.RUNS ?? 20), seed: Number(process.env.SEED ?? 11) },
    );
  });
});
