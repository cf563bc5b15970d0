import { cell, end, type Section, start, strongCell, type Table, words } from '../../report/content.ts';
import type { Ledger, LedgerGirth, LedgerMeasurement } from '../ledger.ts';
import { ruled, ruledChange, taped, tapedAfter, tapedChange, tapedFromTo } from '../tape.ts';
import { headed, type Telling } from './parts.ts';

/* What the wearer measures, what the pattern was drafted for, and what came of it on the pieces. */

export const measuresSection = (ledger: Ledger, telling: Telling): Section[] => {
  const tables = [
    ...(ledger.measurements.length === 0 ? [] : [measurementTable(ledger.measurements, telling)]),
    ...(ledger.girths.length === 0 ? [] : [girthTable(ledger.girths, telling)]),
  ];
  if (tables.length === 0) return [];
  const pieces =
    ledger.status === 'done'
      ? 'what the written file measures'
      : 'what it would have come to, as far as that was reckoned';
  const explains = `Needed is the wearer’s measurement less the one the pattern was drafted for, so the ease of the design stays. On the pieces stands ${pieces}, seams sewn and darts closed.`;
  return [{ id: 'measurements', heading: 'Measurements', blocks: [words(explains), ...tables] }];
};

const measurementTable = (measurements: readonly LedgerMeasurement[], { show }: Telling): Table => {
  const eased = measurements.some((m) => m.ease !== null);
  const length = (mm: number | null): string => (mm === null ? '–' : ruled(mm, show));
  return {
    kind: 'table',
    caption: 'Measurement by measurement',
    columns: [
      start('Measurement', 1.5),
      end('Wearer', 0.9),
      end('Drafted for', 0.9),
      ...(eased ? [end('Ease asked for', 0.9)] : []),
      end('Needed', 0.9),
      start('On the pieces', 2.6),
    ],
    rows: measurements.map((m) => [
      strongCell(headed(m.measurement)),
      cell(length(m.wearer)),
      cell(length(m.draftedFor)),
      ...(eased ? [cell(length(m.ease))] : []),
      strongCell(m.needed === null ? '–' : ruledChange(m.needed, show)),
      cell(...(m.taken.length === 0 ? ['not shown by these pieces'] : m.taken.map((t) => takenWords(t, show)))),
    ]),
  };
};

const takenWords = ({ of, before, after }: LedgerMeasurement['taken'][number], show: Telling['show']): string =>
  after === null
    ? `${of}: ${taped(before, show)} as drafted`
    : `${of}: ${tapedFromTo(before, after, show)} (${tapedChange(before, after, show)})`;

const girthTable = (girths: readonly LedgerGirth[], { show }: Telling): Table => {
  const tiers = new Set(girths.map((g) => g.tier)).size > 1;
  return {
    kind: 'table',
    caption: 'Round the garment, sewn up',
    columns: [start('Level', 2), end('As drafted'), end('As altered'), end('Change')],
    rows: girths.map((g) => [
      strongCell(`${headed(g.level)}${tiers ? ` of the ${g.tier}` : ''}${g.cloth === 'shell' ? '' : `, ${g.cloth}`}`),
      cell(taped(g.before, show)),
      cell(tapedAfter(g.before, g.after, show)),
      cell(tapedChange(g.before, g.after, show)),
    ]),
  };
};
