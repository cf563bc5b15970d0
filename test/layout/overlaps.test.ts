import { expect, it } from 'vitest';
import { arrange } from '../../src/layout/arrange.ts';
import { copiesOf } from '../../src/layout/copies.ts';
import { overlapFindings } from '../../src/layout/overlaps.ts';
import { templateOf } from '../../src/layout/template.ts';
import { ARRANGE, patternOf } from './laying.ts';

it('tells of pieces that lie on each other, and of none that only lie close', { timeout: 60_000 }, async () => {
  const { pieces } = await patternOf('bodice-cubics.svg');
  const templates = pieces.map((p) => templateOf(p, '', { lay: 'paper', line: 'cutting' }));
  const copies = templates.map((t) => copiesOf(t, 'paper', 'as cut').copies);
  const { arrangement } = arrange(copies, { ...ARRANGE, gap: 0 });
  expect(overlapFindings(arrangement)).toEqual([]);
  const [first, second, ...others] = arrangement.pieces;
  if (!first || !second) throw new Error('nothing was laid');
  const laid = { pieces: [first, { ...second, ...{ offset: first.offset, turn: first.turn } }, ...others] };
  const [found] = overlapFindings(laid);
  expect(found).toMatchObject({ code: 'layout-overlap', level: 'error' });
  expect(found?.message).toMatch(/ and .* lie on each other by \d+\.\d cm²/);
});
