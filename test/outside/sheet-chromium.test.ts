import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Sheet } from '../../src/formats/sheet.ts';
import { svgSheet } from '../../src/formats/svg/sheet.ts';
import { type Bounds, boundsOfPoints } from '../../src/geometry/bounds.ts';
import { pathBounds } from '../../src/geometry/path.ts';
import { plot } from '../../src/job/plot/plot.ts';
import { machineCalled } from '../../src/layout/machines.ts';
import { tilesOf, tiling } from '../../src/layout/tiles.ts';
import { frameOf, longRoll, machineOf, testSquare } from '../formats/sheet-sample.ts';
import { pageSizes, pdfTools, traced } from './pdf-tools.ts';
import { readerAvailable } from './readers.ts';
import { SCALE_ERROR } from './rings.ts';

/* Sheets in a browser, on the screen and printed by it: sizes within 0.05 %, not a word on its console. */

const INCHES = 4 * 25.4;
const A4 = { name: 'A4', width: 210, height: 297 };
const OVERLAP = 15;
const SKIRT = join(import.meta.dirname, '../../fixtures/jobs/opera/chorus-skirt.dxf');

let folder = '';
const at = (name: string): string => join(folder, name);

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A sheet as the browser shows it, mm from the upper left corner of the page, y down; lines without their width. */
interface Shown {
  /** What the browser finds wrong with it as XML. */
  readonly fault?: string;
  readonly page: Box;
  readonly lines: readonly (Box & { readonly layer: string; readonly piece: string })[];
  readonly words: readonly string[];
}

/** Runs Chromium on a page of the folder; gives what it prints and what it says on its console. */
const chromium = (page: string, ...what: readonly string[]): { stdout: string; console: readonly string[] } => {
  const own = mkdtempSync(at('profile-'));
  const quiet = ['no-first-run', 'disable-background-networking', 'disable-component-update', 'disable-sync'];
  const flags = ['headless', 'no-sandbox', 'disable-gpu', 'disable-quic', ...quiet, `user-data-dir=${own}`];
  const args = [...flags.map((f) => `--${f}`), '--enable-logging=stderr', ...what, pathToFileURL(at(page)).href];
  const env = { ...process.env, XDG_CONFIG_HOME: own };
  const done = spawnSync('chromium', args, { encoding: 'utf8', timeout: 30_000, maxBuffer: 64 * 1024 * 1024, env });
  if (done.status !== 0) throw new Error(`chromium ended with ${done.status ?? done.signal}:\n${done.stderr}`);
  return { stdout: done.stdout, console: done.stderr.split('\n').filter((l) => /:CONSOLE\W/.test(l)) };
};

/** Runs in the browser, which counts 96 px to the inch (CSS Values and Units 3, section 6.2). */
const MEASURE = `
const MM = 25.4 / 96;
const boxOf = (points, from) => {
  const [xs, ys] = [points.map((p) => (p.x - from.x) * MM), points.map((p) => (p.y - from.y) * MM)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
};
const corners = ({ x, y, width, height }) => [[x, y], [x + width, y], [x, y + height], [x + width, y + height]];
const shown = (text) => {
  const read = new DOMParser().parseFromString(text, 'image/svg+xml');
  const fault = read.querySelector('parsererror')?.textContent;
  if (fault) return { fault, page: { x: 0, y: 0, width: 0, height: 0 }, lines: [], words: [] };
  const svg = document.body.appendChild(document.importNode(read.documentElement, true));
  const page = svg.getBoundingClientRect();
  const lines = [...svg.querySelectorAll('path')].map((line) => {
    const points = corners(line.getBBox()).map(([x, y]) => new DOMPoint(x, y).matrixTransform(line.getScreenCTM()));
    const piece = line.closest('g:not([id])')?.querySelector('title').textContent ?? '';
    return { layer: line.closest('g[id]').id, piece, ...boxOf(points, page) };
  });
  const words = [...svg.querySelectorAll('text')].filter((t) => t.getBBox().width > 0).map((t) => t.textContent);
  return { page: boxOf(corners(page).map(([x, y]) => ({ x, y })), page), lines, words };
};
const found = JSON.stringify(sheets.map(shown));
document.body.replaceChildren();
document.body.append(Object.assign(document.createElement('pre'), { textContent: encodeURIComponent(found) }));
`;

