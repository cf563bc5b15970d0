import { describe, expect, it } from 'vitest';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { Draft } from '../../fixtures/blocks/draft/draft.ts';
import { withPocket } from '../../fixtures/blocks/draft/pocket.ts';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { type WriteOptions, writeDraft } from '../../fixtures/blocks/draft/write.ts';
import { withYokes } from '../../fixtures/blocks/draft/yoke.ts';
import { dxf } from '../../src/formats/dxf/index.ts';
import { svg } from '../../src/formats/svg/index.ts';
import type { Mates } from '../../src/pattern/pattern.ts';
import { recognise } from '../../src/recognise/index.ts';
import { ring } from './handdrawn.ts';

/* What is sewn to a garment, read from files: facings over several edges, yokes, pockets. */

const read = (draft: Draft, options: Omit<WriteOptions, 'name'>) => {
  const { fileName, bytes } = writeDraft(draft, { name: 'companions', ...options } as WriteOptions);
  const { drawing } = (fileName.endsWith('.svg') ? svg : dxf).read(bytes, { fileName });
  if (!drawing) throw new Error('not read');
  return recognise(drawing);
};

const rowOf = (row: Mates['one']): string => row.map((s) => `${s.piece} ${s.edge}`).join(' + ');
const sewnTo = (mates: readonly Mates[], id: string): string[] =>
  mates
    .filter((m) => [...m.one, ...m.other].some((s) => s.piece === id))
    .map((m) => `${rowOf(m.one)} : ${rowOf(m.other)}`);

const files: readonly Omit<WriteOptions, 'name'>[] = [
  { format: 'svg', variant: 'cubics' },
  { format: 'dxf', variant: 'apparel', apart: true },
];

describe.each(files)('from a $format file', (options) => {
  it('an armhole facing in one piece lies on the armholes of front and back', () => {
    const draft = draftBodice(SAMPLE_BODICE_BODY, { sleeve: false, facings: true, armholeFacing: true });
    const { pattern } = read(draft, options);
    const facing = pattern.pieces.find((p) => p.name === 'Armhole facing');
    expect(ring(facing, 'armhole')).toBe('armhole, side, free, side');
    expect(sewnTo(pattern.mates, facing?.id ?? '')).toEqual([
      `${facing?.id} armhole : bodice-front armhole + bodice-back armhole`,
    ]);
  });

  it('waist facings are told from their free edge, and sewn together at the side', () => {
    const { pattern } = read(draftSkirt(SAMPLE_BODY, { facings: true }), options);
    expect(pattern.doubts).toEqual([]);
    for (const id of ['front-facing', 'back-facing'])
      expect(
        ring(
          pattern.pieces.find((p) => p.id === id),
          'waist',
        ),
      ).toBe('waist, fold, free, side');
    expect(sewnTo(pattern.mates, 'front-facing')).toEqual([
      'front-facing waist : skirt-front waist',
      'front-facing side : back-facing side',
    ]);
  });

  it('hip yokes are sewn to the panels below, and the band to the yokes', () => {
    const { pattern, findings } = read(withYokes(draftSkirt(SAMPLE_BODY, {})), options);
    const [front, back] = pattern.pieces.filter((p) => p.part === 'yoke');
    for (const yoke of [front, back]) expect(ring(yoke, 'waist')).toBe('waist, fold, yoke seam, side');
    expect(sewnTo(pattern.mates, 'waistband')).toEqual([
      `waistband band seam : ${front?.id} waist + ${back?.id} waist`,
    ]);
    expect(sewnTo(pattern.mates, front?.id ?? '')).toContain(`${front?.id} yoke seam : skirt-front waist`);
    expect(findings.map((f) => f.code)).toContain('recognise-yoke-at-waist');
    expect(findings.filter((f) => f.level !== 'note').map((f) => f.code)).toEqual([]);
  });

  it('a pocket lies in the side seams between the notches that are as far apart', () => {
    const { pattern } = read(withPocket(draftSkirt(SAMPLE_BODY, {})), options);
    expect(pattern.pieces.find((p) => p.id === 'pocket')?.part).toBe('pocket');
    expect(pattern.within?.map((m) => m.other.map((s) => `${s.piece} ${s.edge}`))).toEqual([
      ['skirt-front side', 'skirt-back side'],
    ]);
    expect(sewnTo(pattern.mates, 'pocket')).toEqual([]);
  });
});
