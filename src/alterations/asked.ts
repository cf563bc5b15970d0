import type { Finding } from '../finding.ts';
import type { Origin } from './contract.ts';

/** One alteration asked for, and where the amount came from. */
export interface Asked {
  readonly alteration: string;
  /** mm, signed. */
  readonly amount: number;
  readonly origin: Origin;
  readonly options?: Readonly<Record<string, string>>;
}

export const notDraftedFor = (measurement: string): Finding => ({
  code: 'plan-not-drafted-for',
  level: 'error',
  where: { cell: measurement },
  message: `The pattern does not say which ${measurement} it was drafted for.`,
  try: `Give it with --drafted '${measurement}=…', or under "drafted for" in the pattern sheet.`,
});
