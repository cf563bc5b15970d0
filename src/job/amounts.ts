import type { Plan } from '../alterations/contract.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Exit } from './exits.ts';
import type { Bench } from './fitting.ts';
import { fitOrder } from './fitting.ts';
import type { Ledger } from './ledger.ts';
import { ledgerOf } from './ledger.ts';
import { piecesToUnfold, withUnfolded } from './opened.ts';
import type { Order } from './orders.ts';
import type { FittingRequest } from './prepare.ts';
import { prepare } from './prepare.ts';
import { summaryOf } from './summary.ts';

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
  const ledgers = ready.orders.map((order) => reckon(ready.bench, order));
  const text = ledgers.map((l) => summaryOf(l, '', 'amounts')).join('\n');
  const exit = ledgers.some((l) => l.status === 'refused') ? 1 : 0;
  return { fittings: ledgers.map(amountsOf), text, findings, exit };
};

const reckon = (bench: Bench, order: Order): Ledger => {
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
