import type { Finding } from '../../finding.ts';
import { reckon } from '../amounts.ts';
import type { Bench, FittingOutcome } from '../fitting.ts';
import { carryOut } from '../fitting.ts';
import type { Ledger, Status } from '../ledger.ts';
import { ledgerOf } from '../ledger.ts';
import type { Order } from '../orders/orders.ts';
import { type Place, put } from './files.ts';
import type { ListedFile } from './manifest.ts';

/** What one thread is given for one fitting. Plain values only. */
export interface Job {
  readonly order: Order;
  /** Where its files go; absent when it is only reckoned. */
  readonly place?: Place | undefined;
}

/** What it gives back. Plain values only: the files are written. */
export interface Carried {
  readonly status: Status;
  readonly ledger: Ledger;
  readonly files: readonly ListedFile[];
  readonly fault?: unknown;
}

/** One fitting from order to files. */
export const carry = async (bench: Bench, { order, place }: Job): Promise<Carried> => {
  if (!place) {
    const ledger = reckon(bench, order);
    return { status: ledger.status, ledger, files: [] };
  }
  const { outcome, files } = await put(place, await carryOut(bench, order, place.folder));
  return { status: outcome.status, ledger: outcome.ledger, files, ...faultOf(outcome) };
};

/** Only errors cross from thread to thread whole. */
const faultOf = ({ fault }: FittingOutcome): { fault?: unknown } =>
  fault === undefined ? {} : { fault: fault instanceof Error ? fault : String(fault) };

/** A fitting that is not carried out, and why. */
export const notCarried = (bench: Bench, order: Order, status: Status, why: readonly Finding[]): Carried => ({
  status,
  ledger: ledgerOf({ file: bench.file, before: bench.before, order, status, findings: [...order.findings, ...why] }),
  files: [],
});
