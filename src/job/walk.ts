import type { LengthShown } from '../alterations/contract.ts';
import { walkMates } from '../checks/index.ts';
import type { Finding } from '../finding.ts';
import type { Mates, Pattern } from '../pattern/pattern.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { Exit } from './exits.ts';
import { recorded } from './ledger.ts';
import { EVEN_WITHIN } from './measures.ts';
import type { PatternFileOptions } from './patternfile.ts';
import { readPatternFile } from './patternfile.ts';
import { measured, pieceNames, sewnRow } from './words.ts';

/** Mates of one pattern laid edge to edge. Lengths are millimetres. */
export interface WalkReport {
  readonly file: string;
  /** Unit the pattern is drawn in. */
  readonly units: string;
  readonly mates: readonly WalkedMates[];
}

export interface WalkedMates {
  readonly mates: string;
  readonly one: string;
  readonly other: string;
  readonly oneLength: number;
  readonly otherLength: number;
  readonly difference: number;
  /**
   * `overlap`: a band is longer than the waist it is sewn to by as much as bands overlap; `eased`: a cap is longer than
   * its armhole by as much as is eased in.
   */
  readonly verdict: 'even' | 'overlap' | 'eased' | 'uneven';
  /** Distance between notches that should meet. */
  readonly notchesApart: readonly number[];
}

export interface WalkResult {
  readonly reports: readonly WalkReport[];
  readonly findings: readonly Finding[];
  readonly exit: Exit;
}

/** Tells whether edges that are sewn together are of one length and their notches meet. */
export const walk = async (paths: readonly string[], options: PatternFileOptions): Promise<WalkResult> => {
  const reports: WalkReport[] = [];
  const findings: Finding[] = [];
  for (const path of paths) {
    const { file, findings: found } = await readPatternFile(path, options);
    findings.push(...found);
    if (!file) continue;
    const mates = walkedMates(file.pattern);
    reports.push({ file: path, units: file.drawing.units.name, mates });
    if (mates.length === 0) findings.push(noMates(file.fileName));
  }
  const uneven = reports.some((r) => r.mates.some((m) => !isTrue(m)));
  const exit = reports.length === 0 ? 2 : uneven || reports.length < paths.length ? 1 : 0;
  return { reports, findings, exit };
};

const isTrue = (m: WalkedMates): boolean =>
  m.verdict !== 'uneven' && m.notchesApart.every((apart) => apart <= EVEN_WITHIN);

const walkedMates = (pattern: Pattern): WalkedMates[] => {
  const names = pieceNames(pattern.pieces.map(({ id, name, cut }) => ({ id, name, cloth: cut.cloth })));
  return walkMates(pattern).map((walked) => {
    const mates = pattern.mates.find((m) => m.id === walked.mates);
    return {
      ...{ mates: walked.mates, one: sewnRow(mates?.one ?? [], names), other: sewnRow(mates?.other ?? [], names) },
      ...{ oneLength: recorded(walked.one), otherLength: recorded(walked.other) },
      ...{ difference: recorded(walked.difference), verdict: verdictOn(walked.difference, pattern, mates) },
      notchesApart: walked.notches.map((n) => recorded(n.apart)),
    };
  });
};

/** A band overlaps by no more than this, mm (3 in; common practice, no source). */
const LONGEST_OVERLAP = 3 * 25.4;
/** A cap that is not gathered is longer than its armhole by no more than this, mm (2½ in; common practice, no source). */
const MOST_EASE = 2.5 * 25.4;

const verdictOn = (difference: number, pattern: Pattern, mates: Mates | undefined): WalkedMates['verdict'] => {
  if (Math.abs(difference) <= EVEN_WITHIN) return 'even';
  const longer = difference > 0 ? mates?.one : mates?.other;
  const has = (role: EdgeRole): boolean =>
    longer?.some((sewn) => {
      const piece = pattern.pieces.find((p) => p.id === sewn.piece);
      return piece?.edges.some((e) => e.id === sewn.edge && e.role === role);
    }) ?? false;
  if (has('band seam') && Math.abs(difference) <= LONGEST_OVERLAP) return 'overlap';
  return has('cap') && Math.abs(difference) <= MOST_EASE ? 'eased' : 'uneven';
};

export const walkText = (report: WalkReport, show: LengthShown): string =>
  [report.file, ...report.mates.map((m) => `  ${mateLine(m, show)}`), ''].join('\n');

const mateLine = (m: WalkedMates, show: LengthShown): string => {
  const lengths = `${m.one} ${measured(m.oneLength, show)} to ${m.other} ${measured(m.otherLength, show)}`;
  const apart = m.notchesApart.filter((a) => a > EVEN_WITHIN);
  const notches = apart.length > 0 ? `; notches apart by ${apart.map((a) => measured(a, show)).join(', ')}` : '';
  return `${lengths}: ${verdictText(m, show)}${notches}`;
};

const verdictText = ({ verdict, difference, one, other }: WalkedMates, show: LengthShown): string => {
  const by = measured(Math.abs(difference), show);
  if (verdict === 'even') return 'even';
  if (verdict === 'eased') return `even, with ${by} of the cap to ease in`;
  if (verdict === 'overlap') return `even, but for ${by} of the band to overlap`;
  return `NOT EVEN, ${difference > 0 ? one : other} is longer by ${by}`;
};

const noMates = (file: string): Finding => ({
  code: 'job-no-mates',
  level: 'warning',
  where: { file },
  message: 'No edges that are sewn together were found, so nothing could be walked.',
  try: 'State under “mates” in the pattern sheet which edges are sewn together.',
});
