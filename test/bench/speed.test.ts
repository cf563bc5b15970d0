import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';

it('measures, and tells ratios to the floor, growth and start (npm run bench)', { timeout: 240_000 }, () => {
  const root = join(import.meta.dirname, '../..');
  const { status, stdout, stderr } = spawnSync(process.execPath, ['scripts/bench.mjs', '10', '1'], {
    cwd: root,
    encoding: 'utf8',
  });
  expect([status, stderr]).toEqual([0, '']);
  const ratios = [...stdout.matchAll(/^ {2}(.*?) {2,}.*?([\d.]+) ×/gm)].map(([, name, ratio]) => [name, Number(ratio)]);
  expect(ratios.map(([name]) => name)).toEqual(
    expect.arrayContaining(['the writing alone', 'a fitting, all of it', '10']),
  );
  for (const [name, ratio] of ratios) expect(ratio, String(name)).toBeGreaterThan(0);
});
