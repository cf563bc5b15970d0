import { readFile } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { faultFindings } from '../checks/index.ts';
import type { Finding } from '../finding.ts';
import { hasErrors } from '../finding.ts';
import type { Drawing, Format, ReadOptions } from '../formats/drawing.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { recognise } from '../recognise/index.ts';
import type { PatternSheet } from '../recognise/sheet/types.ts';
import { sha256 } from './digest.ts';
import { formatOf } from './formats.ts';
import { optionUnknown } from './option-unknown.ts';
import type { ViewReport } from './view.ts';
import { layOutView } from './view.ts';

export interface PatternFileOptions {
  /** Path of the pattern sheet. By default PATTERN.sheet.yaml beside the pattern, if there is one. */
  readonly sheet?: string | undefined;
  /** Unit the file is drawn in, over what the file says: mm, cm, in or px. */
  readonly units?: string | undefined;
  readonly view?: string | undefined;
}

/** A pattern file, read and recognised. Whatever is made of it starts from here. */
export interface PatternFile {
  readonly path: string;
  readonly fileName: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
  readonly format: Format;
  readonly drawing: Drawing;
  /** How the units were settled from outside, to read the written file the same way. */
  readonly units: ReadOptions['units'];
  /** The pieces of the view, or all of them. */
  readonly pattern: Pattern;
  readonly sheet?: SheetFile;
  readonly view?: ViewReport;
  readonly findings: readonly Finding[];
}

export interface SheetFile {
  readonly path: string;
  readonly fileName: string;
  readonly sha256: string;
  readonly sheet: PatternSheet;
}

export interface ReadPattern {
  /** Absent when nothing could be read; then there is an error among the findings. */
  readonly file?: PatternFile;
  readonly findings: readonly Finding[];
}

/** Hands over the bytes of a file, or the finding that it cannot be opened. */
export type Load = (path: string) => Promise<Uint8Array | Finding>;

/** Reads a pattern file with its sheet and says what its lines mean. Never throws for a bad file. */
export const readPatternFile = async (
  path: string,
  options: PatternFileOptions,
  bytesOf: Load = load,
): Promise<ReadPattern> => {
  const loaded = await bytesOf(path);
  if ('code' in loaded) return { findings: [loaded] };
  return understood(path, loaded, await loadSheet(path, options.sheet, bytesOf), options);
};

/** The same of bytes that lie in no file, called `fileName`, with the text of a pattern sheet in `sheet`, if there is one. */
export const readPatternBytes = async (
  bytes: Uint8Array,
  fileName: string,
  options: PatternFileOptions,
): Promise<ReadPattern> => {
  const sheet =
    options.sheet === undefined ? { findings: [] } : await sheetOf(new TextEncoder().encode(options.sheet), '');
  return understood(fileName, bytes, sheet, options);
};

const understood = async (
  path: string,
  loaded: Uint8Array,
  sheetRead: SheetRead,
  options: PatternFileOptions,
): Promise<ReadPattern> => {
  const fileName = basename(path);
  const units = settleUnits(options.units, sheetRead.file?.sheet);
  if (units && 'code' in units) return { findings: [...sheetRead.findings, units] };
  const format = await formatOf(loaded, fileName);
  if (!format) return { findings: [...sheetRead.findings, unknownFormat(fileName)] };
  const read = format.read(loaded, { fileName, ...(units ? { units } : {}) });
  const findings = [...sheetRead.findings, ...read.findings];
  if (!read.drawing) return { findings };
  const { drawing } = read;
  const sheet = sheetRead.file;
  const recognised = recognise(drawing, sheet ? { sheet: sheet.sheet } : {});
  const laid = layOutView(recognised.pattern, options.view);
  const found = [...recognised.findings, ...laid.findings, ...faultFindings(laid.pattern)];
  // Of several patterns with the same fault each is told.
  findings.push(...found.map((f) => ({ ...f, where: { file: fileName, ...f.where } })));
  if (recognised.pattern.pieces.length === 0 && !hasErrors(findings)) findings.push(noPieces(fileName));
  const file: PatternFile = {
    ...{ path, fileName, bytes: loaded, sha256: sha256(loaded), format, drawing, units },
    ...{ pattern: laid.pattern, findings },
    ...(sheet ? { sheet } : {}),
    ...(laid.view ? { view: laid.view } : {}),
  };
  return { file, findings };
};

/** Bytes of a file the user named, from the disk. */
export const load: Load = async (path) => {
  try {
    return await readFile(path);
  } catch (error) {
    return unreadable(path, error);
  }
};

interface SheetRead {
  readonly file?: SheetFile;
  readonly findings: readonly Finding[];
}

const loadSheet = async (pattern: string, stated: string | undefined, bytesOf: Load): Promise<SheetRead> => {
  const path = stated ?? join(dirname(pattern), `${basename(pattern, extname(pattern))}.sheet.yaml`);
  const bytes = await bytesOf(path);
  if ('code' in bytes) return { findings: stated === undefined ? [] : [bytes] };
  return sheetOf(bytes, path);
};

/** What checks a sheet is loaded when there is one: it takes longer than reading many a pattern. */
const sheetOf = async (bytes: Uint8Array, path: string): Promise<SheetRead> => {
  const { readSheet } = await import('../recognise/sheet/read.ts');
  const fileName = path === '' ? 'pattern sheet' : basename(path);
  const { sheet, findings } = readSheet(new TextDecoder().decode(bytes), fileName);
  return sheet ? { file: { path, fileName, sha256: sha256(bytes), sheet }, findings } : { findings };
};

/** CSS pixels are 1/96 in. */
const UNITS: Readonly<Record<string, number>> = { mm: 1, cm: 10, in: 25.4, inch: 25.4, px: 25.4 / 96 };

const settleUnits = (option: string | undefined, sheet: PatternSheet | undefined): ReadOptions['units'] | Finding => {
  const name = option?.trim().toLowerCase() ?? sheet?.units;
  if (name === undefined) return undefined;
  const millimetresPerUnit = UNITS[name];
  if (millimetresPerUnit !== undefined) return { millimetresPerUnit, name };
  return optionUnknown(`“${option}” is not a unit a pattern file can be drawn in.`, 'Write --units mm, cm, in or px.');
};

export const unreadable = (path: string, error: unknown): Finding => {
  const code = (error as NodeJS.ErrnoException).code;
  const why: Record<string, string> = {
    ENOENT: 'There is no such file.',
    EISDIR: 'It is a folder, not a file.',
    EACCES: 'You are not allowed to read it.',
  };
  return {
    code: 'job-file-unreadable',
    level: 'error',
    where: { file: path },
    message: `${path} cannot be opened. ${why[code ?? ''] ?? String((error as Error).message ?? error)}`,
    try: 'Check the name and the folder, and give the path of one file.',
  };
};

const unknownFormat = (file: string): Finding => ({
  code: 'job-format-unknown',
  level: 'error',
  where: { file },
  message: `${file} is neither a DXF nor an SVG file.`,
  try: 'Save the pattern as DXF (any release from R12) or as SVG, and give that file.',
});

const noPieces = (file: string): Finding => ({
  code: 'job-no-pieces',
  level: 'error',
  where: { file },
  message: 'No pattern piece was found: there is no closed outline in the drawing.',
  try: 'Check in a viewer that the outlines are closed lines, not pictures or filled areas without a line.',
});
