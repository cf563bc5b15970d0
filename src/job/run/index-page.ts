import { join } from 'node:path';
import {
  type Cell,
  cell,
  end,
  type Row,
  type Section,
  start,
  strongCell,
  type Table,
  words,
} from '../../report/content.ts';
import type { ListContent } from '../../report/list-content.ts';
import { jobCodes } from '../codes.ts';
import { type Ledger, type LedgerPiece, madeAt, type Status } from '../ledger.ts';
import { madeBy, toLookAt } from '../report/fitting.ts';
import { headed, linkTo } from '../report/parts.ts';
import { spoken } from '../spoken.ts';
import { exists } from '../store.ts';
import { leftOut } from '../summary.ts';
import { inSixteenths } from '../tape.ts';
import { version } from '../version.ts';
import { plural } from '../words.ts';
import { ledgerIn } from './files.ts';
import type { ManifestTable } from './manifest.ts';

/* The list of a run's fittings, made from its manifest and the ledgers that lie in its folders, and nothing else. */

/** A line of the manifest, as far as the list needs it. */
export interface Listed {
  readonly fitting: string;
  readonly status: string;
  /** Within the run's folder, with `/`; null for one that got none. */
  readonly folder: string | null;
  /** File name of the pattern; null where it is not known which is meant. */
  readonly pattern?: string | null;
  /** False for one that its table no longer asks for. */
  readonly asked?: boolean;
  /** Codes of the findings that refused it. */
  readonly reasons?: readonly string[];
  /** The table that it stands in. */
  readonly table?: ManifestTable | null;
}

/** @param out folder of the run; `page` the name of a fitting's page, which the list links to */
export const indexContent = (out: string, lines: Iterable<Listed>, page: string): ListContent => {
  const listed = [...lines];
  const all = listed.filter((line) => line.asked !== false);
  const left = listed.filter((line) => line.asked === false);
  const cut: Totals = new Map();
  const count = (status: Status): number => all.filter((l) => l.status === status).length;
  const counts = (['done', 'refused', 'failed'] as const).map((s) => [s, count(s)] as const).filter(([, n]) => n > 0);
  const wrong = count('refused') + count('failed');
  return {
    kicker: 'Run',
    heading: 'Fittings',
    title: 'Fittings',
    facts: [],
    verdict: {
      words: counts.map(([status, n]) => `${n} ${status}`).join(', ') || 'Nothing done yet',
      tone: wrong === 0 ? 'good' : 'bad',
    },
    lead: [
      `${plural(all.length, 'fitting')}${wrong === 0 ? '' : `; ${plural(wrong, 'calls', 'call')} for another look`}.`,
      ...elsewhereIn(all),
    ],
    list: { id: 'fittings', heading: 'In the order of the table', caption: 'Fittings' },
    columns: [
      start('Fitting', 2),
      end('No.', 0.4),
      start('Pattern, wearer, note', 1.9),
      start('Result', 1.1),
      start('Altered, or why not', 2),
      end('To look at', 0.7),
      end('Cloth pieces', 0.8),
    ],
    rows: rowsOf(out, all, page, cut),
    after: () => [...totalsSection(cut), ...leftSection(left)],
    foot: [madeBy({ program: { name: 'retrue', version }, ...madeAt() })],
  };
};

/** Rows that each run left out, which have no line of their own. */
const elsewhereIn = (lines: readonly Listed[]): string[] => {
  const runs = new Map(lines.flatMap(({ table }) => (table ? [[table.rows, table] as const] : [])));
  return [...runs.values()].flatMap(({ file, elsewhere = 0 }) =>
    elsewhere > 0 ? [`Of ${file} ${leftOut(elsewhere)}.`] : [],
  );
};

/** What earlier runs did of a table that no longer asks for it. It is not counted. */
const leftSection = (left: readonly Listed[]): Section[] => {
  if (left.length === 0) return [];
  const says = 'An earlier run of the table did these. It no longer asks for them: they are not counted above.';
  const table: Table = {
    kind: 'table',
    caption: 'Not to be cut',
    columns: [start('Fitting', 2), start('Pattern', 2), start('What was done', 1.2), start('Folder', 2)],
    rows: left.map((line) => [
      strongCell(line.fitting),
      cell(line.pattern ?? '–'),
      cell(RESULTS[line.status] ?? line.status),
      cell(line.folder ?? '–'),
    ]),
  };
  return [{ id: 'left', heading: 'No longer in the table', blocks: [words(says), table] }];
};

