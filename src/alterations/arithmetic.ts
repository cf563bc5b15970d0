import { formatLength } from '../measurements/units.ts';
import type { Asked } from './asked.ts';
import type { LengthShown, Origin } from './contract.ts';
import { signed } from './shares.ts';

/** Amounts that differ by less are the same amount, mm: less than a pencil line. */
const ALIKE = 0.05;

/** How an amount comes about, in one line that a dressmaker follows. */
export const arithmetic = ({ origin, change, amount, why }: Asked, show: LengthShown): string => {
  const needed = neededIn(origin);
  if (needed === undefined || change === undefined) return sum(origin, amount, show);
  const given = needed - change.amount;
  const others = Math.abs(given) > ALIKE ? [`other alterations give ${signed(given, show)} of it`] : [];
  const apart = Math.abs(Math.abs(amount) - Math.abs(change.amount)) > ALIKE;
  const here = apart || others.length > 0 ? [`${signed(amount, show)} here${apart && why ? `, ${why}` : ''}`] : [];
  return [sum(origin, needed, show), ...others, ...here].join('; ');
};

const neededIn = (origin: Origin): number | undefined => {
  if (origin.kind === 'direct') return undefined;
  return origin.kind === 'ease' ? origin.wearer + origin.ease - origin.pattern : origin.wearer - origin.draftedFor;
};

const sum = (origin: Origin, amount: number, show: LengthShown): string => {
  const long = (mm: number): string => formatLength(mm, show);
  if (origin.kind === 'direct') return `asked for: ${origin.column} ${signed(amount, show)}`;
  if (origin.kind === 'ease') {
    const rule = origin.rule === undefined ? '' : ` (${origin.rule})`;
    return `${origin.measurement} ${long(origin.wearer)} + ease ${long(origin.ease)}${rule} − ${long(origin.pattern)} on the pattern = ${signed(amount, show)}`;
  }
  return `${origin.measurement} ${long(origin.wearer)} − ${long(origin.draftedFor)} = ${signed(amount, show)}`;
};
