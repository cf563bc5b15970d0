import { basename } from 'node:path';
import type { Finding } from '../../finding.ts';
import { load } from '../patternfile.ts';
import { exists } from '../store.ts';

/** A table file as the user named it. */
export interface TableFile {
  /** Of the file itself. */
  readonly path: string;
  /** For findings: with the sheet, when one was named. */
  readonly fileName: string;
  readonly sheet?: string;
  readonly bytes: Uint8Array;
}

/** Splits `wardrobe.xlsx#Chorus` into the workbook and its sheet; a file of that very name goes first. */
export const tableNamed = async (name: string): Promise<{ readonly path: string; readonly sheet?: string }> => {
  const parts = /^(.+\.xls[xm])#(.+)$/i.exec(name);
  const [, path, sheet] = parts ?? [];
  if (path === undefined || sheet === undefined || (await exists(name))) return { path: name };
  return { path, sheet };
};

/** Opens a table: a file, or a sheet of a workbook as `FILE.xlsx#SHEET`. */
export const loadTable = async (name: string): Promise<TableFile | Finding> => {
  const { path, sheet } = await tableNamed(name);
  const bytes = await load(path);
  if ('code' in bytes) return bytes;
  return { path, fileName: basename(name), bytes, ...(sheet === undefined ? {} : { sheet }) };
};
