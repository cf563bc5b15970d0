import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Ledger } from '../../src/job/ledger.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { apartFromLengths, FIXTURES, OPERA, type WrittenRun, writePages } from '../report/written.ts';
import { pageSizes, pdfTools, run, traced } from './pdf-tools.ts';
import { outsideAvailable, python } from './python.ts';

/*
 * The pictures on the pages, measured by independent readers: every edge, before and after, times the scale it is drawn
 * at is the length that the ledger has. svgelements measures the SVG in the HTML; MuPDF and poppler read the PDF.
 */

/** Rounding of the coordinates, a thousandth of a millimetre printed, at both ends of many short lines, mm. */
const CLOSE = 0.1;

const GARMENTS = [
  { pattern: join(OPERA, 'chorus-skirt.dxf'), drafted: undefined, wearer: 'waist girth=27 1/2in, hip girth=37 1/4in' },
  {
    pattern: join(FIXTURES, 'blocks/skirt-bulges-mirrored-cm-french-seam-line.dxf'),
    drafted: 'waist girth=26.5in, hip girth=36in',
    wearer: 'waist girth=27.5in, hip girth=37in',
  },
  {
    pattern: join(FIXTURES, 'blocks/bodice-panels-cubics-inches.svg'),
    drafted: 'bust girth=36in, waist girth=28in, shoulder length=4.75in',
    wearer: 'bust girth=37in, waist girth=29in, shoulder length=5in',
  },
  {
    pattern: join(FIXTURES, 'blocks/trousers-splines-straight-mirrored-turned-french.dxf'),
    drafted: 'waist girth=26.5in, hip girth=36in, crotch depth=276mm',
    wearer: 'waist girth=27.5in, hip girth=37in, crotch depth=285mm',
  },
] as const;

interface Drawn {
  readonly piece: string;
  readonly edge: string;
  readonly when: 'before' | 'after';
  /** mm printed. */
  readonly length: number;
}

/** Every picture of a page with the scale its caption or the key states. */
const picturesOf = (html: string): { readonly svg: string; readonly scale: number }[] => {
  const plain = html.replaceAll('\u00a0', ' ');
  const common = Number(/Drawn at 1:(\d+) when printed/.exec(plain)?.[1]);
  return [...plain.matchAll(/<figcaption[^>]*>([^<]*)<\/figcaption>(<svg[\s\S]*?<\/svg>)/g)].flatMap(
    ([, caption = '', svg = '']) =>
      svg.includes('data-edge') ? [{ svg, scale: Number(/Drawn at 1:(\d+)\./.exec(caption)?.[1] ?? common) }] : [],
  );
};

/** Lengths of all edges as svgelements reads them; with 25.4 px to the inch a millimetre is a unit. */
const measured = (svg: string): Drawn[] =>
  python(
    [
      'import io',
      'from svgelements import SVG, Path',
      'answer = []',
      'for e in SVG.parse(io.StringIO(given), ppi=25.4).elements():',
      '    if isinstance(e, Path) and e.values.get("data-edge"):',
      '        v = e.values',
      '        answer.append({"piece": v["data-piece"], "edge": v["data-edge"], "when": v["data-when"], "length": e.length(error=1e-6)})',
    ].join('\n'),
    svg,
  ) as Drawn[];

/** Edges across which darts are drawn as lines: there the picture has the whole line, the ledger what is sewn of it. */
const withMouths = async (path: string): Promise<ReadonlySet<string>> => {
  const { file } = await readPatternFile(path, {});
  return new Set(
    file?.pattern.pieces.flatMap((p) => p.darts.flatMap((d) => (d.drawn.as === 'lines' ? [`${p.id}/${d.edge}`] : []))),
  );
};

const available = outsideAvailable(['svgelements']);

