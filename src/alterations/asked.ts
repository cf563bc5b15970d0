import type { Aside, Origin } from './contract.ts';

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
  /**
   * What the place comes to differ by in the end, mm, where part of the amount only makes up for what other alterations
   * take there: the customary most is held against it.
   */
  readonly net?: number;
  /** What was asked for directly of the same alteration, on top of what the measurement needs; it is in the amount. */
  readonly besides?: { readonly column: string; readonly amount: number };
}

/** What one measurement asks of the pattern. */
export interface Change {
  readonly measurement: string;
  /** mm, signed: what the pattern needs, less what other alterations give. */
  readonly amount: number;
  /** mm, signed: what the pattern needs. */
  readonly needed: number;
  readonly origin: Origin;
  /** What gave the measurement how much of that, once it has been tried on paper. */
  readonly effects?: Effects;
  /** What was asked for directly adds to it in single places. */
  readonly asides?: readonly Aside[];
}

/** What the alterations gave one measurement, mm, as measured on the paper. */
export interface Effects {
  /** Those that it called for itself. */
  readonly own: number;
  /** Others, in the order of doing. */
  readonly others: readonly { readonly by: string; readonly mm: number }[];
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
