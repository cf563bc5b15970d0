import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { carryOut } from '../../src/job/fitting.ts';
import { prepare } from '../../src/job/prepare.ts';

const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');
const files = readdirSync(BLOCKS).filter((f) => /\.(dxf|svg)$/.test(f));
const INCH = 25.4;

/** Any drafted-for body serves: what is altered is the difference. A bodice ends at the waist. */
const askedOf = (name: string): { readonly drafted: string; readonly wearer: string } =>
  name.startsWith('bodice')
    ? { drafted: 'waist girth=27in', wearer: 'waist girth=27 1/2in' }
    : {
        drafted: 'waist girth=27in, hip girth=37in',
        wearer: 'waist girth=27 1/2in, hip girth=37 3/4in, length at the hem=1in',
      };

describe.each(files)('%s, altered through the whole chain', (name) => {
  it('comes out as asked, in its own format and in the other', async () => {
    const { ready, findings } = await prepare({ pattern: join(BLOCKS, name), ...askedOf(name), to: 'dxf,svg' });
    expect(findings.filter((f) => f.level === 'error')).toEqual([]);
    const [order] = ready?.orders ?? [];
    const bench = ready?.patterns[0]?.bench;
    if (!bench || !order) throw new Error('nothing is asked');
    const { status, ledger, outputs } = await carryOut(bench, order);
    expect(ledger.findings.filter((f) => f.level === 'error')).toEqual([]);
    expect(status).toBe('done');
    expect(outputs.map((o) => o.bytes.length > 1000)).toEqual([true, true]);

    const change = (level: string) => ledger.girths.filter((g) => g.level === level).map((g) => g.after - g.before);
    const wanted = { waist: INCH / 2, ...(name.startsWith('bodice') ? {} : { hip: 0.75 * INCH }) };
    for (const [level, needed] of Object.entries(wanted)) {
      // Bodice and skirt of a dress in two tiers, shell and lining: each goes once round the body.
      expect(change(level).length, level).toBeGreaterThan(0);
      for (const by of change(level)) expect(Math.abs(by - needed), level).toBeLessThan(0.1);
    }
    for (const m of ledger.mates) {
      expect(Math.abs(m.differenceAfter - m.differenceBefore), m.mates).toBeLessThan(0.5);
    }
    expect(Math.max(...ledger.outputs.map((o) => o.deviation))).toBeLessThan(0.05);
  });
});
