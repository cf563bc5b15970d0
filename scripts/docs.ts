// npm run docs: renews what is generated from the source: the table of alterations, the findings, the manual page, pictures.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { AlterationCard } from '../src/alterations/contract.ts';
import { catalogue } from '../src/alterations/index.ts';
import { manPage } from '../src/cli/man.ts';
import { program } from '../src/cli/program.ts';
import type { CodeMeaning } from '../src/finding.ts';
import { cardPicture } from '../src/job/catalogue/picture.ts';

const ROOT = join(import.meta.dirname, '..');
const START = '<!-- alterations: made by npm run docs -->';
const END = '<!-- alterations: end -->';

/** The generated files as they should be, by path. */
export const generated = async (): Promise<Map<string, string>> =>
  new Map([
    ['README.md', await readme()],
    ['docs/findings.md', await findings()],
    ['man/retrue.1', manual()],
    ...(await pictures()),
  ]);

const manual = (): string =>
  manPage(program({ out: () => undefined, err: () => undefined, colour: false }, () => undefined));

/** A page with every alteration before and after, and the pictures it shows. */
const pictures = async (): Promise<[string, string][]> => {
  const fileOf = (card: AlterationCard): string => `${card.name.replace(/ /g, '-')}.svg`;
  const svgs: [string, string][] = [];
  for (const card of catalogue) svgs.push([`docs/catalogue/${fileOf(card)}`, await cardPicture(card, 'mm')]);
  const parts = catalogue.flatMap((card) => [
    `## ${card.title}`,
    '',
    card.construction,
    '',
    `![${card.title}](${fileOf(card)})`,
    '',
  ]);
  const head = [
    '# The alterations, before and after',
    '',
    'Each is done on a drafted block by the amount of its worked example, larger and smaller. Made by `npm run docs`;',
    '`retrue catalogue NAME --svg` draws one of them.',
    '',
  ];
  return [...svgs, ['docs/catalogue/README.md', [...head, ...parts].join('\n')]];
};

const readme = async (): Promise<string> => {
  const text = await readFile(join(ROOT, 'README.md'), 'utf8');
  const [before, rest] = text.split(START);
  const after = rest?.split(END)[1];
  if (before === undefined || after === undefined) throw new Error('README.md has lost the marks of its alterations');
  return [before, START, '\n', alterationsTable(), '\n', END, after].join('');
};

const alterationsTable = (): string =>
  [
    '| alteration | + | − | measured by | customary most |',
    '|---|---|---|---|---|',
    ...catalogue.map((card) =>
      row([card.name, card.plus, card.minus, card.measurement ?? 'asked for directly', limits(card)]),
    ),
  ].join('\n');

const limits = (card: AlterationCard): string =>
  card.limits.map((l) => (Number.isFinite(l.most) ? `${l.place}: ${inches(l.most)}` : `${l.place}: none`)).join('; ');
const inches = (mm: number): string => `${Math.round(mm * 10) / 10} mm (${Math.round((mm / 25.4) * 1000) / 1000} in)`;

const findings = async (): Promise<string> => {
  const files = (await readdir(join(ROOT, 'src'), { recursive: true })).filter((f) => f.endsWith('codes.ts')).sort();
  const rows: string[] = [];
  for (const file of files) {
    const tables = (await import(pathToFileURL(join(ROOT, 'src', file)).href)) as Record<string, unknown>;
    for (const table of Object.values(tables) as Record<string, CodeMeaning>[]) {
      for (const [code, { level, means }] of Object.entries(table)) rows.push(row([`\`${code}\``, level, means]));
    }
  }
  return [
    '# Findings',
    '',
    'What the program may tell, by code. An error refuses what it touches, a warning is to be read, a note is for the',
    'record. Made by `npm run docs` from the tables in `src/**/codes.ts`.',
    '',
    '| code | level | means |',
    '|---|---|---|',
    ...rows.sort(),
    '',
  ].join('\n');
};

const row = (cells: readonly string[]): string => `| ${cells.map((c) => c.replaceAll('|', '\\|')).join(' | ')} |`;

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const [path, text] of await generated()) {
    await mkdir(dirname(join(ROOT, path)), { recursive: true });
    await writeFile(join(ROOT, path), text);
  }
}
