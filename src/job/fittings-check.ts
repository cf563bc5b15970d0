import { alterationColumns } from '../alterations/index.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Fitting } from '../measurements/fittings.ts';
import { readFittings } from '../measurements/fittings.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { DraftedOptions } from './drafted.ts';
import { settleDraftedFor } from './drafted.ts';
import type { Exit } from './exits.ts';
import { isForPattern, patternUnknown, reasonsFor } from './fitting-rows.ts';
import { besidePattern } from './fittings-beside.ts';
import type { PatternFileOptions } from './patternfile.ts';
import { readPatternFile } from './patternfile.ts';
import { loadTable } from './table-file.ts';
import { nearestPattern } from './wardrobe.ts';
import { plural } from './words.ts';

export interface CheckRequest extends PatternFileOptions, DraftedOptions {
  readonly table: string;
  /** Pattern file, to look at the table with it in view. */
  readonly pattern?: string | undefined;
}

/** What became of one row. */
export interface CheckedFitting {
  readonly fitting: string;
  readonly row: number;
  /** `good`: nothing to look at. `odd`: warnings, that a person can overrule. `refused`: it would not be altered. */
  readonly status: 'good' | 'odd' | 'refused';
  readonly findings: readonly Finding[];
}

export interface CheckResult {
  readonly fittings: readonly CheckedFitting[];
  /** What concerns no single fitting. */
  readonly findings: readonly Finding[];
  readonly text: string;
  /** 0 nothing to look at, 1 something is, 2 the table cannot be read. */
  readonly exit: Exit;
}

/** Looks for values that cannot be, or hardly can be, as written; alters and writes nothing. */
export const checkFittings = async (request: CheckRequest): Promise<CheckResult> => {
  const table = await loadTable(request.table);
  if ('code' in table) return nothing([table]);
  const { bytes, fileName, sheet } = table;
  const read = await readFittings(bytes, { fileName, sheet, alterationColumns: alterationColumns() });
  const inView = request.pattern === undefined ? undefined : await readPatternFile(request.pattern, request);
  if (inView && !inView.file) return nothing(inView.findings);
  const drafted = inView?.file && (await settleDraftedFor(inView.file.pattern, request));
  const pattern = inView?.file && drafted && { ...inView.file.pattern, draftedFor: drafted.draftedFor };
  const own = pattern ? read.fittings.filter((f) => isForPattern(f, pattern)) : read.fittings;
  const beside = [
    ...(pattern ? besidePattern(own, pattern, fileName, read.findings) : []),
    ...(drafted?.findings ?? []),
  ];
  const fittings = own.map((f) => checked(f, [...read.findings, ...beside]));
  const told = fittings.flatMap((f) => f.findings);
  // Of a row that is for another pattern nothing is said.
  const away = new Set(read.fittings.filter((f) => !own.includes(f)).map((f) => f.name));
  const unknown = pattern ? misnamed(read.fittings, own, pattern, fileName) : [];
  const findings = [...read.findings, ...beside, ...unknown].filter(
    (f) => !told.includes(f) && (unknown.includes(f) || f.where.fitting === undefined || !away.has(f.where.fitting)),
  );
  if (read.fittings.length === 0) return nothing(findings);
  const open = [...told, ...findings].some((f) => f.level !== 'note');
  return {
    fittings,
    findings,
    text: summary(fittings, read.fittings.length - own.length - unknown.length, fileName),
    exit: open ? 1 : 0,
  };
};

/** Rows for no pattern of that name, where the one in view has a name like it. */
const misnamed = (all: readonly Fitting[], own: readonly Fitting[], pattern: Pattern, file: string): Finding[] =>
  all.flatMap((f) => {
    if (f.pattern === undefined || own.includes(f)) return [];
    const near = nearestPattern(f.pattern, [pattern]);
    return near === undefined ? [] : [patternUnknown({ file, row: f.row, fitting: f.name }, f.pattern, near)];
  });

const nothing = (findings: readonly Finding[]): CheckResult => ({ fittings: [], findings, text: '', exit: 2 });

const checked = (fitting: Fitting, findings: readonly Finding[]): CheckedFitting => {
  const own = reasonsFor(fitting, findings);
  const odd = own.some((f) => f.level === 'warning');
  const status = fitting.refused || hasErrors(own) ? 'refused' : odd ? 'odd' : 'good';
  return { fitting: fitting.name, row: fitting.row, status, findings: own };
};

const summary = (fittings: readonly CheckedFitting[], away: number, file: string): string => {
  const count = (status: CheckedFitting['status']) => fittings.filter((f) => f.status === status).length;
  const parts = [
    `${count('good')} without anything to look at`,
    ...(count('odd') > 0 ? [`${count('odd')} to look at`] : []),
    ...(count('refused') > 0 ? [`${count('refused')} that would be refused`] : []),
  ];
  const others =
    away === 0 ? '' : ` ${plural(away, 'fitting is', 'fittings are')} for other patterns, and not looked at.`;
  return `${file}: ${plural(fittings.length, 'fitting')}: ${parts.join(', ')}.${others}\n`;
};
