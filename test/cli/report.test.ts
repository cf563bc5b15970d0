import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { type } from './typed.ts';

const SKIRT = join(import.meta.dirname, '../../fixtures/jobs/opera/chorus-skirt.dxf');
const out = mkdtempSync(join(tmpdir(), 'report-cli-'));
afterAll(() => rmSync(out, { recursive: true }));

const alter = (folder: string, ...more: string[]) =>
  type('alter', SKIRT, '--wearer', 'waist girth=27in', '--out', join(out, folder), ...more);
const there = (folder: string): string[] =>
  ['index.html', 'index.pdf', 'wearer/fitting.html', 'wearer/fitting.pdf'].filter((f) =>
    existsSync(join(out, folder, f)),
  );

it('writes pages without being asked, and a PDF of each when it is', async () => {
  expect((await alter('usual')).exit).toBe(0);
  expect(there('usual')).toEqual(['index.html', 'wearer/fitting.html']);
  expect((await alter('both', '--report', 'html,pdf', '--report-paper', 'a4')).exit).toBe(0);
  expect(there('both')).toEqual(['index.html', 'index.pdf', 'wearer/fitting.html', 'wearer/fitting.pdf']);
});

it('writes none with --no-report', async () => {
  expect((await alter('none', '--no-report')).exit).toBe(0);
  expect(there('none')).toEqual([]);
});

it('does not write over a page that is there, but with --force', async () => {
  await alter('again');
  const second = await alter('again');
  expect(second.exit).toBe(2);
  expect(second.err).toContain('fitting.html is there already');
  expect((await alter('again', '--force')).exit).toBe(0);
});

it('says what it does not know', async () => {
  const { exit, err } = await alter('odd', '--report', 'html,docx', '--report-paper', 'A7');
  expect(exit).toBe(2);
  expect(err).toContain('“docx” is no form a page can have');
  expect(err).toContain('“A7” is no paper for pages');
  expect(there('odd')).toEqual([]);
});
