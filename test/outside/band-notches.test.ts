import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { FittingTold } from '../../src/job/run/run.ts';
import { alter } from '../../src/job/run/run.ts';
import { outsideAvailable, python } from './python.ts';

/* What the record says of a band's notches is measured on the written file by a reader that knows nothing of ours. */

const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');
const folder = mkdtempSync(join(tmpdir(), 'retrue-notches-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/**
 * Ways of the notches (layer 4 of ASTM D6673) from the left end of the seam line (layer 14), in mm. In this drawing the
 * band lies with its seam edge below, as somebody sees it who has that edge towards them.
 */
const NOTCHES = `
import ezdxf
answer = []
for file in given:
    block = next(b for b in ezdxf.readfile(file).blocks if any('Waistband' in e.dxf.text for e in b.query('TEXT')))
    seam = [v.dxf.location.x for e in block.query('POLYLINE[layer=="14"]') for v in e.vertices]
    answer.append(sorted((p.dxf.location.x - min(seam)) * 25.4 for p in block.query('POINT[layer=="4"]')))
`;

describe.skipIf(!outsideAvailable(['ezdxf']))('the notches of a waistband', () => {
  it('stand where the record says, before and after', async () => {
    const told: FittingTold[] = [];
    const pattern = join(OPERA, 'chorus-skirt.dxf');
    await alter(
      { pattern, fittings: join(OPERA, 'fittings.csv'), out: folder, force: false, show: 'mm' },
      { onFindings: () => undefined, onFitting: (t) => told.push(t) },
    );
    const records = told.flatMap(({ ledger, files }) =>
      (ledger?.followed ?? []).map(({ did }) => ({ did, file: files[0] as string })),
    );
    expect(records.length).toBeGreaterThan(4);
    const [was, ...are] = python(NOTCHES, [pattern, ...records.map((r) => r.file)]) as number[][];
    for (const [i, { did }] of records.entries()) {
      expect(did).toContain('from the left end, as drawn and with the band seam towards you');
      const stated = [...did.matchAll(/ ([\d.]+) mm \(now ([\d.]+) mm\)/g)].map(([, a, b]) => [Number(a), Number(b)]);
      // The fourth notch, where the underlap begins, only goes along.
      expect(stated).toHaveLength(3);
      for (const [k, [before, now]] of stated.entries()) {
        expect(Math.abs((before as number) - (was?.[k] as number)), did).toBeLessThan(0.06);
        expect(Math.abs((now as number) - (are[i]?.[k] as number)), did).toBeLessThan(0.06);
      }
    }
  });
});
