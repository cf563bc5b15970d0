import type { LengthShown } from '../../alterations/contract.ts';
import type { Finding } from '../../finding.ts';
import type { OpenPrinter } from '../../formats/print.ts';
import { htmlPage } from '../../report/html.ts';
import { PAPERS, pagesOf, textsOf } from '../../report/pages.ts';
import type { OutputFile } from '../making.ts';
import { optionUnknown } from '../option-unknown.ts';
import { fittingContent } from './fitting.ts';
import type { ReportParts } from './parts.ts';

/* Pages for people: which are wanted, and those of one fitting. */

export const REPORT_FORMATS = ['html', 'pdf'] as const;
export type ReportFormat = (typeof REPORT_FORMATS)[number];

export const REPORT_PAPERS = ['A4', 'Letter'] as const;
export type ReportPaper = (typeof REPORT_PAPERS)[number];

export interface ReportAsked {
  readonly formats: readonly ReportFormat[];
  /** Sheets of all PDFs of a run, those of its fittings and the list; none where none is made. */
  readonly paper?: ReportPaper;
}

export interface ReportOptions {
  /** As `html,pdf`; none when left out. */
  readonly report?: string | undefined;
  readonly reportPaper?: string | undefined;
}

/** Reads which pages are wanted. */
export const settleReport = ({
  report,
  reportPaper,
}: ReportOptions): { readonly asked?: ReportAsked; readonly findings: readonly Finding[] } => {
  const names = [...new Set((report ?? '').split(',').map((name) => name.trim().toLowerCase()))].filter(Boolean);
  const formats = REPORT_FORMATS.filter((f) => names.includes(f));
  const unknown = names.filter((name) => !(formats as readonly string[]).includes(name));
  const paper = REPORT_PAPERS.find((p) => p.toLowerCase() === reportPaper?.trim().toLowerCase());
  const findings = [
    ...unknown.map((name) =>
      optionUnknown(`“${name}” is no form a page can have.`, 'Write --report html,pdf, or one of them.'),
    ),
    ...(reportPaper !== undefined && !paper
      ? [optionUnknown(`“${reportPaper}” is no paper for pages.`, 'Write --report-paper A4 or Letter.')]
      : []),
  ];
  if (findings.length > 0 || formats.length === 0) return { findings };
  return { asked: { formats, ...(paper && formats.includes('pdf') ? { paper } : {}) }, findings };
};

/** On one paper for all of a run: the one asked for, else Letter where most fittings are in inches, else A4. */
export const onOnePaper = (asked: ReportAsked, shownIn: readonly LengthShown[]): ReportAsked => {
  if (asked.paper || !asked.formats.includes('pdf')) return asked;
  const inches = shownIn.filter((show) => show === 'in').length;
  return { ...asked, paper: 2 * inches >= shownIn.length ? 'Letter' : 'A4' };
};

/** Names of the pages that a fitting gets. */
export const reportNames = (asked: ReportAsked | undefined): string[] => (asked?.formats ?? []).map(pageName);

/** Name of a fitting's page. */
export const pageName = (format: ReportFormat): string => `fitting.${format}`;

/** The pages of one fitting. */
export const reportFiles = async (
  parts: ReportParts,
  asked: ReportAsked,
): Promise<{ readonly files: readonly OutputFile[]; readonly findings: readonly Finding[] }> => {
  const content = fittingContent(parts);
  const files: OutputFile[] = [];
  const findings: Finding[] = [];
  if (asked.formats.includes('html')) {
    files.push({ name: 'fitting.html', bytes: new TextEncoder().encode(htmlPage(content)) });
  }
  if (asked.formats.includes('pdf')) {
    const printer = await openPrinter(textsOf(content));
    const pages = pagesOf(content, PAPERS[paperOf(asked)], printer.measure);
    const bytes = await printer.write({ title: content.title, pages, date: parts.ledger.made });
    files.push({ name: 'fitting.pdf', bytes });
    if (printer.missing.length > 0) findings.push(lettersMissing('fitting.pdf', printer.missing));
  }
  return { files, findings };
};

/** The PDF library is loaded with the first page that is printed: it takes its time. */
export const openPrinter: OpenPrinter = async (texts) =>
  (await import('../../formats/pdf/print.ts')).openPrinter(texts);

export const paperOf = ({ paper = 'A4' }: ReportAsked): ReportPaper => paper;

const lettersMissing = (file: string, letters: readonly string[]): Finding => ({
  code: 'job-report-letters-missing',
  level: 'note',
  where: { file },
  message: `No font at hand has ${letters.join(' ')}; a box stands for each in ${file}.`,
  try: 'Print the page fitting.html from a browser instead.',
});
