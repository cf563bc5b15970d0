import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Finding } from '../../src/finding.ts';
import type { Ledger } from '../../src/job/ledger.ts';
import { type AlterRequest, alter } from '../../src/job/run/run.ts';

/* Pages written by whole runs, for the tests to read. */

export const FIXTURES = join(import.meta.dirname, '../../fixtures');
export const OPERA = join(FIXTURES, 'jobs/opera');

export interface WrittenPage {
  readonly folder: string;
  readonly ledger: Ledger;
  readonly html: string;
}

export interface WrittenRun {
  readonly out: string;
  readonly exit: number;
  readonly findings: readonly Finding[];
  readonly pages: readonly WrittenPage[];
}

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'pages-'));

export const writePages = async (
  request: Partial<AlterRequest> & { readonly pattern: string },
  out = newFolder(),
): Promise<WrittenRun> => {
  const findings: Finding[] = [];
  const folders: [string, Ledger][] = [];
  const { exit } = await alter(
    { out, force: true, report: 'html', ...request },
    {
      onFindings: (f) => findings.push(...f),
      onFitting: ({ ledger }, folder) => ledger && folders.push([folder, ledger]),
    },
  );
  const pages = folders.map(([folder, ledger]) => ({
    ...{ folder, ledger },
    html: readFileSync(join(folder, 'fitting.html'), 'utf8'),
  }));
  return { out, exit, findings, pages };
};

/** Names and notes that a page has to bear: long ones, other scripts, and what looks like markup. */
export const oddTable = (folder: string): string => {
  const long = `Wilhelmina ${'Ottoline-Featherstonehaugh '.repeat(6)}the Younger`.slice(0, 150);
  const rows = [
    'fitting,wearer,waist girth (in),hip girth (in),note',
    `${long},,27,36 1/2,${'measured twice '.repeat(30)}`,
    'אביגיל בת הים,דבורה,27,37,זמר במקהלה',
    'تمارا راعية البط,,27,37,',
    'かぐや姫 第二幕,縫子,27,37,丈を確かめる',
    '"<script>alert(1)</script> & ""co"" <b>",,27,37,"</style></title><img src=x onerror=alert(2)>"',
    'Fiammetta,,32,42,past the limits',
  ];
  const path = join(folder, 'odd.csv');
  writeFileSync(path, `${rows.join('\n')}\n`);
  return path;
};

/** The words about lengths: pages round them to what a tape shows. */
export const apartFromLengths = (text: string): string =>
  text.replace(/(?:≈ )?[+−]?[\d½¼¾⅛⅜⅝⅞][\d./ ½¼¾⅛⅜⅝⅞]* ?(?:in|mm|cm)\b/g, '#');
