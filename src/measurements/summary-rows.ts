import type { Finding } from '../finding.ts';
import { plainWords } from './words.ts';

/** What a row below a list is called that sums it up, in the languages in which measurements are read. */
const SUMMARIES = new Set(
  [
    ...['average', 'averages', 'avg', 'mean', 'median', 'total', 'totals', 'grand total', 'sum', 'minimum', 'maximum'],
    ...['Durchschnitt', 'Mittelwert', 'Summe', 'gesamt', 'Anzahl', 'moyenne', 'somme', 'promedio', 'suma', 'totale'],
    ...['somma', 'média', 'soma', 'gemiddelde', 'totaal', '平均', '合計'],
  ].map(plainWords),
);

/** Warnings for the last rows of a table whose names are those of sums and means: they are nobody's. */
export const summaryRows = (
  rows: readonly { readonly name: string; readonly row: number }[],
  file: string,
): readonly Finding[] => {
  const first = rows.findLastIndex(({ name }) => !SUMMARIES.has(plainWords(name))) + 1;
  return rows.slice(first).map(({ name, row }) => ({
    code: 'measure-row-summary',
    level: 'warning',
    where: { file, row, cell: 'fitting', excerpt: name, fitting: name },
    message: `'${name}' at the end of the table looks like a sum or a mean of the rows above it, and is read as a fitting.`,
    try: 'Take the row out. If a fitting is called so, give it another name.',
  }));
};
