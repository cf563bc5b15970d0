import type { Finding } from '../finding.ts';
import type { Division } from './alteration.ts';
import type { Asked } from './asked.ts';
import type { LengthShown } from './contract.ts';
import { NOTHING, signed } from './shares.ts';

/** Past a limit is what the place comes to in the end, not what makes up there for other alterations. */
export const heldAgainstLimits = (
  { amount, net }: Asked,
  division: Division,
  divide: (amount: number) => Division,
  show: LengthShown,
): { readonly findings: readonly Finding[]; readonly told: readonly string[] } => {
  const others = division.findings.filter((f) => !isOfLimit(f));
  if (others.length === division.findings.length) return { findings: others, told: [] };
  const inTheEnd = net !== undefined && Math.abs(net) < Math.abs(amount) ? net : amount;
  const held = inTheEnd === amount ? division : divide(inTheEnd);
  const past = held.findings.filter(isOfLimit).map((f) => withMost(f, inTheEnd, held, show));
  const within = `in the end the place comes to ${signed(inTheEnd, show)}, within its customary most`;
  return { findings: [...others, ...past], told: past.length > 0 ? [] : [within] };
};

/**
 * The refusal with what helps: how much can be done the same way, and, for whoever has to go further, the trial garment
 * (common practice).
 */
const withMost = (finding: Finding, amount: number, { shares }: Division, show: LengthShown): Finding => {
  if (finding.level !== 'error') return finding;
  const [one] = shares;
  const even = one && shares.every((s) => s.place === one.place && Math.abs(s.amount - one.amount) < NOTHING);
  const most = even && one.amount !== 0 ? (amount * one.most) / Math.abs(one.amount) : undefined;
  const sentences = [
    ...(most === undefined ? [] : [`At most ${signed(most, show)} can be done so.`]),
    finding.try,
    ...(finding.try.includes(BEYOND) ? [] : [`Or make a trial garment first and ask for it with ${BEYOND}.`]),
  ];
  return { ...finding, try: sentences.join(' ') };
};

const BEYOND = '--beyond-limits';

const isOfLimit = ({ code }: Finding): boolean => code === 'plan-past-limit' || code === 'plan-beyond-limit';