/** The sheets laid into a page as they are, and measured there. */
const inBrowser = (sheets: readonly string[]): { shown: readonly Shown[]; console: readonly string[] } => {
  const data = JSON.stringify(sheets).replaceAll('<', '\\u003c');
  const page = [
    '<!DOCTYPE html><html><head><meta charset="utf-8"><title>Sheets</title></head><body>',
    '</body></html>',
  ];
  writeFileSync(at('sheets.html'), page.join(`<script>const sheets = ${data};${MEASURE}</script>`));
  const { stdout, console } = chromium('sheets.html', '--dump-dom');
  const found = /<pre>(.*?)<\/pre>/s.exec(stdout)?.[1];
  if (found === undefined) throw new Error(`nothing was measured:\n${[...console, stdout.slice(-1000)].join('\n')}`);
  return { shown: JSON.parse(decodeURIComponent(found)), console };
};

const near = (found: number, asked: number): boolean => Math.abs(found - asked) <= asked * SCALE_ERROR;
const fits = (box: Box, width: number, height = width): boolean => near(box.width, width) && near(box.height, height);
const guides = ({ lines }: Shown, side: number) => lines.filter((l) => l.layer === 'guide' && fits(l, side));

describe.skipIf(!readerAvailable({ program: 'chromium', debian: 'chromium' }))('sheets in Chromium', () => {
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'chromium-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true, maxRetries: 3 }));

  describe('a pattern plotted on sheets of A4', () => {
    let names: string[] = [];
    let texts: string[] = [];
    let seen: ReturnType<typeof inBrowser>;
    let layout: { width: number; length: number; pieces: { name: string; box: Box }[]; frames: { name: string }[] };
    beforeAll(async () => {
      const request = { paper: 'A4', to: 'svg', overlap: `${OVERLAP}`, effort: '1', seed: '1' };
      const done = await plot({ patterns: [SKIRT], out: at('tiled'), force: false, ...request });
      expect(done.exit).toBe(0);
      layout = JSON.parse(readFileSync(at('tiled/layout.json'), 'utf8')).layouts[0];
      names = layout.frames.map((f) => f.name);
      texts = names.map((n) => readFileSync(at(`tiled/chorus-skirt-${n}.svg`), 'utf8'));
      seen = inBrowser(texts);
    }, 60_000);

    it('is opened without a word on the console', () => {
      expect(seen.console).toEqual([]);
      expect(seen.shown.map((s) => s.fault)).toEqual(names.map(() => undefined));
      expect(names.length).toBeGreaterThan(6);
    });

    it('has pages of A4, each with its name', () => {
      for (const [i, { page, words }] of seen.shown.entries()) {
        expect(fits(page, A4.width, A4.height), `${names[i]}: ${page.width} × ${page.height}`).toBe(true);
        if (names[i] !== 'first') expect(words).toContain(names[i]);
      }
    });

    it('has both test squares at their size on the first page', () => {
      expect(names[0]).toBe('first');
      expect([100, INCHES].map((side) => guides(seen.shown[0]!, side).length)).toEqual([1, 1]);
    });

    it('has the pieces at their size and place across the sheets', () => {
      const { margins } = machineCalled('page-printer')!;
      const tiles = tilesOf(tiling(layout.length, layout.width, { paper: A4, margins, overlap: OVERLAP }));
      const onPlan = (name: string): Bounds => {
        const corners = seen.shown.flatMap(({ lines }, i) => {
          const tile = tiles.find((t) => t.name === names[i]);
          if (!tile) return [];
          const [dx, dy] = [tile.shows.minX - margins.left, tile.shows.minY - margins.bottom];
          return lines
            .filter((l) => l.layer === 'cut' && l.piece.includes(name))
            .flatMap((l) => [
              { x: l.x + dx, y: A4.height - l.y + dy },
              { x: l.x + l.width + dx, y: A4.height - l.y - l.height + dy },
            ]);
        });
        return boundsOfPoints(corners);
      };
      expect(layout.pieces).toHaveLength(3);
      for (const { name, box } of layout.pieces) {
        const { minX, minY, maxX, maxY } = onPlan(name);
        const found = { x: minX, y: minY, width: maxX - minX, height: maxY - minY };
        expect(fits(found, box.width, box.height), `${name}: ${JSON.stringify({ found, box })}`).toBe(true);
        expect(Math.hypot(found.x - box.x, found.y - box.y)).toBeLessThan(0.05);
      }
    });

    it('is printed on one sheet of A4 at its true size', { skip: !pdfTools() }, () => {
      const style = '@page { size: A4; margin: 0 } body { margin: 0 } img { display: block }';
      const image = '<img src="tiled/chorus-skirt-first.svg" alt="first page">';
      writeFileSync(at('print.html'), `<!DOCTYPE html><title>Print</title><style>${style}</style>${image}`);
      const pdf = at('print.pdf');
      const { console } = chromium('print.html', '--no-pdf-header-footer', `--print-to-pdf=${pdf}`);
      expect(console).toEqual([]);
      const sizes = pageSizes(pdf);
      expect(sizes).toHaveLength(1);
      // The browser prints on a page of whole dots, 300 to the inch, and may leave out one more.
      expect(Math.abs(sizes[0]![0] - A4.width)).toBeLessThan((2 * 25.4) / 300);
      expect(Math.abs(sizes[0]![1] - A4.height)).toBeLessThan((2 * 25.4) / 300);
      const squares = traced(pdf).map(({ points }) => {
        const { minX, minY, maxX, maxY } = boundsOfPoints(points.map(([x, y]) => ({ x, y })));
        return { x: minX, y: minY, width: maxX - minX, height: maxY - minY };
      });
      expect([100, INCHES].map((side) => squares.filter((s) => fits(s, side)).length)).toEqual([1, 1]);
    });

    it('is complained of when it is spoiled', () => {
      const whole = texts[0]!;
      const { shown, console } = inBrowser([
        whole.slice(0, whole.length * 0.6),
        whole.replace(' d="M', ' d="X'),
        whole.replace('viewBox="0 0 210 297"', 'viewBox="0 0 210.5 297.7"'),
      ]);
      expect(shown[0]!.fault).toBeDefined();
      expect(console.join('\n')).toContain('attribute d: Expected');
      expect(guides(shown[2]!, 100)).toEqual([]);
    });
  });

  describe('a roll of 12 m', () => {
    const [whole] = longRoll().frames;
    const marks = [...whole!.marks, testSquare({ x: 800, y: 200 }, INCHES)];
    const roll: Sheet = { ...longRoll(), frames: [frameOf('1', whole!.width, whole!.height, marks)] };
    let seen: ReturnType<typeof inBrowser>;
    beforeAll(async () => {
      const { files } = await svgSheet.write(roll, machineOf(), { name: 'roll' });
      seen = inBrowser(files.map((f) => new TextDecoder().decode(f.bytes)));
    }, 60_000);

    it('is opened without a word on the console', () => {
      expect(seen.console).toEqual([]);
      expect(seen.shown.map((s) => s.fault)).toEqual([undefined]);
    });

    it('has its whole length and width, and the test squares at either end', () => {
      const [shown] = seen.shown;
      expect(fits(shown!.page, 12_000, 914.4), JSON.stringify(shown!.page)).toBe(true);
      const metric = guides(shown!, 100).map((s) => s.x);
      expect(metric).toHaveLength(2);
      expect(metric[0]).toBeCloseTo(10, 1);
      expect(metric[1]).toBeCloseTo(11_890, 1);
      expect(guides(shown!, INCHES)).toHaveLength(1);
    });

    it('has the outline of every piece at its size and place', () => {
      const cuts = seen.shown[0]!.lines.filter((l) => l.layer === 'cut');
      const asked = marks.flatMap((m) => (m.kind === 'path' && m.purpose === 'cut' ? [m] : []));
      expect(asked).toHaveLength(6);
      expect(cuts).toHaveLength(6);
      for (const { path, piece } of asked) {
        const { minX, minY, maxX, maxY } = pathBounds(path);
        const own = cuts.filter((c) => c.piece === piece && fits(c, maxX - minX, maxY - minY));
        expect(own, piece).toHaveLength(1);
        expect(Math.hypot(own[0]!.x - minX, own[0]!.y - (914.4 - maxY)), piece).toBeLessThan(0.1);
      }
    });
  });
});
