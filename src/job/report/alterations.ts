import { alterationCalled } from '../../alterations/index.ts';
import {
  type Cell,
  cell,
  end,
  type Section,
  start,
  strongCell,
  type Table,
  type Under,
  words,
} from '../../report/content.ts';
import type { Ledger, LedgerAlteration, LedgerShare } from '../ledger.ts';
import { asRuled, ruled, ruledChange } from '../tape.ts';
import { list } from '../words.ts';
import { headed, type Telling } from './parts.ts';

/* What was altered: how much, how it was shared over the seams, how near each came to its customary most. */

export const alterationsSection = (ledger: Ledger, telling: Telling): Section[] => {
  const blocks = [
    ...ledger.alterations.map((a) => alterationBlock(a, telling)),
    ...(ledger.followed.length === 0
      ? []
      : [
          {
            kind: 'under',
            heading: 'What followed',
            blocks: [{ kind: 'points', items: ledger.followed.map((f) => asRuled(f.did)) }],
          } satisfies Under,
        ]),
  ];
  const heading = ledger.status === 'done' ? 'Alterations' : 'What was asked for';
  return blocks.length === 0 ? [] : [{ id: 'alterations', heading, blocks }];
};

/** 'waist +½ in (larger)'. */
export const alterationWords = ({ name, amount }: LedgerAlteration, { show }: Telling): string => {
  const card = alterationCalled(name)?.card;
  const way = amount === 0 || !card ? '' : ` (${amount > 0 ? card.plus : card.minus})`;
  return `${name} ${ruledChange(amount, show)}${way}`;
};

const alterationBlock = (alteration: LedgerAlteration, telling: Telling): Under => ({
  kind: 'under',
  heading: headed(alterationWords(alteration, telling)),
  blocks: [
    ...(alteration.explanation === '' ? [] : [words(headed(asRuled(alteration.explanation, amountsOf(alteration))))]),
    ...(alteration.shares.length === 0 ? [] : [shareTable(alteration, telling)]),
    ...(alteration.did.length === 0
      ? []
      : [{ kind: 'points', items: alteration.did.map((did) => asRuled(did, amountsOf(alteration))) } as const]),
  ],
});

const amountsOf = ({ amount, shares }: LedgerAlteration): number[] => [amount, ...shares.map((s) => s.amount)];

const shareTable = ({ name, shares }: LedgerAlteration, telling: Telling): Table => ({
  kind: 'table',
  caption: `How the ${name} is shared`,
  columns: [
    start('Place', 1.6),
    start('Pieces, seam edges', 2.4),
    end('Each', 0.9),
    end('Customary most', 1.1),
    start('Used', 1),
  ],
  rows: grouped(shares).map((group) => {
    const [first] = group as [LedgerShare];
    const layer = first.cloth === 'shell' ? '' : `, ${first.cloth}`;
    return [
      strongCell(headed(first.place) + layer),
      cell(piecesWords(group, telling)),
      cell(ruledChange(first.amount, telling.show)),
      cell(first.most === null ? 'none named' : ruled(first.most, telling.show)),
      usedCell(first),
    ];
  }),
});

/** Shares of one place and amount are one row. */
const grouped = (shares: readonly LedgerShare[]): LedgerShare[][] => {
  const groups = new Map<string, LedgerShare[]>();
  for (const share of shares) {
    const key = `${share.cloth}|${share.place}|${share.amount.toFixed(3)}|${share.most}`;
    groups.set(key, [...(groups.get(key) ?? []), share]);
  }
  return [...groups.values()];
};

const piecesWords = (shares: readonly LedgerShare[], { names }: Telling): string =>
  list([...new Set(shares.map((s) => `${names.get(s.piece) ?? s.piece}${s.counted > 1 ? ` × ${s.counted}` : ''}`))]);

const usedCell = ({ amount, most }: LedgerShare): Cell => {
  if (most === null || most === 0) return cell('–');
  const used = Math.abs(amount) / most;
  return { lines: [`${Math.round(used * 100)} %${used > 1.0001 ? ', past the limit' : ''}`], used };
};
