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
  const { origin, change, amount, besides } = asked;
  const needed = neededIn(origin);
  if (needed === undefined || change === undefined) return sum(origin, amount, show);
  const own = amount - (besides?.amount ?? 0);
  return [
    sum(origin, needed, show),
    ...othersTold(change, show),
    ...hereTold({ ...asked, amount: own }, change, show),
    ...asidesTold(change, show),
    ...(besides ? [`asked for besides: ${besides.column} ${signed(besides.amount, show)}`] : []),
  ].join('; ');
};

/** 'back width changes it by +¼ in, neck by −1/16 in'; what is hardly seen is left out. */
const othersTold = ({ effects }: Change, show: LengthShown): string[] => {
  const others = (effects?.others ?? []).filter((o) => Math.abs(o.mm) > ALIKE);
  const seen = others.filter((o) => Math.abs(o.mm) >= SEEN);
  const most = others.toSorted((a, b) => Math.abs(b.mm) - Math.abs(a.mm)).slice(0, 1);
  const each = (seen.length > 0 ? seen : most).map(
    ({ by, mm }, i) => `${by} ${i === 0 ? 'changes it ' : ''}by ${signed(mm, show)}`,
  );
  return each.length === 0 ? [] : [each.join(', ')];
};

/** 'abdomen, asked for directly, comes on top: +½ in at Skirt front'. */
const asidesTold = ({ asides = [] }: Change, show: LengthShown): string[] =>
  asides
    .filter((a) => Math.abs(a.mm) >= SEEN)
    .map(({ by, of, mm }) => `${by}, asked for directly, comes on top: ${signed(mm, show)} at ${of}`);

/** What this alteration takes, where that is another amount than is needed: '+½ in here, its part above the elbow'. */
const hereTold = ({ amount, why, part }: Asked, change: Change, show: LengthShown): string[] => {
  const isPart = Math.abs(Math.abs(amount) - Math.abs(change.amount)) > ALIKE;
  const told = why && (isPart || part === 0) ? `, ${why}` : '';
  if (!isPart && told === '' && Math.abs(change.amount - change.needed) <= ALIKE) return [];
  const { effects } = change;
  const short = !isPart && effects && Math.abs(effects.own - change.amount) >= SEEN;
  return [`${signed(amount, show)} here${short ? ` to measure ${signed(effects.own, show)}` : ''}${told}`];
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
    const ease = origin.ease === 0 ? '' : ` + ease ${long(origin.ease)}${rule}`;
    return `${origin.measurement} ${long(origin.wearer)}${ease} − ${long(origin.pattern)} on the pattern = ${signed(amount, show)}`;
  }
  return `${origin.measurement} ${long(origin.wearer)} − ${long(origin.draftedFor)} = ${signed(amount, show)}`;
};
