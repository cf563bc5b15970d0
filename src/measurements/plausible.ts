import type { Finding } from '../finding.ts';
import type { Body, Doubt } from './plausible/body.ts';
import { childFinding, childOf } from './plausible/child.ts';
import { exchangeDoubts } from './plausible/exchanges.ts';
import { orderDoubts } from './plausible/order.ts';
import { proportionDoubts } from './plausible/proportions.ts';
import { rangeDoubts } from './plausible/range.ts';
import { relatedDoubts } from './plausible/related.ts';
import { wholeRowDoubts } from './plausible/whole-row.ts';

export type { Body } from './plausible/body.ts';

/**
 * Findings about a body that cannot be, or hardly can be, as written: a waist of 27 cm (inches meant), waist and hip
 * exchanged, a slipped decimal, a value far from the others of the same body. Each says where it stands and what was
 * likely meant. An error where another unit is certainly meant or nobody is built so, else a warning; what a person has
 * checked is a note, but for what is impossible.
 *
 * The coarse rules go first, and a measurement that one of them asks about is not asked about again.
 */
export const checkBody = (body: Body): readonly Finding[] => {
  const child = childOf(body);
  const rules = child === undefined ? GROWN : CHILD;
  const doubts: Doubt[] = [];
  for (const rule of rules) {
    const asked = new Set(doubts.flatMap((d) => d.about));
    doubts.push(...rule(body, asked));
  }
  const told = doubts.map((doubt) => (isOverruled(doubt, body) ? overruled(doubt.finding) : doubt.finding));
  return child === undefined ? told : [...told, childFinding(child, body)];
};

type Rule = (body: Body, asked: ReadonlySet<string>) => readonly Doubt[];
const GROWN: readonly Rule[] = [
  wholeRowDoubts,
  exchangeDoubts,
  rangeDoubts,
  orderDoubts,
  proportionDoubts,
  relatedDoubts,
];
/** The range of adults says nothing of a child, nor do the girths of grown bodies. */
const CHILD: readonly Rule[] = [orderDoubts, proportionDoubts];

const isOverruled = ({ about, finding }: Doubt, { checked }: Body): boolean =>
  finding.code !== 'measure-impossible' && checked !== undefined && about.some(checked);

const overruled = (finding: Finding): Finding => ({
  ...finding,
  level: 'note',
  try: 'It is marked as checked, and taken as it stands.',
});
