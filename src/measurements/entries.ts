import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';
import type { Finding } from '../finding.ts';
import { type Table, type TableOptions, type TableRow, unreadable } from './table.ts';
import { plainWords } from './words.ts';

/** Both are read as YAML, of which JSON is a part, so that numbers keep the digits they were written with. */
export const readEntries = (text: string, options: TableOptions): Table => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, uniqueKeys: true, prettyErrors: false });
  const [error] = document.errors;
  if (error !== undefined) {
    const { line, col } = lines.linePos(error.pos[0]);
    return unreadable(options.fileName, `${error.message}.`, line, col, text.split(/\r?\n/)[line - 1]?.trim());
  }
  const resolve = (node: unknown): unknown => (isAlias(node) ? node.resolve(document) : node);
  const headings: string[] = [];
  const columns = new Map<string, number>();
  const findings: Finding[] = [];
  const columnOf = (heading: string): number => {
    const known = columns.get(heading);
    if (known !== undefined) return known;
    columns.set(heading, headings.length);
    return headings.push(heading) - 1;
  };
  const rows: TableRow[] = [];
  for (const [index, entry] of entriesOf(resolve(document.contents), resolve).entries()) {
    const row = index + 1;
    const line = lines.linePos((entry.node as Node | null)?.range?.[0] ?? 0).line;
    const node = resolve(entry.node);
    const cells: string[] = [];
    if (entry.key !== undefined) cells[columnOf(options.nameColumn)] = entry.key;
    const wrong = isMap(node)
      ? node.items.filter((item) => {
          const value = resolve(item.value);
          if (value !== null && !isScalar(value)) return true;
          cells[columnOf(scalarText(item.key))] = scalarText(value);
          return false;
        })
      : [node];
    if (wrong.length > 0) findings.push(wrongShape(options, row, line));
    rows.push({ row, line, cells });
  }
  const filled = rows
    .map((row) => ({ ...row, cells: headings.map((_, i) => row.cells[i] ?? '') }))
    .filter((row) => row.cells.some((cell) => cell !== ''));
  return { headings, headingRow: 1, rows: filled, findings, grid: false };
};

interface Entry {
  /** The name a row is keyed by, when the rows are not a list. */
  readonly key?: string;
  readonly node: unknown;
}

/** A list of rows; rows keyed by name; or either of them as the only value of a heading such as `fittings:`. */
const entriesOf = (top: unknown, resolve: (node: unknown) => unknown): readonly Entry[] => {
  if (isSeq(top)) return top.items.map((node) => ({ node }));
  if (!isMap(top)) return [];
  const [only] = top.items;
  if (top.items.length === 1 && only !== undefined && /^(?:fittings|sizes)$/.test(plainWords(scalarText(only.key)))) {
    return entriesOf(resolve(only.value), resolve);
  }
  return top.items.map((item) => ({ key: scalarText(item.key), node: item.value }));
};

/** A scalar as it was written: 70.50 stays 70.50. */
const scalarText = (node: unknown): string => {
  if (!isScalar(node) || node.value === null) return '';
  return typeof node.value === 'string' ? node.value.trim() : (node.source ?? String(node.value));
};

const wrongShape = (options: TableOptions, row: number, line: number): Finding => ({
  code: 'measure-row-shape',
  level: 'error',
  where: { file: options.fileName, row, line },
  message: `Entry ${row} is not a plain list of names and values.`,
  try: `Write each entry as names with one value each: { "${options.nameColumn}": "…", "waist girth": "27 in" }.`,
});
