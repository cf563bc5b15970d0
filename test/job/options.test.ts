import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readChoices } from '../../src/job/orders/choices.ts';
import type { OrderOptions } from '../../src/job/orders/orders.ts';
import { settleOrders } from '../../src/job/orders/orders.ts';
import { patternOf } from './handmade.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-options-'));
});
afterAll(() => rm(folder, { recursive: true }));

const file = async (name: string, text: string): Promise<string> => {
  await writeFile(join(folder, name), text);
  return join(folder, name);
};

describe('readChoices', () => {
  const refusal = (text: string) =>
    readChoices(text)
      .findings.map((f) => `${f.message} ${f.try}`)
      .join();

  it('finds the alteration by any of its names, and the option behind it', () => {
    const text = 'full abdomen method=Raise the waist; Abdomen depth = 3 in';
    const { choices, findings } = readChoices(text);
    expect(findings).toEqual([]);
    expect(choices).toEqual({ abdomen: { method: 'raise the waist', depth: '76.2' } });
  });

  it('is content with nothing', () => {
    expect(readChoices(undefined)).toEqual({ choices: {}, findings: [] });
    expect(readChoices(' ')).toEqual({ choices: {}, findings: [] });
  });

  it('says what it takes instead of what it does not know', () => {
    expect(refusal('full abdomne method=wedge')).toMatch(/Did you mean “(full )?abdomen”/);
    expect(refusal('abdomen methd=wedge')).toMatch(/no option “methd”.*method/);
    expect(refusal('abdomen method=glue')).toMatch(/“glue” is no value.*wedge/);
    expect(refusal('abdomen depth=deep')).toMatch(/a length with its unit/);
    expect(refusal('abdomen')).toMatch(/OPTION=VALUE/);
  });
});

describe('settleOrders', () => {
  const pattern = { ...patternOf(), style: 'Chorus skirt', size: '12', draftedFor: { 'waist girth': 673.1 } };
  const settle = (options: OrderOptions) => settleOrders([pattern], options);
  const CHART = 'size,waist girth (in),hip girth (in)\n10,25,34½\n12,26½,36\n';

  it('takes the drafted-for measurements from the list, then the chart, then the sheet, and tells where they differ', async () => {
    const chart = await file('chart.csv', CHART);
    const wearer = 'waist girth=28in';
    expect((await settle({ wearer })).patterns[0]?.draftedFor).toEqual({ 'waist girth': 673.1 });
    const sized = await settle({ wearer, chart });
    expect(sized.patterns[0]?.draftedFor['hip girth']).toBeCloseTo(914.4, 9);
    expect(sized.findings).toEqual([]);
    const other = await settle({ wearer, chart, size: '10', drafted: 'hip girth=35in' });
    expect(other.patterns[0]?.draftedFor['waist girth']).toBeCloseTo(635, 9);
    expect(other.patterns[0]?.draftedFor['hip girth']).toBeCloseTo(889, 9);
    expect(other.findings.map((f) => f.code)).toEqual(['job-drafted-for-overridden', 'job-drafted-for-overridden']);
    expect(other.usable).toBe(true);
  });

  it('needs a size that the chart has', async () => {
    const chart = await file('chart.csv', CHART);
    const { usable, findings } = await settle({ wearer: 'waist girth=28in', chart, size: '14' });
    expect(usable).toBe(false);
    expect(findings.map((f) => f.code)).toContain('measure-size-unknown');
  });

  it('shows lengths as the wearer is measured, unless told otherwise', async () => {
    expect((await settle({ wearer: 'waist girth=71cm' })).orders[0]?.show).toBe('cm');
    expect((await settle({ wearer: 'waist girth=71cm', show: 'in' })).orders[0]?.show).toBe('in');
  });

  it('leaves out fittings for another pattern, and refuses one of another size', async () => {
    const text =
      'fitting,pattern,size,waist girth (in)\nAnn,hand.dxf,12,27\nBea,cloak.dxf,,27\nCleo,Chorus skirt,14,27\n';
    const { orders, findings } = await settle({ fittings: await file('f.csv', text) });
    expect(orders.map((o) => o.needs.fitting)).toEqual(['Ann', 'Cleo']);
    expect(findings.map((f) => f.code)).toEqual(['job-fitting-other-pattern']);
    expect(orders[1]?.findings.map((f) => f.code)).toEqual(['job-fitting-size-missing']);
  });

  it('refuses the row that cannot be read and lets the others go on', async () => {
    const text = 'fitting,waist girth\nAnn,27 in\nBea,"1,234"\n,28 in\nCleo,28 in\ncleo,29 in\n';
    const { orders, usable } = await settle({ fittings: await file('g.csv', text) });
    expect(usable).toBe(true);
    expect(orders.map((o) => [o.needs.fitting, o.refused])).toEqual([
      ['Ann', false],
      ['Bea', true],
      ['row 4', true],
      ['Cleo', true],
      ['cleo', true],
    ]);
    for (const order of orders) expect(order.findings.some((f) => f.level === 'error')).toBe(order.refused);
  });
});
