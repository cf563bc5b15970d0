import type { Finding, Where } from '../finding.ts';
import { measurementCalled, nearestTerm } from './terms.ts';
import { plainWords } from './words.ts';

/** What was checked and stands: all of a row, or measurements and alterations by name. */
export type Stands = 'all' | readonly string[];

export const covers = (stands: Stands, name: string): boolean => stands === 'all' || stands.includes(name);

/** What a person says in the column `checked` of a row. */
export interface Checked {
  readonly stands: Stands;
  readonly findings: readonly Finding[];
}

const YES = new Set(
  [
    'yes',
    'y',
    'x',
    'ok',
    'true',
    '1',
    'checked',
    'as measured',
    'measured',
    'ja',
    'oui',
    'si',
    'sim',
    'gemessen',
  ].concat('✓', '✔'),
);
const NO = new Set(['', 'no', 'n', 'false', '0', 'nein', 'non', 'nee', 'nao', '-']);

/**
 * Reads `yes` (or `as measured`, `x`, `✓`), which covers the whole row, or the names of measurements that stand:
 * `waist girth, hip girth`. Empty and `no` cover nothing.
 */
export const readChecked = (text: string, where: Where): Checked => {
  const whole = /[✓✔]/.test(text) ? '✓' : plainWords(text);
  if (YES.has(whole)) return { stands: 'all', findings: [] };
  if (NO.has(whole)) return { stands: [], findings: [] };
  const names = text
    .split(/[,;/\n]|\band\b/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const known = names.map((name) => measurementCalled(name) ?? name.toLowerCase());
  const stray = names.filter((name) => measurementCalled(name) === undefined && /^\p{L}+$/u.test(name));
  return { stands: known, findings: stray.map((name) => unclear(name, where)) };
};

const unclear = (name: string, where: Where): Finding => {
  const near = nearestTerm(name, ['yes', 'no']);
  return {
    code: 'measure-checked-unclear',
    level: 'warning',
    where,
    message: `'${name}' in the column 'checked' is neither yes nor a measurement, and covers nothing.`,
    try: `${near === undefined ? '' : `Did you mean '${near}'? `}Write yes for the whole row, or the measurements that stand: waist girth, hip girth.`,
  };
};
