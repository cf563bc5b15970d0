import { expect, it } from 'vitest';
import { progressTold } from '../../src/cli/plot-progress.ts';
import type { PlotProgress } from '../../src/job/plot/plot.ts';
import { arrange } from '../../src/layout/arrange.ts';
import { copiesOf } from '../../src/layout/copies.ts';
import { templateOf } from '../../src/layout/template.ts';
import { ARRANGE, patternOf } from '../layout/laying.ts';

/** What is told of a layout, on a clock of its own on which every report comes `step` ms after the one before. */
const told = (reports: readonly PlotProgress[], step: number): string[] => {
  const lines: string[] = [];
  let at = 0;
  const io = { out: () => expect.unreachable(), err: (text: string) => void lines.push(text), colour: false };
  const tell = progressTold(io, () => at);
  for (const report of reports) {
    at += step;
    tell(report);
  }
  return lines;
};

const reportsOf = async (fittings: number): Promise<PlotProgress[]> => {
  const pattern = await patternOf('skirt-cubics.svg');
  const copies = Array.from({ length: fittings }, (_, f) =>
    pattern.pieces.map(
      (p) => copiesOf(templateOf(p, `F${f}`, { lay: 'paper', line: 'cutting' }), 'paper', 'as cut').copies,
    ),
  ).flat();
  const reports: PlotProgress[] = [];
  const onProgress = (p: Omit<PlotProgress, 'plot'>): void =>
    void reports.push({ ...p, plot: 'skirt' } as PlotProgress);
  const { arrangement, findings } = arrange(copies, { ...ARRANGE, effort: 5, onProgress });
  expect(arrangement.pieces.length).toBe((reports[0] as { pieces: number }).pieces);
  expect(findings.map((f) => f.code)).toEqual(arrangement.pieces.length > 150 ? ['layout-in-lots'] : []);
  return reports;
};

it('says at once how many pieces are laid in how many lots, then how far it is, with patience', async () => {
  const reports = await reportsOf(60);
  const [first] = told(reports, 1);
  expect(first).toMatch(/^laying out: skirt, \d+ pieces in 2 lots, one after the other\n$/);
  const lines = told(reports, 600);
  expect(lines[0]).toBe(first);
  expect(lines.length).toBeLessThan(reports.length / 8 + 2);
  expect(lines[1]).toMatch(
    /^laying out: lot 1 of 2 \(0 of \d+ pieces laid\), a first place for \d+ of \d+ pieces, \d+ mm\n$/,
  );
  expect(lines.at(-1)).toMatch(/^laying out: lot 2 of 2 \([1-9]\d* of \d+ pieces laid\), /);
});

it('says nothing of a small layout that does not take long', async () => {
  const reports = await reportsOf(2);
  expect(told(reports, 1)).toEqual([]);
  expect(told(reports, 6000).at(-1)).toMatch(/^laying out: \d+ %, \d+ mm\n$/);
});

it('tells how many patterns are read', () => {
  const reports = Array.from(
    { length: 30 },
    (_, read): PlotProgress => ({ doing: 'reading patterns', patterns: 30, read }),
  );
  expect(told(reports, 1000).slice(0, 2)).toEqual(['reading patterns: 30 of them\n', 'reading patterns: 5 of 30\n']);
  expect(told(reports.slice(0, 3), 1000)).toEqual(['reading patterns: 30 of them\n']);
});

it('goes on telling while the cloth is reckoned', () => {
  const reports = Array.from(
    { length: 40 },
    (_, reckoned): PlotProgress => ({ doing: 'reckoning cloth', plot: 'skirt', fittings: 40, reckoned }),
  );
  expect(told(reports, 1000).slice(0, 2)).toEqual([
    'reckoning cloth: skirt, what each of 40 fittings needs\n',
    'reckoning cloth: fitting 6 of 40\n',
  ]);
});
