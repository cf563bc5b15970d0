import type { Altered, AlterOptions, PlanOptions } from '../alterations/contract.ts';
import { type Fitted, fitToPerson } from '../alterations/person.ts';
import { checkPattern } from '../checks/index.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Format } from '../formats/drawing.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Ledger, LedgerParts, Status } from './ledger.ts';
import { ledgerOf } from './ledger.ts';
import type { OutputFile } from './making.ts';
import { makeFiles } from './making.ts';
import type { Measures } from './measures.ts';
import { measure } from './measures.ts';
import type { Order } from './orders/orders.ts';
import type { PatternFile } from './patternfile.ts';
import { contestedLines } from './redraw.ts';
import { type ReportAsked, reportFiles } from './report/report.ts';
import { measuredOn, missedGirths, missedMeasures, strangeGirths } from './targets.ts';
import { piecesToUnfold, withUnfolded } from './unfold/opened.ts';

/** All that a fitting needs besides its order; the same for the whole run. */
export interface Bench {
  readonly file: PatternFile;
  readonly before: Measures;
  readonly plan: Omit<PlanOptions, 'show'>;
  /** Half pieces are opened out, and pairs drawn as left and right, for a fitting that needs one side other than the other. */
  readonly unfold: boolean;
  readonly alter: AlterOptions;
  /** Formats to write, the file's own first or not at all. */
  readonly formats: readonly Format[];
  /** Pages for people; none when left out. */
  readonly report?: ReportAsked;
}

/** What became of one order. Holds no state of the run, so that orders can be carried out anywhere. */
export interface FittingOutcome {
  readonly fitting: string;
  readonly status: Status;
  readonly ledger: Ledger;
  /** Empty unless `done`. */
  readonly outputs: readonly OutputFile[];
  /** Pages for people, whatever became of it. */
  readonly reports: readonly OutputFile[];
  /** The program's own failure, when it is one. */
  readonly fault?: unknown;
}

/**
 * Plans, alters, checks, redraws, writes and measures one fitting, and makes its pages. Touches no disk; a fault of ours
 * is caught and told. What comes back is bytes and plain values.
 * @param folder the fitting's folder within that of the run, with `/`, so that its pages can link to the list of all
 */
export const carryOut = async (bench: Bench, order: Order, folder = ''): Promise<FittingOutcome> => {
  const worked = work(bench, order);
  return bench.report ? withReports(worked, bench.report, folder) : worked.outcome;
};

/** An order as far as it came, with the patterns that its pages show. */
interface Worked {
  readonly outcome: FittingOutcome;
  /** As drafted, opened out where that was needed. */
  readonly before: Pattern;
  /** As the written file has it. */
  readonly after?: Pattern | undefined;
}

const work = (bench: Bench, order: Order): Worked => {
  try {
    return attempt(bench, order);
  } catch (fault) {
    const findings = [...order.findings, programFault(order.needs.fitting, fault)];
    const worked = end(bench, order, 'failed', { findings });
    return { ...worked, outcome: { ...worked.outcome, fault } };
  }
};

/** The pattern is the thing: pages that cannot be made are told, and what is written stays. */
const withReports = async (
  { outcome, before, after }: Worked,
  asked: ReportAsked,
  folder: string,
): Promise<FittingOutcome> => {
  const told = (findings: readonly Finding[]): Ledger => ({
    ...outcome.ledger,
    findings: [...outcome.ledger.findings, ...findings],
  });
  try {
    const { files, findings } = await reportFiles({ ledger: outcome.ledger, before, after, folder }, asked);
    return { ...outcome, reports: files, ledger: told(findings) };
  } catch (fault) {
    return { ...outcome, ledger: told([reportFault(outcome.fitting, fault)]), fault: outcome.fault ?? fault };
  }
};

/** Which alterations, how much where, and why; and the pieces on paper, as far as the plan can be carried out. */
export const fitOrder = (
  { file, plan, alter }: Pick<Bench, 'file' | 'plan' | 'alter'>,
  { needs, show }: Order,
): Fitted => fitToPerson(file.pattern, needs, { ...plan, show }, { ...alter, show });

const attempt = (bench: Bench, order: Order): Worked => {
  if (order.refused || hasErrors(order.findings)) return end(bench, order, 'refused', { findings: order.findings });
  const closed = fitOrder(bench, order);
  const halves = bench.unfold ? piecesToUnfold(bench.file, closed.plan) : [];
  if (halves.length > 0) return onOpened(bench, order, halves);
  return alterAsPlanned(bench, order, closed);
};

/** The same order on pieces that lie open to their full width. */
const onOpened = (bench: Bench, order: Order, halves: readonly Piece[]): Worked => {
  const opened = withUnfolded(bench, halves);
  const told = { ...order, findings: [...order.findings, ...opened.findings] };
  return alterAsPlanned(opened.bench, told, fitOrder(opened.bench, order));
};

const alterAsPlanned = (bench: Bench, order: Order, { plan, altered }: Fitted): Worked => {
  const strange = strangeGirths(plan, bench.file.pattern, bench.plan.beyondLimits, order.show);
  const planned = [...order.findings, ...plan.findings, ...strange];
  if (hasErrors(planned) || !altered) return end(bench, order, 'refused', { plan, findings: planned });

  const findings = [...planned, ...altered.findings, ...checked(bench, altered)];
  if (hasErrors(findings)) return end(bench, order, 'refused', { plan, steps: altered.steps, findings });

  const made = makeFiles(bench.file, bench.formats, altered.pattern);
  const after = measure(made.measured);
  findings.push(...made.findings, ...missedGirths(plan, bench.before, after, order.show));
  const written = measuredOn(plan, made.measured);
  findings.push(...missedMeasures(written, bench.plan.beyondLimits, order.show));
  if (hasErrors(findings)) return end(bench, order, 'refused', { plan, steps: altered.steps, findings });
  const parts = {
    plan: written,
    steps: altered.steps,
    followed: altered.followed,
    after,
    outputs: made.records,
    findings,
  };
  const worked = end(bench, order, 'done', parts);
  return { ...worked, outcome: { ...worked.outcome, outputs: made.files }, after: made.measured };
};

const checked = ({ file }: Bench, altered: Altered): Finding[] => [
  ...checkPattern(file.pattern, altered.pattern, altered.eased),
  ...contestedLines(file.drawing, altered.pattern),
];

const end = (
  { file, before }: Bench,
  order: Order,
  status: Status,
  parts: Omit<LedgerParts, 'file' | 'before' | 'order' | 'status'>,
): Worked => ({
  outcome: {
    fitting: order.needs.fitting,
    status,
    ledger: ledgerOf({ file, before, order, status, ...parts }),
    ...{ outputs: [], reports: [] },
  },
  before: file.pattern,
});

export const programFault = (fitting: string, fault: unknown): Finding => ({
  code: 'job-program-fault',
  level: 'error',
  where: { fitting },
  message: `The program failed on this fitting: ${fault instanceof Error ? fault.message : String(fault)}`,
  try: 'Nothing was written for it. Please report it with the pattern file and the fitting.',
});

const reportFault = (fitting: string, fault: unknown): Finding => ({
  code: 'job-report-fault',
  level: 'error',
  where: { fitting },
  message: `The program failed on the page of this fitting: ${fault instanceof Error ? fault.message : String(fault)}`,
  try: 'The pattern and its ledger are as they should be. Please report it with the pattern file and the fitting.',
});
