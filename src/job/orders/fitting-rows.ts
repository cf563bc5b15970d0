import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import type { Fitting } from '../../measurements/fittings.ts';

/* Which findings are about a row. */

/** What concerns a row; for one that is refused without a word of its own, what is wrong with the table's columns. */
export const reasonsFor = (fitting: Fitting, findings: readonly Finding[]): Finding[] => {
  const own = findings.filter((f) => isAbout(f, fitting));
  if (!fitting.refused || hasErrors(own)) return own;
  const ofColumns = findings.filter(
    (f) => f.level === 'error' && f.where.fitting === undefined && f.where.cell !== undefined,
  );
  return [...own, ...ofColumns];
};

/** Rows of one name for two patterns are told apart by their number; a row without a name is known by that only. */
const isAbout = ({ where }: Finding, fitting: Fitting): boolean =>
  where.fitting === undefined
    ? fitting.name === `row ${fitting.row}` && where.row === fitting.row
    : where.fitting === fitting.name && (where.row === undefined || where.row === fitting.row);

/** A row that is for no pattern that was given, and whose name for it is near the name of one. */
export const patternUnknown = (where: Finding['where'], pattern: string, near: string): Finding => ({
  code: 'job-fitting-pattern-unknown',
  level: 'error',
  where: { ...where, cell: 'pattern' },
  message: `The fitting “${where.fitting}” is for a pattern “${pattern}”, and none of those given is called so.`,
  try: `Is “${near}” meant? Write it so in the column “pattern”, or give the pattern that is.`,
});
