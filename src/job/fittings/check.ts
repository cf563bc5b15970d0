import { alterationColumns } from '../../alterations/index.ts';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import type { Fitting } from '../../measurements/fittings.ts';
import { readFittings } from '../../measurements/fittings.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import type { Exit } from '../exits.ts';
import type { DraftedOptions } from '../orders/drafted.ts';
import { reasonsFor } from '../orders/fitting-rows.ts';
import { once, settleSizes } from '../orders/orders.ts';
import { placed, type Wardrobe } from '../orders/places.ts';
import { rowOf } from '../orders/rows.ts';
import { loadTable } from '../orders/table-file.ts';
import type { PatternFileOptions } from '../patternfile.ts';
import { readPatternFile } from '../patternfile.ts';
import { plural } from '../words.ts';
import { type Beside, besidePatterns } from './beside.ts';

export interface CheckRequest extends PatternFileOptions, DraftedOptions {
  readonly table: string;
  /** Pattern files, to look at the rows that are for them with them in view. */
  readonly patterns: readonly string[];
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

/**
 * Looks for values that cannot be, or hardly can be, as written, in every row; at a row that is for one of the patterns
 * also with that in view. Alters and writes nothing.
 */
export const checkFittings = async (request: CheckRequest): Promise<CheckResult> => {
  const table = await loadTable(request.table);
  if ('code' in table) return nothing([table]);
  const { bytes, fileName, sheet } = table;
  const read = await readFittings(bytes, { fileName, sheet, alterationColumns: alterationColumns() });
  const inView = await readAll(request);
  if (inView.patterns.length < request.patterns.length) return nothing(inView.findings);
  const wardrobe = await wardrobeFor(inView.patterns, read.fittings, request);
  // Files of which it is not clear which are sizes of one are told, and no row is held against them.
  const usable = wardrobe.patterns.length > 0 && !wardrobe.findings.some((f) => f.code === 'job-sizes-unclear');
  const rows = usable ? read.fittings.map((f) => besides(f, wardrobe, read.findings, fileName)) : [];
  const beside = [...besidePatterns(rows, fileName, read.findings), ...rows.flatMap((r) => r.findings)];
  const fittings = read.fittings.map((f) => checked(f, [...read.findings, ...beside]));
  const told = new Set(fittings.flatMap((f) => f.findings));
  const all = [...read.findings, ...beside, ...once([...inView.findings, ...wardrobe.findings])];
  const findings = all.filter((f) => !told.has(f));
  if (read.fittings.length === 0) return nothing(findings);
  const open = [...told, ...findings].some((f) => f.level !== 'note');
  const away = rows.filter((r) => r.elsewhere).length;
  return { fittings, findings, text: summary(fittings, away, fileName), exit: open ? 1 : 0 };
};

/** All patterns that can be read; what was found of one that can goes to whoever surveys it. */
const readAll = async (request: CheckRequest): Promise<Pick<Wardrobe, 'patterns'> & { findings: Finding[] }> => {
  const patterns: Pattern[] = [];
  const findings: Finding[] = [];
  for (const path of request.patterns) {
    const { file, findings: found } = await readPatternFile(path, request);
    if (file) patterns.push(file.pattern);
    else findings.push(...found);
  }
  return { patterns, findings };
};

const wardrobeFor = async (patterns: readonly Pattern[], fittings: readonly Fitting[], request: CheckRequest) => ({
  ...(await settleSizes(patterns, request)),
  named: fittings.some((f) => f.pattern !== undefined),
  size: request.size,
});

interface Placed extends Beside {
  readonly findings: readonly Finding[];
  /** Whether it is for a pattern that was not given. */
  readonly elsewhere: boolean;
}

/** A row with the patterns that it is for, each in its size, and why it has none where that is a mistake. */
const besides = (fitting: Fitting, wardrobe: Wardrobe, findings: readonly Finding[], file: string): Placed => {
  const row = rowOf(fitting, findings, file);
  const { orders } = placed(row, wardrobe);
  // The size it needs cannot be told while something is to be put right first.
  const isOpen = row.order.refused;
  const own = once(orders.flatMap((o) => o.findings.filter((f) => !row.order.findings.includes(f)))).filter(
    (f) => !(isOpen && f.code === 'job-fitting-size-undecided'),
  );
  const patterns = orders.flatMap(({ pattern, refused }) =>
    pattern === undefined || (refused && !row.order.refused) ? [] : [wardrobe.patterns[pattern] as Pattern],
  );
  return { fitting, patterns, findings: own, elsewhere: orders.length === 0 };
};

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
    away === 0
      ? ''
      : ` ${plural(away, 'fitting is for another pattern', 'fittings are for other patterns')}, and ${away === 1 ? 'was' : 'were'} looked at without.`;
  return `${file}: ${plural(fittings.length, 'fitting')}: ${parts.join(', ')}.${others}\n`;
};
