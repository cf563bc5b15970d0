import type { Origin } from './contract.ts';

/** One alteration asked for, and where the amount came from. */
export interface Asked {
  readonly alteration: string;
  /** mm, signed. */
  readonly amount: number;
  readonly origin: Origin;
  readonly options?: Readonly<Record<string, string>>;
  /** The change it belongs to. */
  readonly change?: Change;
  /** Amount of the alteration for each millimetre of the measurement; 1 when left out, 0 where it does not show there. */
  readonly part?: number;
  /** Why it takes another amount than the change is. */
  readonly why?: string;
}

/** What one measurement asks of the pattern. */
export interface Change {
  readonly measurement: string;
  /** mm, signed: what the pattern needs, less what other alterations give. */
  readonly amount: number;
  /** mm, signed: what the pattern needs. */
  readonly needed: number;
  readonly origin: Origin;
}

export const askedBy = (change: Change, alteration: string, more: Partial<Asked> = {}): Asked => ({
  alteration,
  amount: change.amount,
  origin: change.origin,
  change,
  ...more,
});

/** Measurements given, by name. */
export type Changes = ReadonlyMap<string, Change>;

/** What changes call for, together. */
export interface Chosen {
  readonly asked: readonly Asked[];
  /** Measurements that an alteration was chosen for; of those left over the others decide. */
  readonly decided: readonly string[];
}

export const chosen = (asked: readonly Asked[], ...decided: (Change | undefined)[]): Chosen => ({
  asked,
  decided: decided.flatMap((c) => (c ? [c.measurement] : [])),
});
