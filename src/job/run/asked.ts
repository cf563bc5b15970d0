import type { Bench } from '../fitting.ts';
import { type ReportAsked, settleReport } from '../report/report.ts';
import type { AlterRequest } from './settings.ts';

/* What a run was asked for, as its manifest keeps it: so parts of a run can be told alike, or where they differ. */

/** Options by their names, those that were not given left out; the values as they were understood. */
export type Asked = Readonly<Record<string, string>>;

/** Options that are the same for all patterns of a run. The others may differ from pattern to pattern. */
export const FOR_ALL_PATTERNS: ReadonlySet<string> = new Set([
  ...['names', 'size', 'show', 'ease', 'units', 'choose', 'beyond-limits', 'true', 'full-grainline', 'unfold'],
  ...['report', 'report-paper', 'SOURCE_DATE_EPOCH'],
]);

/** @param bench absent for an order of which the pattern is not known */
export const askedOf = (
  request: AlterRequest,
  names: string,
  report: ReportAsked | undefined,
  bench: Bench | undefined,
): Asked => {
  const { size, show, ease, units, choose } = request;
  const given: Record<string, string | undefined> = {
    ...{ names, size: typed(size), show: typed(show), ease: typed(ease), units: typed(units), choose: typed(choose) },
    'beyond-limits': yes(request.beyondLimits),
    true: yes(request.true),
    'full-grainline': yes(request.fullGrainline),
    unfold: yes(request.unfold),
    report: report?.formats.join(','),
    'report-paper': report?.paper,
    ...(bench ? askedOfPattern(bench) : {}),
    SOURCE_DATE_EPOCH: process.env.SOURCE_DATE_EPOCH || undefined,
  };
  return Object.fromEntries(Object.entries(given).filter((e): e is [string, string] => e[1] !== undefined));
};

/** The pages that a run was asked for, so that its parts get the lists that it would have got in one place. */
export const reportAsked = (asked: Asked | undefined): ReportAsked | undefined =>
  settleReport({ report: asked?.report, reportPaper: asked?.['report-paper'] }).asked;

const askedOfPattern = ({ file, formats }: Bench): Record<string, string | undefined> => {
  const body = Object.entries(file.pattern.draftedFor).sort(([a], [b]) => (a < b ? -1 : 1));
  return {
    to: formats.map((f) => f.name).join(','),
    view: file.view?.name,
    drafted: body.map(([m, mm]) => `${m}=${Number(mm.toFixed(3))} mm`).join(', ') || undefined,
  };
};

const typed = (text: string | undefined): string | undefined => text?.trim().replace(/\s+/g, ' ').toLowerCase();

const yes = (given: boolean | undefined): string | undefined => (given ? 'yes' : undefined);
