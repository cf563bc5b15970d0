import { basename, dirname, extname, join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import type { LengthUnit } from '../../measurements/units.ts';
import { optionUnknown } from '../option-unknown.ts';
import type { DraftedOptions } from '../orders/drafted.ts';
import { settleDraftedFor } from '../orders/drafted.ts';
import type { PatternFile } from '../patternfile.ts';
import { readPatternFile } from '../patternfile.ts';
import { isSystemError, refuseToOverwrite, store, sweep, writeFailed } from '../store.ts';
import { lengthShown } from '../words.ts';
import { columnsFor, type NewColumn } from './columns.ts';
import { notesText } from './notes.ts';
import { workbookOf } from './workbook.ts';

export interface NewFittingsRequest extends DraftedOptions {
  readonly patterns: readonly string[];
  readonly view?: string | undefined;
  readonly sheet?: string | undefined;
  /** Unit of the measurements; by default that of the first pattern: inches, else centimetres. */
  readonly units?: string | undefined;
  /** Unit the pattern files are drawn in, where they do not say it. */
  readonly drawnIn?: string | undefined;
  /** Kinds of table: csv, xlsx; by default as the ending of `out` says, else xlsx. */
  readonly to?: string | undefined;
  /** The table, or the folder for it. */
  readonly out?: string | undefined;
  /** Between the columns of CSV: comma, semicolon or tab. */
  readonly separator?: string | undefined;
  readonly force?: boolean | undefined;
}

export interface NewFittings {
  /** What was written. */
  readonly files: readonly string[];
  readonly columns: readonly NewColumn[];
  readonly notes: string;
  readonly findings: readonly Finding[];
  readonly exit: 0 | 2;
}

/** Writes an empty table of fittings with the columns that the patterns' pieces can use, and how each is measured. */
export const newFittings = async (request: NewFittingsRequest): Promise<NewFittings> => {
  const settled = settle(request);
  const read = await readPatterns(request);
  const refused = [...settled.findings, ...read.findings];
  if (hasErrors(refused)) return nothing(refused);
  const unit = settled.unit ?? (lengthShown(undefined, read.files[0]?.drawing.units.name ?? '') === 'in' ? 'in' : 'cm');
  const columns = columnsFor(read.files, unit);
  const findings = [...refused, ...(columns.some((c) => c.measure) ? [] : [nothingUsed(read.files)])];
  const outputs = await outputsOf(settled, tableName(request, read.files), columns, unit);
  const paths = outputs.map((o) => o.path);
  const blocked = await refuseToOverwrite(paths, request.patterns, request.force ?? false);
  if (hasErrors([...findings, ...blocked])) return nothing([...findings, ...blocked]);
  for (const { path, content } of outputs) {
    try {
      await sweep([path]);
      await store(path, content);
    } catch (error) {
      if (!isSystemError(error)) throw error;
      return nothing([...findings, writeFailed(path, error)]);
    }
  }
  return { files: paths, columns, notes: notesText(columns, unit), findings, exit: 0 };
};

const nothing = (findings: readonly Finding[]): NewFittings => ({
  files: [],
  columns: [],
  notes: '',
  findings,
  exit: 2,
});

const readPatterns = async (request: NewFittingsRequest) => {
  const { patterns, view, sheet, drawnIn } = request;
  const files: PatternFile[] = [];
  const findings: Finding[] = [];
  for (const path of patterns) {
    const read = await readPatternFile(path, { view, sheet, units: drawnIn });
    if (read.file) {
      const { draftedFor, findings: told } = await settleDraftedFor(read.file.pattern, request);
      files.push({ ...read.file, pattern: { ...read.file.pattern, draftedFor } });
      findings.push(...told);
    }
    // Only what stops the pattern from being read matters here. `--units` is the table's own in this command.
    const stopping = read.findings.filter((f) => f.level === 'error');
    findings.push(...stopping.map((f) => ({ ...f, try: f.try.replaceAll('--units', '--drawn-in') })));
  }
  return { files, findings };
};

interface Settled {
  readonly unit: LengthUnit | undefined;
  readonly kinds: readonly Kind[];
  readonly mark: string;
  readonly findings: readonly Finding[];
}

const KINDS = ['xlsx', 'csv'] as const;
type Kind = (typeof KINDS)[number];
const MARKS: Readonly<Record<string, string>> = { comma: ',', semicolon: ';', tab: '\t' };
const UNITS: readonly LengthUnit[] = ['in', 'cm', 'mm'];

const settle = ({ units, to, out, separator = 'comma' }: NewFittingsRequest): Settled => {
  const unit = units?.trim().toLowerCase();
  const ending = extname(out ?? '')
    .slice(1)
    .toLowerCase();
  const asked = (to ?? (isKind(ending) ? ending : 'xlsx')).split(',').map((k) => k.trim().toLowerCase());
  const findings: Finding[] = [];
  if (unit !== undefined && !isUnit(unit))
    findings.push(unknown(units ?? '', 'unit of measurements', '--units', UNITS));
  for (const kind of asked.filter((k) => !isKind(k))) findings.push(unknown(kind, 'kind of table', '--to', KINDS));
  if (MARKS[separator] === undefined) {
    findings.push(unknown(separator, 'separator of columns', '--separator', Object.keys(MARKS)));
  }
  return {
    unit: isUnit(unit) ? unit : undefined,
    kinds: KINDS.filter((k) => asked.includes(k)),
    mark: MARKS[separator] ?? ',',
    findings,
  };
};
const isKind = (text: string): text is Kind => (KINDS as readonly string[]).includes(text);
const isUnit = (text: string | undefined): text is LengthUnit =>
  (UNITS as readonly (string | undefined)[]).includes(text);

/** Path of the table without its ending. */
const tableName = ({ out = '.', patterns }: NewFittingsRequest, files: readonly PatternFile[]): string => {
  if (isKind(extname(out).slice(1).toLowerCase())) return join(dirname(out), basename(out, extname(out)));
  const [only] = files;
  const name =
    patterns.length === 1 && only ? `${basename(only.fileName, extname(only.fileName))}-fittings` : 'fittings';
  return join(out, name);
};

interface Output {
  readonly path: string;
  readonly content: Uint8Array | string;
}

/** CSV cannot hold notes: they lie beside it. */
const outputsOf = async (
  { kinds, mark }: Settled,
  name: string,
  columns: readonly NewColumn[],
  unit: LengthUnit,
): Promise<readonly Output[]> => {
  const outputs: Output[] = [];
  if (kinds.includes('xlsx')) outputs.push({ path: `${name}.xlsx`, content: await workbookOf(columns, unit) });
  if (kinds.includes('csv')) {
    outputs.push({ path: `${name}.csv`, content: csvOf(columns, mark) });
    outputs.push({ path: `${name}-how-to-measure.txt`, content: notesText(columns, unit) });
  }
  return outputs;
};

/** With a byte order mark, by which spreadsheets know UTF-8, and the line ends of RFC 4180. */
const csvOf = (columns: readonly NewColumn[], mark: string): string =>
  `\uFEFF${columns.map(({ heading }) => heading).join(mark)}\r\n`;

const unknown = (value: string, what: string, option: string, known: readonly string[]): Finding =>
  optionUnknown(`“${value}” is no ${what}.`, `Write ${option} ${known.join(', ')}.`);

const nothingUsed = (files: readonly PatternFile[]): Finding => ({
  code: 'job-fittings-no-columns',
  level: 'error',
  where: { file: files.map((f) => f.fileName).join(', ') },
  message: 'No body measurement was found that these pieces can use.',
  try: 'Look at what was recognised with retrue survey, and correct it in a pattern sheet.',
});
