import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { alter, checkPattern, measurePattern, planFitting, readPattern, writePattern } from '../../src/index.ts';

/* The library, as a script uses it: nothing is printed, nothing thrown for what the user got wrong. */

const SKIRT = join(import.meta.dirname, '../../fixtures/blocks/skirt-cubics.svg');
const drafted = { 'waist girth': '26 1/2 in', 'hip girth': 914.4 };
const dorothea = { name: 'Dorothea', measurements: { 'waist girth': '27in', 'hip girth': '37in' } };

const skirt = async () => {
  const { file, findings } = await readPattern(SKIRT, { drafted });
  if (!file) throw new Error(findings.map((f) => f.message).join('\n'));
  return file;
};

const printed = vi.fn();
beforeEach(() => {
  for (const stream of [process.stdout, process.stderr]) vi.spyOn(stream, 'write').mockImplementation(printed);
});
afterEach(() => {
  vi.restoreAllMocks();
  expect(printed).not.toHaveBeenCalled();
});

describe('reading', () => {
  it('takes a path, or bytes with their name, and says the same of both', async () => {
    const file = await skirt();
    const bytes = await readFile(SKIRT);
    const other = await readPattern({ name: 'skirt-cubics.svg', bytes }, { drafted });
    expect(other.file?.pattern).toEqual(file.pattern);
    expect(file.pattern.draftedFor).toMatchObject({ 'waist girth': 673.1, 'hip girth': 914.4 });
  });

  it('takes the text of a pattern sheet with bytes', async () => {
    const bytes = await readFile(SKIRT);
    const sheet = 'retrue pattern sheet: 1\ndrafted for:\n  waist girth: 26 1/2 in\nstyle: Chorus skirt\n';
    const { file } = await readPattern({ name: 'skirt-cubics.svg', bytes }, { sheet });
    expect(file?.pattern).toMatchObject({ style: 'Chorus skirt', draftedFor: { 'waist girth': 673.1 } });
  });

  it('gives findings for what is no pattern, is not there, or has a name that nothing is called', async () => {
    const codes = async (read: ReturnType<typeof readPattern>) => (await read).findings.map((f) => f.code);
    expect(await codes(readPattern({ name: 'song.svg', bytes: new TextEncoder().encode('La, la') }))).not.toEqual([]);
    expect(await codes(readPattern('no/such/file.svg'))).toContain('job-file-unreadable');
    const misspelt = await readPattern(SKIRT, { drafted: { 'wast girth': '27in' } });
    expect(misspelt.file).toBeUndefined();
    expect(misspelt.findings.find((f) => f.code === 'measure-column-unknown')?.try).toContain('waist girth');
  });
});

describe('a fitting', () => {
  it('is planned with shares that add up to what the measurements ask for', async () => {
    const { steps, findings } = planFitting(await skirt(), dorothea);
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    const hip = steps.find((s) => s.alteration === 'hip');
    const shared = hip?.shares.reduce((sum, s) => sum + s.amount * s.counted, 0);
    expect(shared).toBeCloseTo(hip?.amount ?? 0, 6);
    expect(hip?.amount).toBeCloseTo(25.4, 0);
  });

  it('is altered in memory, in the formats asked for, and leaves the pattern as it was', async () => {
    const file = await skirt();
    const was = JSON.stringify(file.pattern);
    const { status, outputs, ledger } = await alter(file, dorothea, { to: ['svg', 'dxf'] });
    expect([status, outputs.map((o) => o.name)]).toEqual(['done', ['skirt-cubics.svg', 'skirt-cubics.dxf']]);
    const hip = ledger.girths.find((g) => g.level === 'hip');
    expect((hip?.after ?? 0) - (hip?.before ?? 0)).toBeCloseTo(25.4, 1);
    expect(JSON.stringify(file.pattern)).toBe(was);
    const again = await readPattern({ name: 'again.svg', bytes: outputs[0]?.bytes ?? new Uint8Array() });
    const girths = measurePattern(again.file?.pattern ?? file.pattern).girths;
    expect(girths.find((g) => g.level === 'hip')?.girth).toBeCloseTo(hip?.after ?? 0, 1);
    expect(checkPattern(file.pattern, file.pattern)).toEqual([]);
  });

  it('takes changes and ease, also the least', async () => {
    const file = await skirt();
    const longer = planFitting(file, { name: 'Hedvig', changes: { 'length at the hem': '1in' } });
    expect(longer.steps.map((s) => [s.alteration, s.amount])).toEqual([['length at the hem', 25.4]]);
    const eased = planFitting(file, { ...dorothea, ease: { 'hip girth': 'least' } });
    expect(eased.steps.some((s) => s.origin.kind === 'ease')).toBe(true);
  });

  it('is refused with the reason, when a name, a value or a method is not understood', async () => {
    const file = await skirt();
    const wrong: [Parameters<typeof alter>[1], Parameters<typeof alter>[2], string][] = [
      [{ name: 'A', measurements: { 'hop girth': '37in' } }, {}, 'measure-column-unknown'],
      [{ name: 'B', measurements: { 'hip girth': '37' } }, {}, 'measure-unit-missing'],
      [dorothea, { choose: 'hip spread=sideways' }, 'job-option-unknown'],
      [{ name: 'C', measurements: { 'hip girth': '60in' } }, {}, 'plan-past-limit'],
    ];
    for (const [fitting, options, code] of wrong) {
      const { status, outputs, ledger } = await alter(file, fitting, options);
      expect([status, outputs]).toEqual(['refused', []]);
      expect(ledger.findings.filter((f) => f.level === 'error').map((f) => f.code)).toContain(code);
      expect(planFitting(file, fitting, options).findings.map((f) => f.code)).toContain(code);
    }
  });
});

