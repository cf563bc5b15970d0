import { basename, extname } from 'node:path';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Fitting } from '../measurements/fittings.ts';
import type { Pattern } from '../pattern/pattern.ts';

/* Which rows of a table are for a pattern, and which findings are about a row. */

/** What concerns a row; for one that is refused without a word of its own, what is wrong with the table's columns. */
export const reasonsFor = (fitting: Fitting, findings: readonly Finding[]): Finding[] => {
  const own = findings.filter((f) => isAbout(f, fitting));
  if (!fitting.refused || hasErrors(own)) return own;
  const ofColumns = findings.filter(
    (f) => f.level === 'error' && f.where.fitting === undefined && f.where.cell !== undefined,
  );
  return [...own, ...ofColumns];
};

/** A row without a name is known by its number only. */
const isAbout = ({ where }: Finding, fitting: Fitting): boolean =>
  where.fitting === undefined
    ? fitting.name === `row ${fitting.row}` && where.row === fitting.row
    : where.fitting === fitting.name && (where.row === undefined || where.row === fitting.row);

/** Whether a row is for this pattern: it names none, or its file, with or without ending, or its style name. */
export const isForPattern = (fitting: Fitting, pattern: Pattern): boolean => {
  if (fitting.pattern === undefined) return true;
  const bare = basename(pattern.fileName, extname(pattern.fileName));
  const text = fitting.pattern.trim().toLowerCase();
  return [pattern.fileName, bare, pattern.style].some((name) => name.toLowerCase() === text);
};
