import { formatLength } from '../measurements/units.ts';
import type { Asked, Change } from './asked.ts';
import type { LengthShown, Origin } from './contract.ts';
import { signed } from './shares.ts';

/** Amounts that differ by less are the same amount, mm: less than a pencil line. */
const ALIKE = 0.05;

/** What of a measurement is worth telling that others gave, mm: 1/64 in. */
const SEEN = 25.4 / 64;

/** How an amount comes about, in one line that a dressmaker follows. */
export const arithmetic = (asked: Asked, show: LengthShown): string => {
  const { origin, change, amount } = asked;
  const needed = neededIn(origin);
  if (needed === undefined || change === undefined) return sum(origin, amount, show);
  return [sum(origin, needed, show), ...othersTold(change, show), ...hereTold(asked, change, show)].join('; ');
};

/** 'back width changes it by +¼ in, neck by −1/16 in'; what is hardly seen is left out. */
const othersTold = ({ effects }: Change, show: LengthShown): string[] => {
  const seen = (effects?.others ?? []).filter((o) => Math.abs(o.mm) >= SEEN);
  const each = seen.map(({ by, mm }, i) => `${by} ${i === 0 ? 'changes it ' : ''}by ${signed(mm, show)}`);
  return each.length === 0 ? [] : [each.join(', ')];
};

/** What this alteration takes, where that is another amount than is needed: '+½ in here, its part above the elbow'. */
const hereTold = ({ amount, why }: Asked, change: Change, show: LengthShown): string[] => {
  const isPart = Math.abs(Math.abs(amount) - Math.abs(change.amount)) > ALIKE;
  if (!isPart && Math.abs(change.amount - change.needed) <= ALIKE) return [];
  const { effects } = change;
  const short = !isPart && effects && Math.abs(effects.own - change.amount) >= SEEN;
  const here = `${signed(amount, show)} here`;
  return [`${here}${short ? ` to measure ${signed(effects.own, show)}` : ''}${isPart && why ? `, ${why}` : ''}`];
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
