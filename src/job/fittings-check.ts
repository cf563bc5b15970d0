import { canUse } from '../alterations/changes.ts';
import { alterationColumns } from '../alterations/index.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import { covers } from '../measurements/checked.ts';
import { LIKELY_EXCHANGED, looksExchanged } from '../measurements/exchanged.ts';
import type { Fitting } from '../measurements/fittings.ts';
import { readFittings } from '../measurements/fittings.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { DraftedOptions } from './drafted.ts';
import { settleDraftedFor } from './drafted.ts';
import type { Exit } from './exits.ts';
import { isForPattern, reasonsFor } from './fitting-rows.ts';
import type { PatternFileOptions } from './patternfile.ts';
import { readPatternFile } from './patternfile.ts';
import { loadTable } from './table-file.ts';
import { list, plural, shown } from './words.ts';

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
  const findings = [...read.findings, ...beside].filter(
    (f) => !told.includes(f) && !(f.where.fitting !== undefined && away.has(f.where.fitting)),
  );
  if (read.fittings.length === 0) return nothing(findings);
  const open = [...told, ...findings].some((f) => f.level !== 'note');
  return { fittings, findings, text: summary(fittings, fileName), exit: open ? 1 : 0 };
};

const nothing = (findings: readonly Finding[]): CheckResult => ({ fittings: [], findings, text: '', exit: 2 });

const checked = (fitting: Fitting, findings: readonly Finding[]): CheckedFitting => {
  const own = reasonsFor(fitting, findings);
  const odd = own.some((f) => f.level === 'warning');
  const status = fitting.refused || hasErrors(own) ? 'refused' : odd ? 'odd' : 'good';
  return { fitting: fitting.name, row: fitting.row, status, findings: own };
};

const summary = (fittings: readonly CheckedFitting[], file: string): string => {
  const count = (status: CheckedFitting['status']) => fittings.filter((f) => f.status === status).length;
  const parts = [
    `${count('good')} without anything to look at`,
    ...(count('odd') > 0 ? [`${count('odd')} to look at`] : []),
    ...(count('refused') > 0 ? [`${count('refused')} that would be refused`] : []),
  ];
  return `${file}: ${plural(fittings.length, 'fitting')}: ${parts.join(', ')}.\n`;
};

// ---- with the pattern in view ----

/** A wearer this far from the body the pattern was drafted for is better served by another size. Common practice. */
const OTHER_SIZE = 0.15;
const GIRTHS = ['bust girth', 'waist girth', 'hip girth'] as const;

const besidePattern = (
  fittings: readonly Fitting[],
  pattern: Pattern,
  file: string,
  findings: readonly Finding[],
): Finding[] => [
  ...columnsBeside(fittings, pattern, file),
  ...fittings
    // A row in which something is to be put right first is not held against the pattern yet.
    .filter(({ row }) => !findings.some((f) => f.where.row === row && f.level !== 'note'))
    .flatMap((fitting) => {
      const exchanged = exchangedBeside(fitting, pattern, file);
      return exchanged.length > 0 ? exchanged : farFromDrafted(fitting, pattern, file);
    }),
];

/** Bust and hip the other way round than on the body the pattern was drafted for. */
const exchangedBeside = (fitting: Fitting, { draftedFor }: Pattern, file: string): Finding[] =>
  LIKELY_EXCHANGED.flatMap(([first, second]): Finding[] => {
    const [a, b] = [fitting.measurements[first], fitting.measurements[second]];
    const [draftedA, draftedB] = [draftedFor[first], draftedFor[second]];
    if (a === undefined || b === undefined || draftedA === undefined || draftedB === undefined) return [];
    if (!looksExchanged(a, b, draftedA / draftedB)) return [];
    const stands = covers(fitting.stands, first) || covers(fitting.stands, second);
    const say = (mm: number) => shown(mm, fitting.show);
    return [
      {
        code: 'job-fitting-exchanged',
        level: stands ? 'note' : 'warning',
        where: { file, row: fitting.row, cell: first, fitting: fitting.name },
        message: `The ${first} is ${say(a)} and the ${second} ${say(b)}; on the body that the pattern was drafted for they are ${say(draftedA)} and ${say(draftedB)}, the other way round.`,
        try: stands ? STANDS : `If the two were exchanged, put them right. ${OR_CHECKED}`,
      },
    ];
  });

const STANDS = 'It is marked as checked, and taken as it stands.';
const OR_CHECKED = "If it was measured so, write yes in the column 'checked'.";

/** Measurements in the table that the pieces cannot use. */
const columnsBeside = (fittings: readonly Fitting[], pattern: Pattern, file: string): Finding[] => {
  const given = [...new Set(fittings.flatMap((f) => Object.keys(f.measurements)))];
  const unused = given.filter((m) => m !== 'stature' && !canUse(pattern, m));
  if (unused.length === 0) return [];
  return [
    {
      code: 'job-fittings-unused',
      level: 'note',
      where: { file },
      message: `${pattern.fileName} does not use: ${unused.join(', ')}. They are checked, and nothing is altered for them.`,
      try: 'Nothing need be done. retrue fittings new writes a table with the measurements that it does use.',
    },
  ];
};

/** One finding a fitting. */
const farFromDrafted = (fitting: Fitting, pattern: Pattern, file: string): Finding[] => {
  const far = GIRTHS.flatMap((name) => {
    const [wearer, drafted] = [fitting.measurements[name], pattern.draftedFor[name]];
    if (wearer === undefined || drafted === undefined || Math.abs(wearer / drafted - 1) <= OTHER_SIZE) return [];
    return [{ name, wearer, drafted }];
  });
  if (far.length === 0) return [];
  const stands = far.every(({ name }) => covers(fitting.stands, name));
  const bodies = far.map((f) => `${f.name} ${shown(f.wearer, fitting.show)} for ${shown(f.drafted, fitting.show)}`);
  return [
    {
      code: 'job-fitting-far-from-pattern',
      level: stands ? 'note' : 'warning',
      where: { file, row: fitting.row, fitting: fitting.name },
      message: `More than ${OTHER_SIZE * 100} % from what the pattern was drafted for: ${list(bodies)}.`,
      try: stands
        ? STANDS
        : "Check the numbers. If they are right, a pattern of a nearer size will serve better; write yes in the column 'checked' to use this one.",
    },
  ];
};
