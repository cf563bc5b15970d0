import { readFile } from 'node:fs/promises';
import { posix } from 'node:path';
import type { Finding } from '../../finding.ts';
import type { Status } from '../ledger.ts';
import type { Asked } from './asked.ts';

/** One line of `manifest.jsonl`: what a run made for one fitting, and of what. `schema/manifest.schema.json` describes it. */
export interface ManifestLine {
  readonly fitting: string;
  /** File name of the pattern; null where it is not known which is meant. */
  readonly pattern: string | null;
  /** `begun`: a run was at it, and has not ended it. */
  readonly status: Status | 'begun';
  /** Within the run's folder, with `/` on every system; null for one that could not be given a folder. */
  readonly folder: string | null;
  /** All files of the fitting, by their paths within the run's folder. */
  readonly outputs: readonly ListedFile[];
  /** Codes of the findings that refused it. */
  readonly reasons: readonly string[];
  /** Its place in the table of the run, from 1, and how many the table asks for. */
  readonly place: number;
  readonly of: number;
  /** The table that the order stands in; null for one wearer named on the command line. */
  readonly table: ManifestTable | null;
  /** False once its table no longer asks for it: its files were left as they are. */
  readonly asked: boolean;
  /** SHA-256 over the pattern file and its sheet. */
  readonly input: string;
  /** SHA-256 over the order and all options that bear on the result. */
  readonly options: string;
  /** The options of the run in words, so that runs can be compared; an earlier version kept none. */
  readonly settings?: Asked;
  readonly version: string;
}

export interface ManifestTable {
  /** File name, of a workbook with the sheet. */
  readonly file: string;
  /** SHA-256 over the names of fittings and patterns, in order. */
  readonly rows: string;
  /** How many of its rows the run left out, being for patterns it was not given; an earlier version did not count. */
  readonly elsewhere?: number;
}

export interface ListedFile {
  readonly file: string;
  readonly sha256: string;
}

/** Lines by what they are about; a later line of the same fitting takes the place of an earlier one. */
export type Manifest = Map<string, ManifestLine>;

/** An order as it stands in a table. */
export type Placed = Pick<ManifestLine, 'folder' | 'fitting' | 'pattern' | 'place'>;

/** A fitting is known by its folder, which is its own; one without by what it is called and its place. */
export const keyOf = (order: Placed): string => order.folder ?? `${calledOf(order)}\n${order.place}`;

/** What a fitting without a folder is known by from run to run: its name and pattern, which others may have too. */
export const calledOf = ({ fitting, pattern }: Pick<ManifestLine, 'fitting' | 'pattern'>): string =>
  `\n${fitting}\n${pattern ?? ''}`;

/**
 * Lines of a manifest that cannot be read, and so tell nothing of the files they listed. The last, where a killed run left
 * it without its end, is none: its fitting is done again.
 */
export const damagedIn = async (path: string): Promise<Finding[]> => {
  const text = await readFile(path, 'utf8').catch(() => '');
  const whole = text.split('\n').slice(0, -1);
  return whole.flatMap((line, i) => (line.trim() === '' || parsed(line) ? [] : [damaged(path, i + 1, line)]));
};

const damaged = (file: string, line: number, excerpt: string): Finding => ({
  code: 'job-manifest-damaged',
  level: 'warning',
  where: { file, line, excerpt },
  message: `Line ${line} of the manifest cannot be read, so that nothing is known of the fitting it was about, nor which files are its own.`,
  try: 'Put the line back from a copy. Else look whose folder it names, move that away, and run again with --resume.',
});

/** Reads a manifest; none is an empty one. A line that is broken says nothing (see `damagedIn`). */
export const readManifest = async (path: string): Promise<Manifest> => {
  const text = await readFile(path, 'utf8').catch(() => '');
  const lines = text.split('\n').flatMap((line) => parsed(line) ?? []);
  return new Map(lines.map((line) => [keyOf(line), line]));
};

const parsed = (text: string): ManifestLine | undefined => {
  try {
    const line = JSON.parse(text) as Partial<ManifestLine> | null;
    const isOne = typeof line?.fitting === 'string' && Array.isArray(line.outputs);
    if (!isOne || !line.outputs.every((o) => liesIn(line.folder, o))) return undefined;
    // What earlier versions did not keep.
    return { table: null, asked: true, ...line } as ManifestLine;
  } catch {
    return undefined;
  }
};

/** Files of a fitting lie in its folder. A line that names others is not trusted: what it names may be taken away. */
const liesIn = (folder: unknown, output: Partial<ListedFile> | null): boolean =>
  typeof output?.file === 'string' && posix.dirname(output.file) === folder;

/**
 * The manifest as a run leaves it: the fittings of its table in the table's order, in the places that they have among
 * those of other runs. So it is the same in whatever order they ended, and however often the run was taken up again.
 */
export const settled = (manifest: Manifest, table: readonly ManifestLine[]): Manifest => {
  const own = new Map(table.map((line) => [keyOf(line), line]));
  const named = new Set(table.map(calledOf));
  const inOrder = own.values();
  const lines: ManifestLine[] = [];
  for (const [key, line] of new Map([...manifest, ...own])) {
    // One that had no folder before and has one now, or another place, is not told of twice.
    if (line.folder === null && !own.has(key) && named.has(calledOf(line))) continue;
    lines.push(own.has(key) ? (inOrder.next().value as ManifestLine) : line);
  }
  return new Map(lines.map((line) => [keyOf(line), line]));
};

export const manifestText = (manifest: Manifest): string => [...manifest.values()].map(lineText).join('');

export const lineText = (line: ManifestLine): string => {
  const { fitting, pattern, status, folder, outputs, reasons, place, of, table, asked } = line;
  const { input, options, settings, version } = line;
  const order = { fitting, pattern, status, folder, outputs, reasons, place, of, table, asked };
  return `${JSON.stringify({ ...order, input, options, settings, version })}\n`;
};
