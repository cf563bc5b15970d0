import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FIXTURES, newFolder, OPERA, oddTable, type WrittenRun, writePages } from '../report/written.ts';
import { openBrowser, type Page } from './browser.ts';
import { pageSizes, pdfTools, run } from './pdf-tools.ts';
import { readerAvailable } from './readers.ts';

/* The pages in a browser: on a wide screen and on a telephone, by keyboard, as they are read aloud, and on paper. */

interface Heard {
  readonly ignored: boolean;
  readonly role?: { readonly value: string };
  readonly name?: { readonly value: string };
  readonly properties?: readonly { readonly name: string; readonly value: { readonly value: unknown } }[];
}

const BODICE = { drafted: 'bust girth=36in, waist girth=28in', wearer: 'bust girth=37in, waist girth=29in' };

describe.skipIf(!readerAvailable({ program: 'chromium', debian: 'chromium' }))('pages in Chromium', () => {
  let browser: Page;
  let opera: WrittenRun;
  let runs: WrittenRun[] = [];
  const scratch = newFolder();
  const pages = (): string[] =>
    runs.flatMap(({ out, pages: own }) => [...own.map((p) => join(p.folder, 'fitting.html')), join(out, 'index.html')]);
  const open = (path: string): Promise<void> => browser.open(pathToFileURL(path).href);
  const screen = (width: number, height = 900): Promise<unknown> =>
    browser.ask('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: 1, mobile: width < 500 });

  beforeAll(async () => {
    browser = await openBrowser();
    opera = await writePages({ pattern: join(OPERA, 'chorus-skirt.dxf'), fittings: join(OPERA, 'fittings.csv') });
    runs = [
      opera,
      await writePages({ pattern: join(OPERA, 'chorus-skirt.svg'), fittings: oddTable(scratch) }),
      await writePages({ pattern: join(FIXTURES, 'blocks/bodice-panels-cubics-inches.svg'), ...BODICE }),
    ];
  }, 180_000);
  afterAll(async () => {
    await browser?.close();
    for (const folder of [scratch, ...runs.map((r) => r.out)]) rmSync(folder, { recursive: true, force: true });
  }, 60_000);

  it('say not a word on the console', async () => {
    for (const path of pages()) await open(path);
    expect(browser.console).toEqual([]);
  });

  it('would be heard if they did', async () => {
    const path = join(scratch, 'loud.html');
    writeFileSync(path, '<!DOCTYPE html><title>Loud</title><p>Here<script>console.error("heard")</script>');
    const before = browser.console.length;
    await open(path);
    expect(browser.console.slice(before).join()).toContain('heard');
  });

  it.each([1280, 400, 320])('need no scrolling sideways on a screen of %d px', async (width) => {
    await screen(width);
    for (const path of pages()) {
      await open(path);
      expect(await browser.evaluate<number>('document.documentElement.scrollWidth'), path).toBeLessThanOrEqual(width);
    }
  });

  it('are read aloud with names: pictures, boxes, tables, places on the page', async () => {
    for (const path of pages()) {
      await open(path);
      const { nodes } = await browser.ask<{ nodes: Heard[] }>('Accessibility.getFullAXTree');
      const heard = nodes.filter((n) => !n.ignored);
      const named = ['image', 'checkbox', 'heading', 'table', 'region', 'navigation', 'link', 'group'];
      const nameless = heard.filter((n) => named.includes(n.role?.value ?? '') && !n.name?.value.trim());
      expect(nameless, path).toEqual([]);
      expect(
        heard.filter((n) => n.role?.value === 'main'),
        path,
      ).toHaveLength(1);
      expect(
        heard.filter((n) => n.role?.value === 'contentinfo'),
        path,
      ).toHaveLength(1);
      // The lines of a picture are not read one by one.
      expect(
        heard.filter((n) => n.role?.value === 'graphics-symbol'),
        path,
      ).toEqual([]);
    }
  });

  /** Contrast of all words with what they stand on, in the page: WCAG 2.2, success criterion 1.4.3. */
  const CONTRAST = `(() => {
    const channels = (colour) => colour.match(/[\\d.]+/g).map(Number);
    const luminance = (colour) => {
      const [r, g, b] = channels(colour).slice(0, 3).map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const ground = (element) => {
      for (let e = element; e; e = e.parentElement) {
        const colour = getComputedStyle(e).backgroundColor;
        if ((channels(colour)[3] ?? 1) > 0) return colour;
      }
      return 'rgb(255, 255, 255)';
    };
    const words = [...document.body.querySelectorAll('*:not(svg *), svg text')].filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()));
    return words.map((e) => {
      const style = getComputedStyle(e);
      const [a, b] = [luminance(e.namespaceURI.endsWith('svg') ? style.fill : style.color), luminance(ground(e))].sort((x, y) => y - x);
      return { words: e.textContent.slice(0, 40), ratio: (a + 0.05) / (b + 0.05) };
    }).filter(({ ratio }) => ratio < 4.5);
  })()`;

  it.each(['light', 'dark'])('keep their contrast on a %s screen', async (value) => {
    await browser.ask('Emulation.setEmulatedMedia', { features: [{ name: 'prefers-color-scheme', value }] });
    for (const path of pages()) {
      await open(path);
      expect(await browser.evaluate(CONTRAST), path).toEqual([]);
    }
    await browser.evaluate('document.body.style.setProperty("--soft", "#808080")');
    expect(await browser.evaluate<unknown[]>(CONTRAST)).not.toEqual([]);
    await browser.ask('Emulation.setEmulatedMedia', { features: [] });
  });

  const key = async (name: string, code: number): Promise<void> => {
    const text = name === ' ' ? { text: ' ' } : name === 'Enter' ? { text: '\r' } : {};
    await browser.ask('Input.dispatchKeyEvent', { type: 'keyDown', key: name, windowsVirtualKeyCode: code, ...text });
    await browser.ask('Input.dispatchKeyEvent', { type: 'keyUp', key: name, windowsVirtualKeyCode: code });
  };
  const focused = (): Promise<string> => browser.evaluate('document.activeElement.outerHTML.slice(0, 200)');

  it('are gone through by keyboard: to the content, to every box, and a box is ticked', async () => {
    await screen(1280);
    const [page] = opera.pages;
    await open(join(page!.folder, 'fitting.html'));
    await key('Tab', 9);
    expect(await focused()).toContain('class="skip"');
    expect(await browser.evaluate<number>('document.activeElement.getBoundingClientRect().left')).toBeGreaterThan(0);
    await key('Enter', 13);
    expect(await browser.evaluate('location.hash')).toBe('#main');
    let boxes = 0;
    for (let i = 0; i < 80; i++) {
      await key('Tab', 9);
      const outline = 'getComputedStyle(document.activeElement).outlineStyle';
      if (!(await focused()).includes('checkbox')) continue;
      expect(await browser.evaluate(outline)).toBe('solid');
      await key(' ', 32);
      boxes++;
      if (boxes === page!.ledger.source.pieces.length) break;
    }
    expect(await browser.evaluate('document.querySelectorAll("input:checked").length')).toBe(boxes);
    expect(boxes).toBe(3);
  });

  it('are taken from the list to a fitting and back', async () => {
    await open(join(opera.out, 'index.html'));
    const names = await browser.evaluate<string[]>(
      '[...document.querySelectorAll("tbody a")].map((a) => a.textContent)',
    );
    expect(names).toEqual(opera.pages.map((p) => p.ledger.fitting));
    await open(
      decodeURI(await browser.evaluate<string>('document.querySelectorAll("tbody a")[5].href')).replace('file://', ''),
    );
    expect(await browser.evaluate('document.querySelector("h1").textContent')).toBe(opera.pages[5]!.ledger.fitting);
    expect(await browser.evaluate<string>('document.querySelector(".up a").href')).toBe(
      pathToFileURL(join(opera.out, 'index.html')).href,
    );
  });

  describe.skipIf(!pdfTools())('printed', () => {
    const printed = async (path: string): Promise<string> => {
      await open(path);
      const { data } = await browser.ask<{ data: string }>('Page.printToPDF', {
        preferCSSPageSize: false,
        paperWidth: 8.27,
        paperHeight: 11.69,
      });
      const pdf = join(scratch, 'printed.pdf');
      writeFileSync(pdf, Buffer.from(data, 'base64'));
      return pdf;
    };

    it('come on a handful of sheets, the cutting list on one of its own', async () => {
      for (const { folder, ledger } of opera.pages) {
        const pdf = await printed(join(folder, 'fitting.html'));
        const sheets = pageSizes(pdf).length;
        expect(sheets, folder).toBeGreaterThanOrEqual(ledger.status === 'done' ? 4 : 1);
        expect(sheets, folder).toBeLessThanOrEqual(ledger.status === 'done' ? 8 : 3);
        const texts = Array.from(
          { length: sheets },
          (_, i) => run('pdftotext', ['-f', `${i + 1}`, '-l', `${i + 1}`, '-layout', pdf, '-']).stdout,
        );
        if (ledger.status === 'done')
          expect(texts.filter((t) => t.trimStart().startsWith('Cutting list'))).toHaveLength(1);
      }
    });

    it('are dark on white, whatever the screen is', async () => {
      await browser.ask('Emulation.setEmulatedMedia', {
        media: 'print',
        features: [{ name: 'prefers-color-scheme', value: 'dark' }],
      });
      await open(join(opera.pages[0]!.folder, 'fitting.html'));
      expect(await browser.evaluate('getComputedStyle(document.body).color')).toBe('rgb(28, 28, 28)');
      expect(await browser.evaluate('getComputedStyle(document.body).backgroundColor')).toBe('rgb(255, 255, 255)');
      await browser.ask('Emulation.setEmulatedMedia', { media: '', features: [] });
    });

    it('have their pictures in true size: the bar of the key', async () => {
      const html = readFileSync(join(opera.pages[0]!.folder, 'fitting.html'), 'utf8');
      const scale = Number(/4 in at 1:(\d+)/.exec(html.replaceAll('\u00a0', ' '))?.[1]);
      await open(join(opera.pages[0]!.folder, 'fitting.html'));
      await browser.ask('Emulation.setEmulatedMedia', { media: 'print' });
      await screen(794, 1123);
      const bars = await browser.evaluate<number[]>(
        `[...document.querySelectorAll('.f-rule')].map((r) => r.getBoundingClientRect().width * 25.4 / 96)`,
      );
      await browser.ask('Emulation.setEmulatedMedia', { media: '' });
      expect(
        bars.some((b) => Math.abs(b - 101.6 / scale) < 0.02),
        `${scale}: ${bars.slice(0, 4)}`,
      ).toBe(true);
    });
  });
});
