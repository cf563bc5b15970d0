import { copyFileSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newFolder, OPERA, type WrittenPage, writePages } from '../report/written.ts';
import { openBrowser, type Page } from './browser.ts';
import { pdfTools, run } from './pdf-tools.ts';
import { readerAvailable } from './readers.ts';

/* Pages printed by a browser: whatever they say is on the paper, and within its margins, on A4 and Letter. */

/** ISO 216, and ANSI/ASME Y14.1, in inches as the browser takes them; side margin of the style sheet, points. */
const PAPERS = [
  ['A4', 210 / 25.4, 297 / 25.4],
  ['Letter', 8.5, 11],
] as const;
const MARGIN = (14 * 72) / 25.4;

/** The chorus skirt with names as long as German makes them. */
const germanSkirt = (folder: string): string => {
  const names = {
    'Skirt front': 'Vorderrockbahnmittelteilzuschnitt',
    'Skirt back': 'Hinterrockbahnmittelteilzuschnitt',
    Waistband: 'Rockbundverstärkungsaußenstreifen',
  };
  const named = Object.entries(names).map(([name, long]) => `  ${name}: { name: ${long} }\n`);
  const pattern = join(folder, 'rock.svg');
  copyFileSync(join(OPERA, 'chorus-skirt.svg'), pattern);
  const [sheet] = readFileSync(join(OPERA, 'chorus-skirt.sheet.yaml'), 'utf8').split(/^views:/m);
  writeFileSync(join(folder, 'rock.sheet.yaml'), `${sheet}pieces:\n${named.join('')}`);
  return pattern;
};

describe.skipIf(!(readerAvailable({ program: 'chromium', debian: 'chromium' }) && pdfTools()))('a printed page', () => {
  let browser: Page;
  const scratch = newFolder();
  const outs: string[] = [];
  let pages: string[] = [];

  beforeAll(async () => {
    browser = await openBrowser();
    const runs = [
      await writePages({
        pattern: join(OPERA, 'chorus-skirt.dxf'),
        fittings: join(OPERA, 'fittings.csv'),
        report: 'html,pdf',
      }),
      await writePages({ pattern: germanSkirt(scratch), fittings: join(OPERA, 'fittings.csv') }),
    ];
    outs.push(...runs.map((r) => r.out));
    const isEdda = ({ ledger }: WrittenPage): boolean => ledger.fitting.startsWith('Edda');
    pages = runs.flatMap((r) => [
      ...r.pages.filter(isEdda).map((p) => join(p.folder, 'fitting.html')),
      join(r.out, 'index.html'),
    ]);
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    for (const folder of [scratch, ...outs]) rmSync(folder, { recursive: true, force: true });
  }, 60_000);

  const printed = async (paperWidth: number, paperHeight: number): Promise<string> => {
    const asked = { paperWidth, paperHeight, preferCSSPageSize: false };
    const { data } = await browser.ask<{ data: string }>('Page.printToPDF', asked);
    const pdf = join(scratch, 'printed.pdf');
    writeFileSync(pdf, Buffer.from(data, 'base64'));
    return pdf;
  };

  /** Words that reach beyond the margins. */
  const beyond = (pdf: string, width: number): string[] =>
    [...run('pdftotext', ['-bbox', pdf, '-']).stdout.matchAll(/xMin="(\S+)" .*?xMax="(\S+)".*?>(.*?)<\/word>/g)]
      .filter(([, from, to]) => Number(from) < MARGIN - 2 || Number(to) > width * 72 - MARGIN + 2)
      .map(([, , , word]) => word as string);

  /** How often each letter and figure comes: how lines are broken and columns read does not matter. */
  const letters = (text: string): Record<string, number> => {
    const counts: Record<string, number> = {};
    for (const letter of text.normalize('NFKC').replace(/[^\p{L}\p{N}]/gu, ''))
      counts[letter] = (counts[letter] ?? 0) + 1;
    return counts;
  };

  /** What the page says when it is printed, as the browser has it. */
  const said = async (): Promise<string> => {
    await browser.ask('Emulation.setEmulatedMedia', { media: 'print' });
    const text = await browser.evaluate<string>('document.body.innerText');
    await browser.ask('Emulation.setEmulatedMedia', { media: '' });
    return text;
  };

  /** Opened so that letters can be counted: headings of tables once, on however many sheets; words without a halo. */
  const open = async (path: string): Promise<void> => {
    await browser.open(pathToFileURL(path).href);
    await browser.evaluate(
      `document.querySelector('style').append('@media print{thead{display:table-row-group!important}svg text{stroke:none!important}}')`,
    );
  };

  it.each(PAPERS)('has all its words on %s, and none beyond the margins', async (_, width, height) => {
    expect(pages).toHaveLength(4);
    for (const path of pages) {
      await open(path);
      const pdf = await printed(width, height);
      expect(beyond(pdf, width), path).toEqual([]);
      expect(letters(run('pdftotext', [pdf, '-']).stdout), path).toEqual(letters(await said()));
    }
  });

  it.each(PAPERS)('is not made smaller to fit on %s: its pictures are in true size', async (_, paper) => {
    const width = Math.floor(paper * 96 - (MARGIN * 2 * 96) / 72);
    await browser.ask('Emulation.setEmulatedMedia', { media: 'print' });
    await browser.ask('Emulation.setDeviceMetricsOverride', {
      width,
      height: 900,
      deviceScaleFactor: 1,
      mobile: false,
    });
    for (const path of pages) {
      await open(path);
      expect(await browser.evaluate<number>('document.documentElement.scrollWidth'), path).toBeLessThanOrEqual(width);
    }
    await browser.ask('Emulation.clearDeviceMetricsOverride');
    await browser.ask('Emulation.setEmulatedMedia', { media: '' });
  });

  it('has, where it is written as PDF, front and back side by side on one sheet of Letter, and few sheets', () => {
    const pdf = pages[0]!.replace('.html', '.pdf');
    expect(beyond(pdf, 8.5)).toEqual([]);
    const sheets = run('pdftotext', ['-layout', pdf, '-'])
      .stdout.split('\f')
      .filter((text) => text.trim() !== '');
    expect(sheets.length).toBeLessThanOrEqual(5);
    const side = sheets.filter((text) => /Skirt front +Skirt back\n/.test(text));
    expect(side).toHaveLength(1);
    expect(side[0]).toMatch(/Skirt front: edges as sewn +Skirt back: edges as sewn/);
    expect(side[0]).toMatch(/Side +27 in +26 in +−1 in +Side +27 in +26 in +−1 in/);
  });

  it('would be found out if a table beside its picture were cut off', async () => {
    await open(pages[0]!);
    const style = '@media print{.item .table{min-width:0!important}.item table{width:130mm}}';
    await browser.evaluate(`document.querySelector('style').append('${style}')`);
    const pdf = await printed(8.5, 11);
    expect(letters(run('pdftotext', [pdf, '-']).stdout)).not.toEqual(letters(await said()));
  });
});
