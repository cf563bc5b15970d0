import type { Finding } from '../../finding.ts';
import { parseAssignments } from '../../measurements/assignments.ts';
import { readChart, sizeCalled } from '../../measurements/chart.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { shown } from '../words.ts';
import { loadTable } from './table-file.ts';

export interface DraftedOptions {
  /** Body measurements of the pattern's size, as a list. Goes before the chart and the sheet. */
  readonly drafted?: string | undefined;
  /** Path of a size chart. Goes before the sheet. */
  readonly chart?: string | undefined;
  /** Row of the chart; by default the size the file names. */
  readonly size?: string | undefined;
}

interface Stated {
  readonly by: string;
  readonly draftedFor: Readonly<Record<string, number>>;
  readonly findings: readonly Finding[];
}

/** The body the pattern was drafted for, mm by canonical name: from the sheet, the chart and --drafted, the last first. */
export const settleDraftedFor = async (pattern: Pattern, options: DraftedOptions): Promise<Omit<Stated, 'by'>> => {
  const sheet: Stated = { by: 'the pattern sheet', draftedFor: pattern.draftedFor, findings: [] };
  return [await fromChart(pattern, options), fromList(options.drafted)].reduce(
    (sum, next) => over(pattern, sum, next),
    sheet,
  );
};

const over = (pattern: Pattern, first: Stated, then: Stated): Stated => {
  const differing = Object.keys(then.draftedFor).filter(
    (name) =>
      Math.abs((first.draftedFor[name] ?? (then.draftedFor[name] as number)) - (then.draftedFor[name] as number)) >
      0.01,
  );
  const told = differing.map((name) => overridden(pattern.fileName, name, first, then));
  return {
    by: Object.keys(then.draftedFor).length > 0 ? then.by : first.by,
    draftedFor: { ...first.draftedFor, ...then.draftedFor },
    findings: [...first.findings, ...then.findings, ...told],
  };
};

const fromList = (text: string | undefined): Stated => {
  if (text === undefined) return { by: '--drafted', draftedFor: {}, findings: [] };
  const { measurements, findings } = parseAssignments(text, { source: '--drafted' });
  return { by: '--drafted', draftedFor: measurements, findings };
};

const fromChart = async (pattern: Pattern, { chart, size }: DraftedOptions): Promise<Stated> => {
  const nothing = (findings: readonly Finding[]): Stated => ({ by: 'the size chart', draftedFor: {}, findings });
  if (chart === undefined) return nothing(size === undefined ? [] : [sizeWithoutChart]);
  const table = await loadTable(chart);
  if ('code' in table) return nothing([table]);
  const { bytes, fileName, sheet } = table;
  const read = await readChart(bytes, { fileName, sheet });
  const row = sizeCalled(read, size ?? pattern.size);
  // A pattern whose own sheet says what it was drafted for needs no row; one that is named must be there.
  if ('code' in row && size === undefined && Object.keys(pattern.draftedFor).length > 0) {
    return nothing([...read.findings, { ...row, level: 'note', where: { file: pattern.fileName }, try: BY_SHEET }]);
  }
  if ('code' in row) return nothing([...read.findings, { ...row, where: { ...row.where, entity: pattern.fileName } }]);
  return { by: `size ${row.size} of ${fileName}`, draftedFor: row.measurements, findings: read.findings };
};

const BY_SHEET = 'Nothing, if what the pattern sheet says it was drafted for is right.';

const sizeWithoutChart: Finding = {
  code: 'job-option-clash',
  level: 'error',
  where: {},
  message: '--size names a row of a size chart, and no chart was given.',
  try: 'Add --chart CHART.csv, or state the measurements with --drafted.',
};

const overridden = (file: string, name: string, first: Stated, then: Stated): Finding => ({
  code: 'job-drafted-for-overridden',
  level: 'note',
  where: { file },
  message:
    `${then.by} says the pattern was drafted for a ${name} of ${shown(then.draftedFor[name] as number, 'mm')}, ` +
    `${first.by} says ${shown(first.draftedFor[name] as number, 'mm')}. The former was taken.`,
  try: 'Correct the one that is wrong.',
});
