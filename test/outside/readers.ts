import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';

/* Programs that know nothing of this one and open the files it writes. What is said of exit codes was tried. */

export interface Reader {
  readonly program: string;
  /** The Debian package it comes with. */
  readonly debian: string;
  readonly reads: 'dxf' | 'svg';
  /** Spoils a file so that this reader must complain. */
  readonly spoiled: (whole: string) => string;
  /** What is wrong with each file that it does not open; the files lie in one folder. */
  readonly complaints: (files: readonly string[]) => readonly string[];
}

const run = (program: string, args: readonly string[], cwd?: string) =>
  spawnSync(program, args, {
    encoding: 'utf8',
    timeout: 60_000,
    maxBuffer: 64 * 1024 * 1024,
    env: { ...process.env, QT_QPA_PLATFORM: 'offscreen' },
    ...(cwd ? { cwd } : {}),
  });

/** Dark dots on the first page of a PDF, drawn small. */
const inkOn = (pdf: string): number => {
  const drawn = spawnSync('pdftoppm', ['-gray', '-scale-to', '1500', '-f', '1', '-l', '1', pdf], {
    maxBuffer: 64 * 1024 * 1024,
  });
  if (drawn.status !== 0) return 0;
  // A grey map: three numbers in text (width, height, most), then a byte for each dot.
  const head = /^P5\s+\d+\s+\d+\s+\d+\s/.exec(drawn.stdout.subarray(0, 64).toString('latin1'))?.[0].length ?? 0;
  return drawn.stdout.subarray(head).reduce((n, grey) => n + (grey < PAPER ? 1 : 0), 0);
};

const BLANK = 200;
/** Thin lines on a large page come out pale. */
const PAPER = 250;

const brokenOff = (whole: string): string => whole.slice(0, whole.length * 0.6);

/** LibreCAD ends with 0 whatever happens, and hangs on bad input: only the page it makes counts. */
const libreCad: Reader = {
  program: 'librecad',
  debian: 'librecad',
  reads: 'dxf',
  spoiled: brokenOff,
  complaints: (files) => {
    const folder = mkdtempSync(join(tmpdir(), 'librecad-'));
    try {
      // It writes beside its input; the names are told apart by a number.
      const copies = files.map((file, i) => join(folder, `${i}-${basename(file)}`));
      for (const [i, copy] of copies.entries()) copyFileSync(files[i] as string, copy);
      run(
        'timeout',
        [String(8 + 2 * files.length), 'librecad', 'dxf2pdf', '--fit', ...copies.map((c) => basename(c))],
        folder,
      );
      return copies.flatMap((copy, i) => {
        const pdf = copy.replace(/\.dxf$/, '.pdf');
        if (!existsSync(pdf)) return [`${files[i]}: no page was made`];
        return inkOn(pdf) < BLANK ? [`${files[i]}: the page is blank`] : [];
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

/** A missing block is only a message to it. */
const dime: Reader = {
  program: 'dxf2vrml',
  debian: 'dime',
  reads: 'dxf',
  spoiled: brokenOff,
  complaints: (files) =>
    files.flatMap((file) => {
      const { status, stdout, stderr } = run('dxf2vrml', [file]);
      const lines = stdout.match(/IndexedLineSet/g)?.length ?? 0;
      return status === 0 && stderr.trim() === '' && lines > 0 ? [] : [`${file}: ${status} ${stderr} ${lines} lines`];
    }),
};

/** Ends with 0 on what is malformed, and mends what breaks off: every shape must come back with a box. */
const inkscape: Reader = {
  program: 'inkscape',
  debian: 'inkscape',
  reads: 'svg',
  spoiled: (whole) => whole.replaceAll(' d="M', ' d="X'),
  complaints: (files) =>
    files.flatMap((file) => {
      const { stdout } = run('inkscape', ['--query-all', file]);
      const boxes = stdout
        .split('\n')
        .filter((l) => /^(path|rect|circle|line|poly|text)\w*,/.test(l) && !/,0,0$|nan/.test(l));
      const shapes = readFileSync(file, 'utf8').match(/<(path|rect|circle|line|polyline|polygon|text)\b/g)?.length ?? 0;
      return boxes.length >= shapes ? [] : [`${file}: ${boxes.length} boxes, ${shapes} shapes`];
    }),
};

const librsvg: Reader = {
  program: 'rsvg-convert',
  debian: 'librsvg2-bin',
  reads: 'svg',
  spoiled: brokenOff,
  complaints: (files) => {
    const folder = mkdtempSync(join(tmpdir(), 'librsvg-'));
    try {
      return files.flatMap((file) => {
        const pdf = join(folder, 'page.pdf');
        const { status, stderr } = run('rsvg-convert', ['-f', 'pdf', '-o', pdf, file]);
        return status === 0 && stderr === '' && inkOn(pdf) >= BLANK ? [] : [`${file}: ${status} ${stderr}`];
      });
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

export const readers: readonly Reader[] = [libreCad, dime, inkscape, librsvg];

const installed = (program: string): boolean => !spawnSync(program, ['--version'], { timeout: 20_000 }).error;

/**
 * Whether a reader can be asked. Where checks must not be skipped (env CI set) a missing one throws; elsewhere the
 * check is skipped, and the name of its package told.
 */
export const readerAvailable = ({ program, debian }: Pick<Reader, 'program' | 'debian'>): boolean => {
  const missing = [...(installed(program) ? [] : [debian]), ...(installed('pdftoppm') ? [] : ['poppler-utils'])];
  if (missing.length === 0) return true;
  const message = `the Debian package ${missing.join(' and ')} is needed for the check with ${program}`;
  if (process.env.CI) throw new Error(message);
  process.stderr.write(`skipped: ${message}\n`);
  return false;
};
