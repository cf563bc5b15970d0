import { describe, expect, it } from 'vitest';
import type { Ledger, LedgerShare } from '../../src/job/ledger.ts';
import { recorded } from '../../src/job/ledger.ts';
import { summaryOf } from '../../src/job/summary.ts';

const IN = 25.4;
const share = (piece: string, amount: number): LedgerShare => ({
  ...{
    piece,
    edge: 'side',
    dart: null,
    place: 'side edge at the waist',
    amount,
    most: IN / 2,
    cloth: 'shell',
    counted: 2,
  },
});

const row = (piece: string, edge: string) => [{ piece, edge, times: 1 }];

const ledger: Ledger = {
  ledger: 1,
  program: { name: 'retrue', version: '0.0.0' },
  ...{ fitting: 'Dorothea', status: 'done', wearer: '', note: '', shownIn: 'in' },
  source: {
    ...{
      file: 'skirt.dxf',
      sha256: '',
      sheet: null,
      style: '',
      size: '',
      view: null,
      pieces: [
        { id: 'f', name: 'front', cloth: 'shell', cut: { count: 1, pairs: false, onFold: true } },
        { id: 'b', name: 'back', cloth: 'shell', cut: { count: 1, pairs: false, onFold: true } },
      ],
    },
    units: { name: 'in', millimetresPerUnit: IN, statedBy: 'file' },
  },
  measurements: [
    { measurement: 'waist girth', draftedFor: 27 * IN, wearer: 28 * IN, ease: null, needed: IN, taken: [] },
  ],
  alterations: [
    {
      name: 'waist',
      amount: IN,
      origin: { kind: 'measurement', measurement: 'waist girth' },
      explanation: 'waist girth 28 in − 27 in = +1 in; +1 in over 4 side edges: +¼ in each',
      options: {},
      shares: [share('f', IN / 4), share('b', IN / 4)],
      did: ['front: side edge out ¼ in at the waist'],
    },
  ],
  followed: [{ piece: 'band', did: 'band: 1 in longer: +½ in at each of its 2 notches' }],
  edges: [{ piece: 'f', edge: 'waist', role: 'waist', before: 6.5 * IN, after: 6.75 * IN }],
  mates: [
    { mates: 'side', one: row('f', 'side'), other: row('b', 'side'), differenceBefore: 0, differenceAfter: 0.2 },
    { mates: 'band', one: row('f', 'waist'), other: row('band', 'seam'), differenceBefore: 0, differenceAfter: IN / 2 },
  ],
  girths: [{ level: 'waist', tier: 'skirt', cloth: 'shell', before: 28 * IN, after: 29 * IN, counted: [] }],
  outputs: [{ file: 'skirt.dxf', format: 'dxf', sha256: '', bytes: 1, deviation: 0, addedVertices: [] }],
  findings: [{ code: 'check-not-fair', level: 'warning', where: {}, message: 'A hollow.', try: 'Look at it.' }],
};

describe('summaryOf', () => {
  const lines = summaryOf(ledger, 'altered/Dorothea').split('\n');
  it.each([
    ['the need and its arithmetic', /Needed +waist: waist girth 28 in − 27 in = \+1 in; .*\+¼ in each/],
    ['what each place takes', / side edge at the waist \+¼ in: front × 2 and back × 2 \(customary most ½ in\)/],
    ['what was done', /Done +front: side edge out/],
    ['the girth before and after', /waist, sewn up: 28 in → 29 in \(1 in larger\)/],
    ['the edges that changed', /front: waist 6½ in → 6¾ in/],
    ['mates that match', /Sews +front side to back side: even/],
    ['mates that do not', /front waist to band seam: the first longer by ½ in \(before: 0 in\)/],
    ['what to look at', /Look at +A hollow\./],
    ['where it is', /Written +altered\/Dorothea\/skirt\.dxf/],
  ])('tells %s', (_, line) => {
    expect(
      lines.some((l) => line.test(l)),
      lines.join('\n'),
    ).toBe(true);
  });

  it('says which pattern it is of, where the run has several', () => {
    expect(lines[0]).toBe('Dorothea: done');
    expect(summaryOf(ledger, 'x', { several: true })).toMatch(/^Dorothea, skirt\.dxf: done/);
  });

  it('says so when nothing was written', () => {
    expect(summaryOf({ ...ledger, status: 'refused', outputs: [] }, 'x')).toMatch(/^Dorothea: REFUSED, no pattern/);
  });
});

it('records lengths without noise and without a negative nought', () => {
  expect(recorded(25.400000001)).toBe(25.4);
  expect(Object.is(recorded(-1e-9), 0)).toBe(true);
});
