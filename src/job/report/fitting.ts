import type { Finding } from '../../finding.ts';
import { edgeWords } from '../../picture/piece-figure.ts';
import type { Content, Fact, Notice, Section, Verdict } from '../../report/content.ts';
import { cell, end, start, strongCell } from '../../report/content.ts';
import type { Ledger } from '../ledger.ts';
import { spoken, typedIn } from '../spoken.ts';
import { inSixteenths } from '../tape.ts';
import { list, plural } from '../words.ts';
import { alterationsSection, alterationWords } from './alterations.ts';
import { cautionsSection } from './cautions.ts';
import { cuttingSection } from './cutting.ts';
import { matesSection } from './mates.ts';
import { measuresSection } from './measures.ts';
import { headed, linkTo, type ReportParts, type Telling, tellingOf, upTo } from './parts.ts';
import { piecesSection } from './pieces.ts';

/** Everything that is known of one fitting, as a page says it to people who never saw the program. */
export const fittingContent = (parts: ReportParts): Content => {
  const { ledger } = parts;
  const telling = tellingOf(ledger);
  return {
    kicker: 'Fitting',
    heading: ledger.fitting,
    title: `${ledger.fitting}: ${ledger.source.style || ledger.source.file}`,
    facts: factsOf(ledger),
    verdict: verdictOf(ledger),
    lead: leadOf(ledger, telling),
    sections: [
      ...noticeSections(ledger, telling),
      ...measuresSection(ledger, telling),
      ...alterationsSection(ledger, telling),
      ...piecesSection(parts, telling),
      ...matesSection(parts, telling),
      ...cuttingSection(parts),
      cautionsSection,
      ...filesSection(ledger),
    ],
    foot: [madeBy(ledger), `Made of the pattern file ${ledger.source.file}.`],
    up: { href: upTo(parts.folder, 'index.html'), words: 'All fittings of this run' },
  };
};

export const madeBy = ({ program, made }: Pick<Ledger, 'program' | 'made'>): string =>
  `Made by ${program.name} ${program.version}${made === undefined ? '' : `, ${made.slice(0, 10)}`}.`;

const factsOf = ({ wearer, fitting, note, source, made }: Ledger): Fact[] => {
  const facts: [string, string][] = [
    ['Wearer', wearer === fitting ? '' : wearer],
    ['Pattern', source.style || source.file],
    ['File', source.style ? source.file : ''],
    ['Size', source.size],
    ['View', source.view ?? ''],
    ['Note', note],
    ['Date', made?.slice(0, 10) ?? ''],
  ];
  return facts.filter(([, says]) => says !== '').map(([term, says]) => ({ term, says }));
};

export const verdictOf = ({ status, alterations }: Ledger): Verdict => {
  if (status === 'refused') return { words: 'Refused: no pattern was written', tone: 'bad' };
  if (status === 'failed') return { words: 'Failed: no pattern was written', tone: 'bad' };
  return alterations.length === 0
    ? { words: 'Nothing to alter', tone: 'plain' }
    : { words: 'Altered and written', tone: 'good' };
};

const leadOf = (ledger: Ledger, telling: Telling): string[] => {
  if (ledger.status !== 'done') return [];
  const warnings = toLookAt(ledger).length;
  const look =
    warnings === 0
      ? 'Nothing calls for a look before cutting.'
      : `${headed(plural(warnings, 'thing'))} to look at before cutting.`;
  if (ledger.alterations.length === 0) return [`The pattern fits this wearer as it was drafted. ${look}`];
  return [`${headed(list(ledger.alterations.map((a) => alterationWords(a, telling))))}. ${look}`];
};

/** What a person should read before cutting. */
export const toLookAt = (ledger: Pick<Ledger, 'findings'>): Finding[] =>
  ledger.findings.filter((f) => f.level !== 'note');

const noticeSections = (ledger: Ledger, telling: Telling): Section[] => {
  const section = (id: string, heading: string, findings: readonly Finding[]): Section[] =>
    findings.length === 0
      ? []
      : [{ id, heading, blocks: [{ kind: 'notices', items: findings.map((f) => noticeOf(f, telling)) }] }];
  const refused = ledger.status !== 'done';
  const errors = ledger.findings.filter((f) => f.level === 'error');
  return [
    ...(refused ? section('why', ledger.status === 'refused' ? 'Why it was refused' : 'Why it failed', errors) : []),
    ...section(
      'look-at',
      refused ? 'Look at too' : 'Look at before cutting',
      toLookAt(ledger).filter((f) => !(refused && f.level === 'error')),
    ),
  ];
};

const noticeOf = ({ code, level, where, message, try: remedy }: Finding, { names }: Telling): Notice => {
  const places = [
    where.piece === undefined ? '' : (names.get(where.piece) ?? where.piece),
    where.edge === undefined ? '' : edgeWords(where.edge),
    where.alteration ?? '',
    where.address === undefined ? '' : `${where.file ?? 'table'}, cell ${where.address}`,
    where.cell === undefined ? '' : `column “${where.cell}”`,
  ];
  const said = (text: string): string => spoken(inSixteenths(text));
  return {
    level,
    where: places.filter((p) => p !== '').join(', '),
    message: said(message),
    try: said(remedy),
    code: [code, ...typedIn(`${message} ${remedy}`)].join(' · '),
  };
};

const filesSection = ({ outputs }: Ledger): Section[] => [
  {
    id: 'files',
    heading: 'Files of this fitting',
    blocks: [
      {
        kind: 'table',
        caption: 'Beside this page',
        columns: [start('File', 2), start('What it is', 4), end('Size', 0.7)],
        rows: [
          ...outputs.map((o) => [
            { ...strongCell(o.file), link: linkTo(o.file) },
            cell('the altered pattern, to be plotted or cut'),
            cell(`${Math.max(1, Math.round(o.bytes / 1000))} kB`),
          ]),
          [
            { ...strongCell('ledger.json'), link: 'ledger.json' },
            cell('the record, for programs to read: all lengths to the last digit, and the checksums'),
            cell('–'),
          ],
        ],
      },
    ],
  },
];