describe('writing', () => {
  it('gives the very bytes back in the own format, and a whole file in the other', async () => {
    const file = await skirt();
    expect(Buffer.from((await writePattern(file, 'svg')).bytes)).toEqual(await readFile(SKIRT));
    const dxf = await writePattern(file, 'dxf');
    expect(dxf.name).toBe('skirt-cubics.dxf');
    const read = await readPattern(dxf);
    expect(read.file?.pattern.pieces.map((p) => p.name)).toEqual(file.pattern.pieces.map((p) => p.name));
  });
});

describe('what the types would have refused', () => {
  const codes = (findings: readonly { readonly code: string }[]) => findings.map((f) => f.code);

  it('is a finding: a value that holds another, no length, no unit, no format, no page', async () => {
    const file = await skirt();
    const joined = { name: 'Leonie', measurements: { 'waist girth': '27in; hip girth=38in' } };
    const { steps, findings } = planFitting(file, joined);
    expect([steps, codes(findings)]).toEqual([[], ['measure-value-unreadable']]);
    expect(findings[0]?.where).toMatchObject({ fitting: 'Leonie', excerpt: 'waist girth=27in; hip girth=38in' });
    const eased = planFitting(file, { ...dorothea, ease: { 'waist girth': '1in, hip girth=9in' } });
    expect(codes(eased.findings)).toContain('measure-value-unreadable');
    for (const length of [Number.NaN, '', true as never, null as never]) {
      const read = planFitting(file, { name: 'Leonie', measurements: { 'waist girth': length } });
      expect(codes(read.findings), String(length)).toEqual(['measure-value-unreadable']);
    }
    expect(planFitting(file, dorothea, { show: 'ell' as never }).findings[0]?.message).toContain('“ell”');
    for (const options of [{ to: ['pdf'] }, { pages: ['scroll'] }, { paper: 'A0' }, { show: 'ell' }] as const) {
      const { status, outputs, ledger } = await alter(file, dorothea, options as never);
      expect([status, outputs, codes(ledger.findings)]).toEqual(['refused', [], ['job-option-unknown']]);
    }
  });

  it('is a finding where a pattern is written, and no bytes', async () => {
    const { bytes, findings } = await writePattern(await skirt(), 'plt' as never);
    expect([bytes.length, codes(findings)]).toEqual([0, ['job-option-unknown']]);
    expect(findings[0]?.try).toBe('Ask for dxf or svg.');
  });
});

it('makes the pages of a fitting where they are asked for', async () => {
  const file = await skirt();
  const { reports } = await alter(file, dorothea, { pages: ['html', 'pdf'], paper: 'Letter' });
  expect(reports.map((r) => r.name)).toEqual(['fitting.html', 'fitting.pdf']);
  expect(new TextDecoder().decode(reports[0]?.bytes)).toContain('Dorothea');
  expect(new TextDecoder('latin1').decode(reports[1]?.bytes)).toMatch(/^%PDF-/);
  expect((await alter(file, dorothea)).reports).toEqual([]);
});
