import type { Command } from 'commander';
import { version } from '../job/version.ts';
import { type CommandWords, commandWords, type OptionWords } from './command-words.ts';

/** Exit codes, as README tells them. */
const EXITS: readonly (readonly [code: number, means: string])[] = [
  [0, 'All done.'],
  [1, 'Some fittings were refused or failed (the rest are written), or some mates do not match.'],
  [2, 'Nothing could be done: the command was not understood, or the file cannot be read.'],
  [3, 'The program is at fault; it prints what to report.'],
];

const FILES: readonly (readonly [file: string, means: string])[] = [
  ['PATTERN.sheet.yaml', 'Pattern sheet beside the pattern: what the drawing does not say.'],
  ['altered/FITTING/', 'A folder for each fitting: the altered pattern and ledger.json, the record of what was done.'],
  ['altered/manifest.jsonl', 'A line for each fitting.'],
];

const ENVIRONMENT: readonly (readonly [name: string, means: string])[] = [
  ['SOURCE_DATE_EPOCH', 'The time that ledgers state, in seconds since 1970; without it they state none.'],
  ['NO_COLOR', 'When set, findings are printed without colour.'],
];

const EXAMPLES: readonly (readonly [says: string, typed: string])[] = [
  ['See what is in a pattern file:', 'retrue survey skirt.dxf'],
  [
    'Alter it for one wearer:',
    "retrue alter skirt.dxf --drafted 'waist girth=27in, hip girth=37in' --wearer 'waist girth=28in, hip girth=38in'",
  ],
  [
    'Alter it for a table of fittings, and lay all of them on one roll:',
    "retrue alter skirt.dxf --drafted 'waist girth=27in, hip girth=37in' --fittings fittings.csv --plot pdf --roll 36in",
  ],
];

/** The manual page, in the man macros of roff (man(7)), read from the program's own tree. */
export const manPage = (program: Command): string => {
  const { root, commands } = commandWords(program);
  return [
    '.\\" Made by npm run docs from the command line itself.',
    `.TH RETRUE 1 "" "retrue ${text(version)}" "User Commands"`,
    '.SH NAME',
    `retrue \\- ${text(root.says.replace(/\.$/, '').replace(/^./, (c) => c.toLowerCase()))}`,
    '.SH SYNOPSIS',
    ...commands.filter(isDone).flatMap(synopsis),
    '.SH DESCRIPTION',
    text(root.says),
    'Results go to the standard output, findings to the standard error, each with a code, its place, what is the matter',
    'and what to try.',
    '.SH OPTIONS',
    ...root.options.flatMap(option),
    '.SH COMMANDS',
    ...commands.filter(isDone).flatMap(section),
    ...listed('EXIT STATUS', EXITS),
    ...listed('ENVIRONMENT', ENVIRONMENT),
    ...listed('FILES', FILES),
    '.SH EXAMPLES',
    ...EXAMPLES.flatMap(([says, typed]) => ['.PP', text(says), '.PP', '.nf', '.RS 4', text(typed), '.RE', '.fi']),
    '.SH CAUTIONS',
    'Measure the test squares of a plot before anything is cut, and check the size of the whole drawing before a machine',
    'cuts it. README tells of protective clothing, children\\(aqs clothing and what must not be altered.',
    '',
  ].join('\n');
};

/** A command that only holds others is told with them; help, which takes any, is told once. */
const isDone = ({ name, parts }: CommandWords): boolean =>
  name === 'help' || (parts.length === 0 && !name.startsWith('help '));

const synopsis = (command: CommandWords): string[] => [
  `.B retrue ${text(command.name)}`,
  ...(command.options.some((o) => !o.flags.includes('--help')) ? ['.RI [ options ]'] : []),
  ...command.arguments.map((a) => `.I ${text(a.shown.replace(/[<>]/g, ''))}`),
  '.br',
];

/** One command with its options under the headings of help. */
const section = (command: CommandWords): string[] => {
  const groups = new Map<string, OptionWords[]>();
  for (const o of command.options) groups.set(o.group, [...(groups.get(o.group) ?? []), o]);
  return [
    `.SS retrue ${text([command.name, ...command.arguments.map((a) => a.shown)].join(' '))}`,
    text(sentence(command.says)),
    ...command.arguments.flatMap((a) => (a.says === '' ? [] : ['.TP', `.I ${text(a.shown)}`, text(sentence(a.says))])),
    ...[...groups].flatMap(([group, options]) => [
      ...(group === '' ? [] : ['.PP', `.I ${text(group)}`]),
      ...options.flatMap(option),
    ]),
  ];
};

const option = ({ flags, value, says }: OptionWords): string[] => [
  '.TP',
  `\\fB${flags.map(text).join('\\fR, \\fB')}\\fR${value === '' ? '' : ` \\fI${text(value)}\\fR`}`,
  text(sentence(says)),
];

const listed = (heading: string, rows: readonly (readonly [string | number, string])[]): string[] => [
  `.SH ${heading}`,
  ...rows.flatMap(([name, means]) => ['.TP', `.B ${text(String(name))}`, text(means)]),
];

const sentence = (says: string): string =>
  `${says.charAt(0).toUpperCase()}${says.slice(1)}${/[.!?]$/.test(says) ? '' : '.'}`;

/** A text as roff takes it literally: strokes that are typed stay strokes, no line begins with a control character. */
const text = (plain: string): string =>
  plain
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replaceAll("'", '\\(aq')
    .replaceAll('…', '...')
    .replace(/^\./, '\\&.');