describe.skipIf(!available).each(GARMENTS)('pictures of $pattern', ({ pattern, drafted, wearer }) => {
  let written: WrittenRun;
  let ledger: Ledger;
  beforeAll(async () => {
    const report = 'html,pdf';
    written = await writePages({
      pattern,
      wearer,
      name: 'Ottilie',
      report,
      reportPaper: 'A4',
      ...(drafted ? { drafted } : {}),
    });
    ledger = written.pages[0]!.ledger;
  }, 120_000);
  afterAll(() => rmSync(written.out, { recursive: true, force: true }));

  it('has every edge as long as the ledger has it, before and after', async () => {
    expect(ledger.status, JSON.stringify(ledger.findings)).toBe('done');
    const made = join(written.pages[0]!.folder, ledger.outputs[0]!.file);
    const mouths = new Set([...(await withMouths(pattern)), ...(await withMouths(made))]);
    const drawn = picturesOf(written.pages[0]!.html).flatMap(({ svg, scale }) =>
      measured(svg).map((d) => ({ ...d, length: d.length * scale })),
    );
    expect(drawn).toHaveLength(2 * ledger.edges.length);
    let changed = 0;
    for (const { piece, edge, before, after } of ledger.edges) {
      if (mouths.has(`${piece}/${edge}`)) continue;
      for (const [when, asked] of [
        ['before', before],
        ['after', after],
      ] as const) {
        const found = drawn.find((d) => d.piece === piece && d.edge === edge && d.when === when);
        expect(Math.abs((found?.length ?? Number.NaN) - asked), `${piece} ${edge} ${when}`).toBeLessThan(CLOSE);
      }
      if (Math.abs(after - before) > 2 * CLOSE) changed++;
    }
    expect(changed).toBeGreaterThan(0);
  });

  it.skipIf(!pdfTools())('has sheets of A4 that qpdf and Ghostscript have no complaint about', () => {
    const pdf = join(written.pages[0]!.folder, 'fitting.pdf');
    run('qpdf', ['--check', pdf]);
    const { stdout, stderr } = run('gs', ['-q', '-dNOPAUSE', '-dBATCH', '-sDEVICE=nullpage', pdf]);
    expect(stdout + stderr).toBe('');
    for (const [width, height] of pageSizes(pdf)) {
      expect(width).toBeCloseTo(210, 1);
      expect(height).toBeCloseTo(297, 1);
    }
  });

  it.skipIf(!pdfTools())('has the same words on paper as on the screen, within the margins', () => {
    const pdf = join(written.pages[0]!.folder, 'fitting.pdf');
    const said = (text: string): string => text.replace(/\s+/gu, ' ');
    const words = said(run('pdftotext', ['-raw', pdf, '-']).stdout);
    for (const a of ledger.alterations)
      for (const did of a.did) expect(apartFromLengths(words)).toContain(apartFromLengths(said(did)));
    for (const o of ledger.outputs) expect(words.replaceAll(' ', '')).toContain(o.file);
    const boxes = [
      ...run('pdftotext', ['-bbox', pdf, '-']).stdout.matchAll(
        /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"/g,
      ),
    ];
    expect(boxes.length).toBeGreaterThan(100);
    const MM = 25.4 / 72;
    for (const [, x1, y1, x2, y2] of boxes) {
      expect(Number(x1) * MM).toBeGreaterThanOrEqual(13.9);
      expect(Number(x2) * MM).toBeLessThanOrEqual(196.2);
      expect(Number(y1) * MM).toBeGreaterThanOrEqual(12);
      expect(Number(y2) * MM).toBeLessThanOrEqual(292);
    }
  });

  it.skipIf(!pdfTools())('has the outlines on paper as wide and as high as on the screen', () => {
    const size = (points: readonly (readonly [number, number])[]): [number, number] => {
      const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
      return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
    };
    const onPaper = traced(join(written.pages[0]!.folder, 'fitting.pdf')).map((t) => size(t.points));
    for (const { svg } of picturesOf(written.pages[0]!.html)) {
      const edges = [...svg.matchAll(/class="f-is" d="([^"]*)" data-piece/g)].map(([, d = '']) => d);
      expect(edges.length).toBeGreaterThan(2);
      for (const d of edges.filter((e) => !/[AC]/.test(e))) {
        const numbers = [...d.matchAll(/-?[\d.]+/g)].map(Number);
        const points = numbers.flatMap((x, i) => (i % 2 === 0 ? [[x, numbers[i + 1] as number] as const] : []));
        const [w, h] = size(points);
        const there = onPaper.some(([pw, ph]) => Math.abs(pw - w) < 0.01 && Math.abs(ph - h) < 0.01);
        expect(there, `${d.slice(0, 60)}: ${w} × ${h}`).toBe(true);
      }
    }
  });
});

it.skipIf(!pdfTools())(
  'sets names of other scripts on paper with letters, not boxes',
  async () => {
    const written = await writePages({
      ...{
        pattern: join(OPERA, 'chorus-skirt.dxf'),
        wearer: 'waist girth=27in',
        name: 'かぐや姫 אביגיל',
        report: 'html,pdf',
      },
    });
    const pdf = join(written.pages[0]!.folder, 'fitting.pdf');
    const { stdout } = run('pdftotext', ['-f', '1', '-l', '1', pdf, '-']);
    for (const name of ['かぐや姫', 'אביגיל']) expect(stdout).toContain(name);
    expect(stdout).not.toContain('▯');
    expect(readFileSync(join(written.out, 'index.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    rmSync(written.out, { recursive: true });
  },
  120_000,
);
