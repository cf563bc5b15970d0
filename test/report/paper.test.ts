import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from 'pdf-lib';
import { afterAll, describe, expect, it } from 'vitest';
import { merge } from '../../src/job/run/merge.ts';
import { alter } from '../../src/job/run/run.ts';
import { OPERA } from './written.ts';

/* All sheets of a run come out of one printer: the fittings' and those of the list. */

const place = mkdtempSync(join(tmpdir(), 'paper-'));
afterAll(() => rmSync(place, { recursive: true }));

/** Points of 1/72 in: ISO 216, 210 × 297 mm; ANSI/ASME Y14.1 size A, 8½ × 11 in. */
const PAPERS: Readonly<Record<string, readonly [number, number]>> = { A4: [595.28, 841.89], Letter: [612, 792] };

/** Whose pages they are, by paper. */
const papersIn = async (out: string): Promise<Record<string, string[]>> => {
  const found: Record<string, string[]> = {};
  const paths = readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.pdf'));
  for (const path of paths.sort()) {
    const pdf = await PDFDocument.load(readFileSync(join(out, path)));
    const sizes = pdf.getPages().map((page) => page.getSize());
    const is = ([w, h]: readonly [number, number]) =>
      sizes.every((s) => Math.abs(s.width - w) < 1 && Math.abs(s.height - h) < 1);
    const name = Object.keys(PAPERS).find((p) => is(PAPERS[p]!)) ?? 'neither';
    found[name] = [...(found[name] ?? []), path];
  }
  return found;
};

/** A run over wearers who are measured in these units. */
const written = async (name: string, units: readonly string[], more: { reportPaper?: string; shard?: string } = {}) => {
  const rows = units.map((unit, i) => `Reed ${i + 1},${unit === 'in' ? '27 in' : '68.6 cm'}`);
  const fittings = join(place, `${name}.csv`);
  writeFileSync(fittings, `fitting,waist girth\n${rows.join('\n')}\n`);
  const out = join(place, name);
  const request = { pattern: join(OPERA, 'chorus-skirt.svg'), fittings, out, force: false, report: 'pdf', ...more };
  const { exit } = await alter(request, { onFindings: () => undefined, onFitting: () => undefined });
  expect(exit).toBe(0);
  return out;
};
const ALL = ['Reed 1/fitting.pdf', 'Reed 2/fitting.pdf', 'Reed 3/fitting.pdf', 'index.pdf'];

describe('the paper of a run', () => {
  it('is that of most fittings, for all of them and the list', async () => {
    expect(await papersIn(await written('inches', ['in', 'cm', 'in']))).toEqual({ Letter: ALL });
    expect(await papersIn(await written('centimetres', ['in', 'cm', 'cm']))).toEqual({ A4: ALL });
  });

  it('is the one that was asked for, also when parts of a run are merged', async () => {
    expect(await papersIn(await written('asked', ['cm', 'cm', 'cm'], { reportPaper: 'letter' }))).toEqual({
      Letter: ALL,
    });
    for (const shard of ['1/2', '2/2']) await written('parts', ['cm', 'cm', 'cm'], { reportPaper: 'Letter', shard });
    expect((await merge(join(place, 'parts'))).exit).toBe(0);
    expect(await papersIn(join(place, 'parts'))).toEqual({ Letter: ALL });
  });
});
