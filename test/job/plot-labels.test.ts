import { copyFile, mkdir, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { folderLabels } from '../../src/job/plot/labels.ts';
import { type } from '../cli/typed.ts';

const GORES = join(import.meta.dirname, '../../fixtures/blocks/skirt-six-gores-cm-dutch.svg');

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-labels-'));
});
afterAll(() => rm(folder, { recursive: true }));

it('labels by folder, with as many above it as tell folders of one name apart', () => {
  expect(folderLabels(['/rack/Ann/skirt.svg', '/rack/Bea/skirt.svg'])).toEqual(['Ann', 'Bea']);
  expect(folderLabels(['/mon/Ann/skirt.svg', '/tue/Ann/skirt.svg'])).toEqual(['mon/Ann', 'tue/Ann']);
  expect(folderLabels(['/mon/a/Ann/x.svg', '/tue/a/Ann/x.svg', '/tue/a/Bea/x.svg'])).toEqual([
    ...['mon/a/Ann', 'tue/a/Ann', 'Bea'],
  ]);
  // Two files of one folder are one fitting's; what they are called tells them apart.
  expect(folderLabels(['/rack/Ann/skirt.svg', '/rack/Ann/cape.svg'])).toEqual(['Ann', 'Ann']);
});

it('reckons the cloth of two fittings of one folder name by themselves', async () => {
  const patterns = ['monday', 'tuesday'].map((day) => join(folder, day, 'Ann', 'skirt.svg'));
  for (const path of patterns) {
    await mkdir(join(path, '..'), { recursive: true });
    await copyFile(GORES, path);
  }
  const out = join(folder, 'out');
  // The same file twice is two fittings as well.
  const args = [...patterns, patterns[0] as string, '--roll', '1500', '--to', 'svg', '--effort', '20', '--out', out];
  expect((await type('plot', ...args)).exit).toBe(0);
  const { layouts } = JSON.parse(await readFile(join(out, 'layout.json'), 'utf8')) as {
    layouts: { cloth: { fitting: string }[] }[];
  };
  const labels = layouts[0]?.cloth.map((c) => c.fitting) ?? [];
  expect(labels).toHaveLength(3);
  expect(new Set(labels).size).toBe(3);
  for (const label of labels) expect(label).toMatch(/(mon|tues)day\/Ann/);
});
