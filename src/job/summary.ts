import type { LengthShown } from '../alterations/contract.ts';
import type { Finding } from '../finding.ts';
import { formatChange } from '../measurements/units.ts';
import type {
  Ledger,
  LedgerAlteration,
  LedgerEdge,
  LedgerGirth,
  LedgerMates,
  LedgerMeasurement,
  LedgerShare,
} from './ledger.ts';
import { EVEN_WITHIN } from './measures.ts';
import type { PieceNames } from './words.ts';
import { change, list, measured, pieceNames, sewnRow, shown } from './words.ts';

/** Changes smaller than this are not worth a dressmaker's attention, mm. */
const WORTH_TELLING = 0.1;

/** The whole run, or only its arithmetic. */
export type Told = 'run' | 'amounts';

interface Telling {
  readonly told?: Told;
  /** Whether the run has several patterns; then each fitting is told with its own. */
  readonly several?: boolean;
  readonly wouldWrite?: readonly string[];
}

/** What was done for one fitting, in plain words and the user's own units. Reads nothing but the ledger. */
export const summaryOf = (
  ledger: Ledger,
  folder: string,
  { told = 'run', several = false, wouldWrite = [] }: Telling = {},
): string => {
  const show = ledger.shownIn;
  const names = pieceNames(ledger.source.pieces);
  const sections: [string, readonly string[]][] = [
    ['Size', ledger.sizing ? [ledger.sizing.reason] : []],
    ['Needed', ledger.alterations.flatMap((a) => needed(a, names, show))],
    ['Done', ledger.status === 'done' ? done(ledger) : []],
    ['Measures', measures(ledger, names, show)],
    ['Sews', ledger.mates.map((m) => mates(m, names, show))],
    ['Look at', looksAt(ledger, names)],
    ['To write', wouldWrite],
    ['Written', ledger.outputs.map((o) => `${folder}/${o.file}`)],
  ];
  return [heading(ledger, told, several), ...sections.flatMap(([title, lines]) => block(title, lines)), ''].join('\n');
};

/** What a person should look at, and where; what is the matter with several places alike has one remedy. */
const looksAt = ({ findings }: Ledger, names: PieceNames): string[] => {
  const remedies = new Map<string, string[]>();
  for (const finding of findings) {
    if (finding.level === 'note') continue;
    const told = remedies.get(finding.try) ?? [];
    const line = `${placeOf(finding, names)}${finding.message}`;
    remedies.set(finding.try, told.includes(line) ? told : [...told, line]);
  }
  return [...remedies].flatMap(([remedy, lines]) => [...lines, `→ ${remedy}`]);
};

/** 'Bodice front, armhole: ', unless the message names the piece itself. */
const placeOf = ({ where, message }: Finding, names: PieceNames): string => {
  const piece = where.piece === undefined ? '' : (names.get(where.piece) ?? where.piece);
  if (piece !== '' && message.includes(piece)) return '';
  const edge = where.edge !== undefined && where.piece !== undefined ? where.edge : '';
  const place = [piece, edge].filter((part) => part !== '').join(', ');
  return place === '' ? '' : `${place}: `;
};

/** What the alterations did, then what followed. */
const done = (ledger: Ledger): string[] => [
  ...ledger.alterations.flatMap((a) => a.did),
  ...ledger.followed.map((f) => f.did),
];

const heading = (ledger: Ledger, told: Told, several: boolean): string => {
  const person = ledger.wearer && ledger.wearer !== ledger.fitting ? ` (${ledger.wearer})` : '';
  const pattern = several ? `, ${ledger.source.file}` : '';
  return `${ledger.fitting}${person}${pattern}: ${statusWords(ledger, told)}`;
};

const statusWords = (ledger: Ledger, told: Told): string => {
  if (ledger.status === 'done') {
    if (ledger.alterations.length + ledger.followed.length === 0) return 'nothing to alter';
    return told === 'amounts' ? 'can be done' : 'done';
  }
  const none = told === 'amounts' ? '' : ', no pattern written';
  return `${ledger.status === 'refused' ? 'REFUSED' : 'FAILED'}${none}`;
};

const block = (title: string, lines: readonly string[]): string[] =>
  lines.map((line, i) => `  ${(i === 0 ? title : '').padEnd(9)} ${line}`);

/** The arithmetic of one alteration, then what each place takes of it, piece by piece. */
const needed = (alteration: LedgerAlteration, names: PieceNames, show: LengthShown): string[] => {
  const groups = new Map<string, LedgerShare[]>();
  for (const share of alteration.shares) {
    const key = `${share.cloth}|${share.place}|${share.amount.toFixed(3)}`;
    groups.set(key, [...(groups.get(key) ?? []), share]);
  }
  return [
    `${alteration.name}: ${alteration.explanation || formatChange(alteration.amount, show)}`,
    ...[...groups.values()].map((shares) => `  ${sharesText(shares, names, show)}`),
  ];
};

