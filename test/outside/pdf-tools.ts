import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { python } from './python.ts';

/* What poppler, MuPDF, Ghostscript and qpdf find in a PDF file. Millimetres, y up, from the lower left of the page. */

const MM = 25.4 / 72;

const PACKAGES: Readonly<Record<string, string>> = {
  pdfinfo: 'poppler-utils',
  mutool: 'mupdf-tools',
  gs: 'ghostscript',
  qpdf: 'qpdf',
};

/** Whether all the programs are there. Where checks must not be skipped (env CI set) a missing one throws. */
export const pdfTools = (): boolean => {
  const absent = Object.keys(PACKAGES).filter((name) => spawnSync(name, ['-v']).error);
  if (absent.length > 0 && process.env.CI) {
    throw new Error(`Needed for these checks: ${absent.map((n) => `${n} (package ${PACKAGES[n]})`).join(', ')}`);
  }
  return absent.length === 0;
};

/** Runs a program to its end. Throws with what it printed when it fails. */
export const run = (name: string, args: readonly string[]): { stdout: string; stderr: string } => {
  const done = spawnSync(name, args, { encoding: 'utf8', maxBuffer: 256 * 1024 * 1024, timeout: 60_000 });
  if (done.error) throw done.error;
  if (done.status !== 0) throw new Error(`${name} ${args.join(' ')} ended with ${done.status}:\n${done.stderr}`);
  return done;
};

/** A folder for a test file's PDF files, removed by `remove`. */
export const folder = (): { put: (name: string, bytes: Uint8Array) => string; remove: () => void; path: string } => {
  const path = mkdtempSync(join(tmpdir(), 'pdf-'));
  return {
    path,
    put: (name, bytes) => {
      writeFileSync(join(path, name), bytes);
      return join(path, name);
    },
    remove: () => rmSync(path, { recursive: true, force: true }),
  };
};

/** Page sizes as poppler states them, mm. */
export const pageSizes = (file: string): [number, number][] => {
  const { stdout } = run('pdfinfo', ['-f', '1', '-l', '99', file]);
  return [...stdout.matchAll(/^Page +\d+ size: +([\d.]+) x ([\d.]+)/gm)].map((m) => [
    Number(m[1]) * MM,
    Number(m[2]) * MM,
  ]);
};

export interface TracedPath {
  readonly page: number;
  readonly layer: string;
  /** Ends and control points. */
  readonly points: readonly (readonly [number, number])[];
  readonly closed: boolean;
}

/** Every stroked path as MuPDF sees it, with its transform applied. */
export const traced = (file: string): TracedPath[] => {
  const { stdout } = run('mutool', ['trace', file]);
  const paths: TracedPath[] = [];
  let [page, height, layer] = [0, 0, ''];
  for (const [item] of stdout.matchAll(/<page .*?>|<layer .*?>|<stroke_path [\s\S]*?<\/stroke_path>/g)) {
    if (item.startsWith('<page')) {
      page++;
      height = Number(/mediabox="\S+ \S+ \S+ (\S+)"/.exec(item)?.[1]);
    } else if (item.startsWith('<layer')) layer = /name="(.*?)"/.exec(item)?.[1] ?? '';
    else paths.push({ page, layer, ...tracedPath(item, height) });
  }
  return paths;
};

const tracedPath = (item: string, height: number): Pick<TracedPath, 'points' | 'closed'> => {
  const matrix = /transform="(.*?)"/.exec(item)?.[1]?.split(' ').map(Number) ?? [];
  const [a, b, c, d, e, f] = matrix as [number, number, number, number, number, number];
  const points = [...item.matchAll(/<(?:moveto|lineto|curveto) (.*?)\/>/g)].flatMap(([, attributes]) => {
    const numbers = [...(attributes ?? '').matchAll(/="(.*?)"/g)].map((m) => Number(m[1]));
    return Array.from({ length: numbers.length / 2 }, (_, i) => {
      const [x, y] = [numbers[2 * i] as number, numbers[2 * i + 1] as number];
      return [(a * x + c * y + e) * MM, (height - (b * x + d * y + f)) * MM] as const;
    });
  });
  return { points, closed: item.includes('<closepath/>') };
};

/** Box of all that is drawn on each page, line widths included, as Ghostscript finds it. */
export const boxes = (file: string): [number, number, number, number][] => {
  const { stderr } = run('gs', ['-q', '-dNOPAUSE', '-dBATCH', '-dSAFER', '-sDEVICE=bbox', file]);
  return [...stderr.matchAll(/%%HiResBoundingBox: (\S+) (\S+) (\S+) (\S+)/g)].map(
    (m) => m.slice(1).map((v) => Number(v) * MM) as [number, number, number, number],
  );
};

const MEASURE = `
from svgelements import SVG, Path, Shape
answer = []
for name in given:
    found = []
    for e in SVG.parse(name, ppi=96, reify=True).elements():
        if isinstance(e, Path) and e.values.get('style', '').startswith('fill:none'):
            x0, y0, x1, y1 = e.bbox(with_stroke=False)
            found.append([v * 25.4 / 96 for v in (e.length(error=1e-5), x1 - x0, y1 - y0)])
    answer.append(found)
`;

/** Length, width and height of every line of the pages: poppler turns them into SVG, svgelements measures that. */
export const measured = (file: string, pages: readonly number[]): [number, number, number][][] => {
  const names = pages.map((page) => {
    const name = `${file}.${page}.svg`;
    // Without these it shrinks every page by 0.04 % and centres it.
    run('pdftocairo', ['-svg', '-noshrink', '-nocenter', '-f', `${page}`, '-l', `${page}`, file, name]);
    return name;
  });
  return python(MEASURE, names) as [number, number, number][][];
};

export interface Picture {
  readonly width: number;
  readonly height: number;
  /** 0 black to 255 white, row by row from the top. */
  readonly grey: Uint8Array;
}

/** Every page drawn by poppler at so many points of the picture to the millimetre. */
export const pictures = (file: string, perMillimetre: number): Picture[] => {
  const stem = `${file}.at${perMillimetre}`;
  run('pdftoppm', ['-gray', '-r', `${25.4 * perMillimetre}`, file, stem]);
  const [dir, base] = [join(stem, '..'), stem.slice(stem.lastIndexOf('/') + 1)];
  const names = readdirSync(dir).filter((n) => n.startsWith(`${base}-`) && n.endsWith('.pgm'));
  return names.sort().map((n) => pgm(readFileSync(join(dir, n))));
};

const pgm = (bytes: Buffer): Picture => {
  const [head, width, height] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.toString('latin1', 0, 64)) ?? [''];
  return { width: Number(width), height: Number(height), grey: bytes.subarray(head.length) };
};
