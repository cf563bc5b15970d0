import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { draftTrousers, SAMPLE_TROUSER_BODY } from '../../fixtures/blocks/draft/trousers.ts';
import { settleOrders } from '../../src/job/orders/orders.ts';
import { patternOf } from '../drafted.ts';

/* Amounts given directly need no word of the body that the pattern was drafted for; measurements do. */

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'direct-'));
});
afterAll(() => rm(folder, { recursive: true }));

const trousers = { ...patternOf(draftTrousers(SAMPLE_TROUSER_BODY, {})), draftedFor: {} };

const settled = async (heading: string, row: string) => {
  const fittings = join(folder, 'fittings.csv');
  await writeFile(fittings, `${heading}\n${row}\n`);
  return settleOrders([trousers], { fittings });
};

it('amounts alone are taken', async () => {
  const { orders, findings, usable } = await settled('fitting,hip change (mm),leg tilt (mm)', 'Ottavio,12,6');
  expect(findings.filter((f) => f.level === 'error')).toEqual([]);
  expect(usable).toBe(true);
  expect(orders[0]?.needs.direct).toMatchObject({ hip: { amount: 12 }, 'leg tilt': { amount: 6 } });
});

it('a measurement beside them is not', async () => {
  const { findings, usable } = await settled('fitting,hip girth (mm),leg tilt (mm)', 'Ottavio,960,6');
  expect(findings.map((f) => f.code)).toContain('job-drafted-for-unknown');
  expect(usable).toBe(false);
});