/** `side edge at the waist +¼ in: front × 2 and back × 2 (customary most ½ in)` */
const sharesText = (shares: readonly LedgerShare[], names: PieceNames, show: LengthShown): string => {
  const [first] = shares as [LedgerShare];
  const where = [
    ...new Set(shares.map((s) => `${names.get(s.piece) ?? s.piece}${s.counted > 1 ? ` × ${s.counted}` : ''}`)),
  ];
  const layer = first.cloth === 'shell' || where.every((w) => w.includes(`(${first.cloth})`)) ? '' : `, ${first.cloth}`;
  const most = first.most === null ? '' : ` (customary most ${shown(first.most, show)})`;
  return `${first.place} ${formatChange(first.amount, show)}: ${list(where)}${layer}${most}`;
};

const measures = (ledger: Ledger, names: PieceNames, show: LengthShown): string[] => [
  ...ledger.girths.map((g) => girth(g, new Set(ledger.girths.map((o) => o.tier)).size > 1, show)),
  ...ledger.measurements.flatMap((m) => (ledger.girths.length > 0 && GIRTHS.has(m.measurement) ? [] : taken(m, show))),
  ...edgesByPiece(ledger.edges, names, show),
];

/** What the garment measures for a measurement. */
const taken = ({ measurement, taken: places }: LedgerMeasurement, show: LengthShown): string[] =>
  places.flatMap(({ of, before, after }) =>
    after === null
      ? []
      : [`${measurement} (${of}): ${fromTo(before, after, show)} (${formatChange(after - before, show)})`],
  );
/** Measurements that the girths of the list tell already, where there are any. */
const GIRTHS = new Set(['waist girth', 'hip girth']);

const girth = (g: LedgerGirth, several: boolean, show: LengthShown): string => {
  const tier = several ? ` of the ${g.tier}` : '';
  const cloth = g.cloth === 'shell' ? '' : ` (${g.cloth})`;
  return `${g.level}${tier}${cloth}, sewn up: ${fromTo(g.before, g.after, show)} (${change(g.after - g.before, show)})`;
};

const edgesByPiece = (edges: readonly LedgerEdge[], names: PieceNames, show: LengthShown): string[] => {
  const changed = edges.filter((e) => Math.abs(e.after - e.before) >= WORTH_TELLING);
  return [...new Set(changed.map((e) => e.piece))].map((piece) => {
    const own = changed.filter((e) => e.piece === piece);
    return `${names.get(piece) ?? piece}: ${own.map((e) => `${e.edge} ${fromTo(e.before, e.after, show)}`).join(', ')}`;
  });
};

const mates = (m: LedgerMates, names: PieceNames, show: LengthShown): string =>
  `${sewnRow(m.one, names)} to ${sewnRow(m.other, names)}: ${evenness(m, show)}`;

/** How two rows that are sewn together compare: `even`, `the first longer by 1 in (as before)`. */
export const evenness = (m: LedgerMates, show: LengthShown, told: typeof measured = measured): string => {
  const was = Math.abs(m.differenceBefore);
  const is = Math.abs(m.differenceAfter);
  const before = Math.abs(m.differenceAfter - m.differenceBefore) < 0.5 ? 'as before' : `before: ${told(was, show)}`;
  if (is <= EVEN_WITHIN) return 'even';
  return `${m.differenceAfter > 0 ? 'the first' : 'the second'} longer by ${told(is, show)} (${before})`;
};

const fromTo = (before: number, after: number, show: LengthShown): string =>
  Math.abs(after - before) < WORTH_TELLING
    ? measured(after, show)
    : `${measured(before, show)} → ${measured(after, show)}`;

export interface RunCounts {
  readonly done: number;
  readonly refused: number;
  readonly failed: number;
  /** How many of these an earlier run had done. */
  readonly kept: number;
  /** How many were not begun, since the run stopped at the first that was refused or failed. */
  readonly left: number;
  /** How many rows of the table were left out, being for patterns that were not given. */
  readonly elsewhere: number;
}

/** The line that ends a run. */
export const runLine = (
  { done, refused, failed, kept, left, elsewhere }: RunCounts,
  out: string,
  dry = false,
): string => {
  const parts = [
    `${done} ${dry ? 'can be done' : 'done'}`,
    ...(refused > 0 ? [`${refused} refused`] : []),
    ...(failed > 0 ? [`${failed} failed`] : []),
  ];
  const again = kept > 0 && refused + failed > 0 ? ' (--retry-failed does again what was refused or failed)' : '';
  const earlier = kept > 0 ? `; ${kept} of them by an earlier run, and kept as they were${again}` : '';
  const stopped = left > 0 ? ` Stopped there: ${left} not begun; --retry-failed goes on.` : '';
  const others = elsewhere > 0 ? ` ${leftOut(elsewhere)}.` : '';
  const where = dry ? 'Nothing was written.' : `Everything is in ${out}.`;
  return `${parts.join(', ')}${earlier}.${stopped}${others} ${where}`;
};

/** `2 rows are for patterns that were not given, and were left out` */
export const leftOut = (rows: number): string =>
  rows === 1
    ? '1 row is for a pattern that was not given, and was left out'
    : `${rows} rows are for patterns that were not given, and were left out`;
