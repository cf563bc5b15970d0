import type { LengthShown } from '../alterations/contract.ts';
import type { SurveyEdge, SurveyPiece, SurveyReport } from './survey.ts';
import { list, measured, pieceNames, plural, sewnRow, table } from './words.ts';

/** Below this a role is a guess that the reader should look at. */
const SURE = 0.7;

/** What is in a pattern file, for people. */
export const surveyText = (report: SurveyReport, show: LengthShown): string => {
  const names = pieceNames(report.pieces);
  return [
    `${report.file}: ${report.format.toUpperCase()}, drawn in ${report.units.name} (${STATED_BY[report.units.statedBy]})`,
    ...heading(report, show).map((line) => `  ${line}`),
    ...report.pieces.flatMap((piece) => ['', ...pieceText(piece, report.units.name, show)]),
    ...section('Sewn together', [
      ...report.mates.map((m) => `${sewnRow(m.one, names)} to ${sewnRow(m.other, names)}${doubtful(m.confidence)}`),
      ...report.within.map(
        (m) => `${sewnRow(m.one, names)} to a part of ${sewnRow(m.other, names)}${doubtful(m.confidence)}`,
      ),
    ]),
    ...section('In doubt: add the line after → to the pattern sheet', report.doubts.flatMap(doubtLines)),
    '',
  ].join('\n');
};

const STATED_BY = {
  option: 'as you said',
  file: 'the file says so',
  text: 'a text in the file says so',
  unstated: 'NOT STATED, taken for millimetres',
};

const doubtLines = (doubt: SurveyReport['doubts'][number]): string[] => [
  `${doubt.piece}: ${doubt.message}`,
  `→ ${doubt.sheetLine}`,
];

const heading = (
  { style, size, view, draftedFor, views, pieces, loose }: SurveyReport,
  show: LengthShown,
): string[] => {
  const drafted = Object.entries(draftedFor).map(([name, mm]) => `${name} ${measured(mm, show)}`);
  const onNone = loose > 0 ? `, and ${plural(loose, 'line or text', 'lines or texts')} on no piece` : '';
  return [
    ...(style ? [`style ${style}`] : []),
    ...(size ? [`size ${size}`] : []),
    `drafted for ${list(drafted) || 'a body that is not stated'}`,
    ...(views.length > 0 ? [`views: ${views.join('; ')}`] : []),
    ...(view ? [`view ${view.name}: ${checkedOff(view)}`] : []),
    plural(pieces.length, 'piece') + onNone,
  ];
};

const checkedOff = (view: NonNullable<SurveyReport['view']>): string =>
  [
    `${view.present.join(', ') || 'nothing'} here`,
    ...(view.missing.length > 0 ? [`missing ${view.missing.join(', ')}`] : []),
    ...(view.away.length > 0 ? [`put away ${view.away.join(', ')}`] : []),
  ].join('; ');

const pieceText = (piece: SurveyPiece, unit: string, show: LengthShown): string[] => {
  const title = piece.name && piece.name !== piece.id ? `${piece.id} “${piece.name}”` : piece.id;
  return [
    `${title}: ${piece.part}${doubtful(piece.confidence)}, ${cutText(piece)}, ${piece.cut.cloth}`,
    `  ${measured(piece.across, show)} across × ${measured(piece.high, show)} high; ${grainText(piece)}; ${seamText(piece)}`,
    ...(piece.edges.length > 0 ? edgeTable(piece.edges, unit, show) : ['  no edges found']),
    ...piece.levels.map((level) => levelText(piece, level, show)),
    ...piece.adjustmentLines.map((below) => `  adjustment line${heightText(piece, below, show)}`),
    ...piece.darts.map((dart) => dartText(dart, show)),
    ...notchText(piece),
  ];
};

const cutText = ({ cut }: SurveyPiece): string => {
  if (cut.onFold) return `cut ${cut.count} on the fold`;
  return `cut ${cut.count}${cut.mirrored ? ' as a mirrored pair' : ''}`;
};

const levelText = (piece: SurveyPiece, level: SurveyPiece['levels'][number], show: LengthShown): string => {
  const height = level.below ? `,${heightText(piece, level.below, show)}` : '';
  return `  level ${level.name}${height}${level.drawn ? ', drawn' : ''}${doubtful(level.confidence)}`;
};

/** Where a level lies, as it is said over a table: so much below the waist, or above it. */
const heightText = (piece: SurveyPiece, below: number, show: LengthShown): string =>
  ` ${measured(Math.abs(below), show)} ${below < 0 ? 'above' : 'below'} ${piece.measuredFrom ? `the ${piece.measuredFrom}` : 'where it begins'}`;

const dartText = (dart: SurveyPiece['darts'][number], show: LengthShown): string => {
  const place = dart.edge ? ` in the ${dart.edge} edge` : '';
  return `  dart${place}, ${measured(dart.width, show)} wide, ${measured(dart.length, show)} long${doubtful(dart.confidence)}`;
};

const grainText = ({ grain }: SurveyPiece): string => {
  if (grain === null) return 'no grainline';
  if (Math.abs(grain) < 0.5) return 'grain upright';
  return Math.abs(grain) > 89.5 ? 'grain across' : `grain ${grain.toFixed(1)}° off the upright`;
};

const seamText = ({ seamLine }: SurveyPiece): string =>
  ({
    drawn: 'seam line drawn',
    derived: 'seam line reckoned from the cutting line',
    'only outline': 'one outline only, taken for the seam line',
  })[seamLine];

const edgeTable = (edges: readonly SurveyEdge[], unit: string, show: LengthShown): string[] =>
  table(
    [
      ['edge', 'role', 'length', 'allowance', `from (${unit})`, `to (${unit})`, 'because'],
      ...edges.map((e) => [
        e.id,
        e.role + doubtful(e.confidence),
        measured(e.length, show),
        e.allowance === 0 ? 'none' : measured(e.allowance, show),
        place(e.from),
        place(e.to),
        e.evidence[0] ?? '',
      ]),
    ],
    '  ',
  );

const notchText = ({ notches }: SurveyPiece): string[] => {
  const byEdge = new Map<string, number>();
  for (const notch of notches) byEdge.set(notch.edge, (byEdge.get(notch.edge) ?? 0) + 1);
  return [...byEdge].map(([edge, count]) => `  ${plural(count, 'notch', 'notches')} on the ${edge} edge`);
};

const place = (p: { x: number; y: number }): string => `${decimal(p.x)}, ${decimal(p.y)}`;
const decimal = (n: number): string => String(Math.round(n * 100) / 100 + 0);
const doubtful = (confidence: number): string => (confidence < SURE ? ' (?)' : '');

const section = (title: string, lines: readonly string[]): string[] =>
  lines.length === 0 ? [] : ['', title, ...lines.map((line) => `  ${line}`)];
