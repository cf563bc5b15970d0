import { open } from 'node:fs/promises';
import { join } from 'node:path';
import type { Finding } from '../../finding.ts';
import type { Row } from '../../report/content.ts';
import { GENERATOR, htmlList } from '../../report/html.ts';
import type { ListContent } from '../../report/list-content.ts';
import { listPages, PAPERS, textsOfList } from '../../report/pages.ts';
import { madeAt } from '../ledger.ts';
import { openPrinter, paperOf, type ReportAsked } from '../report/report.ts';
import { isSystemError, store, storeParts, there, writeFailed } from '../store.ts';
import { indexContent, type Listed } from './index-page.ts';
import { readManifest } from './manifest.ts';
import { manifestName } from './shard.ts';

/* The list of all fittings, in the folder of the run. */

/** Lists of earlier runs, whatever this one was asked for. */
export const LISTS: readonly string[] = ['index.html', 'index.pdf'];

/** Names of the lists that a run keeps beside its manifest. */
export const indexNames = (asked: ReportAsked): string[] => asked.formats.map((format) => `index.${format}`);

/** Writes the lists anew from what lies in the folder, so that a run that is taken up again ends with the same. */
export const writeIndex = async (out: string, asked: ReportAsked, lines?: Iterable<Listed>): Promise<Finding[]> => {
  // Gone through once for each format.
  const all = [...(lines ?? (await readManifest(join(out, manifestName(undefined)))).values())];
  const findings: Finding[] = [];
  for (const format of asked.formats) {
    const path = join(out, `index.${format}`);
    try {
      const content = indexContent(out, all, `fitting.${format}`);
      if (format === 'html') await storeParts(path, htmlList(content));
      else await store(path, await printedList(content, asked));
    } catch (error) {
      if (!isSystemError(error)) throw error;
      findings.push(writeFailed(path, error));
    }
  }
  return findings;
};

/** The list on sheets, on the paper of the fittings' pages. */
const printedList = async (content: ListContent, asked: ReportAsked): Promise<Uint8Array> => {
  const rows: Row[] = [];
  for await (const row of content.rows) rows.push(row);
  const printer = await openPrinter(textsOfList(content, rows));
  const pages = listPages(content, rows, PAPERS[paperOf(asked)], printer.measure);
  return printer.write({ title: content.title, pages, date: madeAt().made });
};

/** How far into a page its maker's name stands at most, bytes. */
const HEAD = 1024;

/** Findings for files of these names that are not lists of ours: they are somebody's, and stay. */
export const indexOfOthers = async (out: string, asked: ReportAsked): Promise<Finding[]> => {
  const findings: Finding[] = [];
  for (const name of indexNames(asked)) {
    const path = join(out, name);
    const begins = await beginningOf(path);
    const ours = begins === undefined || begins.includes(name.endsWith('.html') ? GENERATOR : '%PDF');
    if (!ours) findings.push(there(path));
  }
  return findings;
};

const beginningOf = async (path: string): Promise<string | undefined> => {
  const file = await open(path).catch(() => undefined);
  if (!file) return undefined;
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD), 0, HEAD, 0);
    return buffer.toString('utf8', 0, bytesRead);
  } finally {
    await file.close();
  }
};