/** Pieces of cloth by pattern, cloth and pattern piece: a waistband of one pattern is not that of another. */
type Totals = Map<string, Total>;
interface Total {
  readonly file: string;
  readonly cloth: string;
  readonly pieces: Map<string, number>;
}

async function* rowsOf(out: string, lines: readonly Listed[], page: string, cut: Totals): AsyncGenerator<Row> {
  let number = 0;
  for (const line of lines) {
    number += 1;
    const ledger = line.folder === null ? undefined : await ledgerIn(join(out, line.folder));
    if (ledger?.status === 'done') addUp(cut, ledger.source.file, ledger.source.pieces);
    const link = `${line.folder}/${page}`;
    const there = line.folder !== null && (await exists(join(out, link)));
    yield rowOf(number, line, ledger, there ? link : undefined);
  }
}

/** Which pattern, and which size of it. */
const garmentOf = ({ pattern }: Listed, ledger: Ledger | undefined): string[] => {
  const size = ledger?.source.size ? `, size ${ledger.source.size}` : '';
  return pattern ? [`${pattern}${size}`] : [];
};

const RESULTS: Readonly<Record<string, string>> = { done: 'done', refused: 'REFUSED', failed: 'FAILED' };

const rowOf = (number: number, line: Listed, ledger: Ledger | undefined, link: string | undefined): Row => {
  const name: Cell = {
    ...strongCell(line.fitting),
    ...(link === undefined ? {} : { link: linkTo(link) }),
  };
  const person = ledger ? [ledger.wearer === line.fitting ? '' : ledger.wearer, ledger.note] : [];
  const looks = ledger ? toLookAt(ledger).length : undefined;
  return [
    name,
    cell(String(number)),
    cell(...garmentOf(line, ledger), ...person.filter((p) => p !== '')),
    (line.status === 'done' ? cell : strongCell)(RESULTS[line.status] ?? line.status),
    cell((line.status === 'done' ? ledger?.alterations.map((a) => a.name).join(', ') : whyNot(line, ledger)) || '–'),
    (looks ? strongCell : cell)(looks === undefined ? '–' : String(looks)),
    cell(ledger?.status === 'done' ? String(clothPieces(ledger.source.pieces)) : '–'),
  ];
};

/** The first reason; of a fitting that has no ledger, what its code means. */
const whyNot = ({ reasons = [] }: Listed, ledger: Ledger | undefined): string | undefined =>
  pageWords(ledger?.findings.find((f) => f.level === 'error')?.message) ??
  jobCodes[reasons[0] ?? '']?.means ??
  reasons[0];

const pageWords = (message: string | undefined): string | undefined =>
  message === undefined ? undefined : spoken(inSixteenths(message));

/** Ledgers of earlier versions do not say how often a piece is cut. */
type Cut = Partial<Pick<LedgerPiece, 'cut' | 'cloth'>>;

const clothPieces = (pieces: readonly Cut[]): number => pieces.reduce((sum, p) => sum + (p.cut?.count ?? 0), 0);

const addUp = (
  cut: Totals,
  file: string,
  pieces: readonly (Cut & { readonly id: string; readonly name: string })[],
): void => {
  for (const { id, name, cloth, cut: how } of pieces) {
    if (cloth === undefined || how === undefined) continue;
    const own = cut.get(`${file}\n${cloth}`) ?? { file, cloth, pieces: new Map<string, number>() };
    own.pieces.set(name || id, (own.pieces.get(name || id) ?? 0) + how.count);
    cut.set(`${file}\n${cloth}`, own);
  }
};

const totalsSection = (cut: Totals): Section[] => {
  if (cut.size === 0) return [];
  const several = new Set([...cut.values()].map((t) => t.file)).size > 1;
  const blocks = [...cut.values()].map(({ file, cloth, pieces }) => {
    const total = [...pieces.values()].reduce((a, b) => a + b, 0);
    return {
      kind: 'table' as const,
      caption: `${several ? `${file}, ${cloth}` : headed(cloth)}: ${plural(total, 'piece')} of cloth`,
      columns: [start('Pattern piece', 3), end('To cut', 1), start('Cut', 3)],
      rows: [...pieces].map(([name, count]) => [
        strongCell(name),
        cell(String(count)),
        { lines: [], boxes: ['all cut'] },
      ]),
    };
  });
  const says = 'Added up over the fittings that are done; the pages of the fittings list them one by one.';
  return [{ id: 'to-cut', heading: 'To cut in all', blocks: [words(says), ...blocks] }];
};
