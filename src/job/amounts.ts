import type { Plan } from '../alterations/contract.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Exit } from './exits.ts';
import type { Bench } from './fitting.ts';
import { fitOrder } from './fitting.ts';
import type { Ledger } from './ledger.ts';
import { ledgerOf } from './ledger.ts';
import type { Order } from './orders/orders.ts';
import type { FittingRequest, Prepared } from './prepare.ts';
import { prepare } from './prepare.ts';
import { summaryOf } from './summary.ts';
import { piecesToUnfold, withUnfolded } from './unfold/opened.ts';

/** The arithmetic of one fitting: what is needed, how it is shared, which limits it meets. */
export interface Amounts extends Pick<Ledger, 'fitting' | 'shownIn' | 'measurements' | 'alterations' | 'findings'> {
  readonly status: 'possible' | 'refused';
}

export interface AmountsResult {
  readonly fittings: readonly Amounts[];
  readonly text: string;
  /** What concerns no single fitting. */
  readonly findings: readonly Finding[];
  readonly exit: Exit;
}

/** Reckons what would be done, and does nothing. */
export const amounts = async (request: FittingRequest): Promise<AmountsResult> => {
  const { ready, findings } = await prepare(request);
  if (!ready) return { fittings: [], text: '', findings, exit: 2 };
  const { patterns, orders } = ready;
  const withPattern = orders.filter((o) => o.pattern !== undefined);
  const ledgers = withPattern.map((o) => reckon((patterns[o.pattern as number] as Prepared).bench, o));
  const text = ledgers.map((l) => summaryOf(l, '', { told: 'amounts', several: patterns.length > 1 })).join('\n');
  const without = orders.filter((o) => !withPattern.includes(o)).flatMap((o) => o.findings);
  const exit = without.length > 0 || ledgers.some((l) => l.status === 'refused') ? 1 : 0;
  return { fittings: ledgers.map(amountsOf), text, findings: [...findings, ...without], exit };
};

/** The ledger of an order as it would be, as far as can be told without writing anything. */
export const reckon = (bench: Bench, order: Order): Ledger => {
  const first = order.refused ? undefined : fitOrder(bench, order).plan;
  const halves = bench.unfold && first ? piecesToUnfold(bench.file, first) : [];
  if (halves.length > 0) return reckon({ ...withUnfolded(bench, halves).bench, unfold: false }, order);
  const plan: Plan | undefined = first;
  const findings = [...order.findings, ...(plan?.findings ?? [])];
  const status = order.refused || hasErrors(findings) ? 'refused' : 'done';
  return ledgerOf({ file: bench.file, before: bench.before, order, status, plan, findings });
};

const amountsOf = (ledger: Ledger): Amounts => ({
  fitting: ledger.fitting,
  status: ledger.status === 'refused' ? 'refused' : 'possible',
  shownIn: ledger.shownIn,
  measurements: ledger.measurements,
  alterations: ledger.alterations,
  findings: ledger.findings,
});
