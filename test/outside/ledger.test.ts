import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Ledger } from '../../src/job/ledger.ts';
import { alter } from '../../src/job/run/run.ts';
import { outsideAvailable, python } from './python.ts';

/**
 * Altered patterns are opened by programs that know nothing of ours, and measured by them: seam lines, hip widths and
 * darts must be what the ledger says.
 */
const OPERA = join(import.meta.dirname, '../../fixtures/jobs/opera');
const available = outsideAvailable(['ezdxf', 'shapely', 'svgelements']);
const folder = mkdtempSync(join(tmpdir(), 'retrue-ledger-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Agreement asked for: 0.05 %. */
const WITHIN = 0.0005;

interface MeasuredPiece {
  readonly perimeter: number;
  readonly darts: number;
  readonly hip: number | null;
}

/** Reads seam lines, inner lines, darts and texts of one file, in mm. */
const READ_DXF = `
import ezdxf
from ezdxf import path
def read(file):
    doc = ezdxf.readfile(file)
    errors = [str(e.message) for e in doc.audit().errors]
    # This ezdxf tells this of every R12 POLYLINE, its own too.
    audit.extend(e for e in errors if 'Deleted SEQEND' not in e)
    seams, lines, darts, texts = [], [], [], []
    for insert in doc.modelspace().query('INSERT'):
        for e in insert.virtual_entities():
            if e.dxftype() == 'TEXT':
                p = e.dxf.insert
                texts.append((e.dxf.text, p.x * 25.4, p.y * 25.4))
            elif e.dxftype() in ('LINE', 'POLYLINE'):
                points = [(p.x * 25.4, p.y * 25.4) for p in path.make_path(e).flattening(0.0005)]
                if e.dxf.layer == '14': seams.append(points)
                elif e.dxf.layer == '8': (lines if e.dxftype() == 'LINE' else darts).append(points)
    return seams, lines, darts, texts
`;
const READ_SVG = `
from svgelements import SVG, Shape, Path, Text, Line, Close, Move
MM = 25.4 / 96
def sampled(shape):
    points = []
    for s in abs(Path(shape)):
        if isinstance(s, Move): points.append(s.end)
        elif isinstance(s, (Line, Close)): points.append(s.end)
        else: points.extend(s.point(i / 400) for i in range(1, 401))
    return [(p.x * MM, -p.y * MM) for p in points if p is not None]
def read(file):
    seams, lines, darts, texts = [], [], [], []
    for e in SVG.parse(file, ppi=96).elements():
        if isinstance(e, Text):
            p = e.transform.point_in_matrix_space((e.x, e.y))
            texts.append((e.text, p.x * MM, -p.y * MM))
        elif isinstance(e, Shape):
            kind = e.values.get('class') or ''
            points = sampled(e)
            if kind == 'seam': seams.append(points)
            elif kind == 'dart': darts.append(points)
            elif len(points) == 2: lines.append(points)
    return seams, lines, darts, texts
`;

/** For each piece, smallest first: length of the seam line, width of dart mouths, width at the line labelled hip. */
const MEASURE = `
from math import dist, hypot
from shapely.geometry import LineString, Point, Polygon
audit = []
def pieces(file):
    seams, lines, darts, texts = read(file)
    found = []
    for seam in sorted(seams, key=lambda s: Polygon(s).area):
        area = Polygon(seam)
        hip = None
        labels = [Point(x, y) for text, x, y in texts if 'hip' in text.lower() and area.contains(Point(x, y))]
        if labels:
            (x0, y0), (x1, y1) = min(lines, key=lambda l: LineString(l).distance(labels[0]))
            n = hypot(x1 - x0, y1 - y0)
            far = [(x0 + k * (x1 - x0) / n, y0 + k * (y1 - y0) / n) for k in (-3000, 3000)]
            hip = area.intersection(LineString(far)).length
        mouths = sum(dist(d[0], d[-1]) for d in darts if area.buffer(0.5).contains(LineString(d)))
        found.append({'perimeter': area.exterior.length, 'darts': mouths, 'hip': hip})
    return found
answer = {'pieces': {f: pieces(f) for f in given}, 'audit': audit}
`;

describe.skipIf(!available).each([
  ['dxf', READ_DXF],
  ['svg', READ_SVG],
])('every altered %s', (format, reader) => {
  const ledgers: Ledger[] = [];
  let measured: { pieces: Record<string, MeasuredPiece[]>; audit: string[] } = { pieces: {}, audit: [] };
  const fileOf = (ledger: Ledger): string => join(folder, format, ledger.fitting, `chorus-skirt.${format}`);

  beforeAll(async () => {
    const request = {
      pattern: join(OPERA, `chorus-skirt.${format}`),
      fittings: join(OPERA, 'fittings.csv'),
      out: join(folder, format),
      to: 'dxf,svg',
      force: false,
    };
    await alter(request, { onFindings: () => undefined, onFitting: (o) => o.ledger && ledgers.push(o.ledger) });
    const files = ledgers.filter((l) => l.status === 'done').map(fileOf);
    measured = python(`${reader}\n${MEASURE}`, files) as typeof measured;
  });
  const done = () => ledgers.filter((l) => l.status === 'done');

  it('has the seam lines that the ledger says', () => {
    expect(done().length).toBeGreaterThanOrEqual(5);
    for (const ledger of done()) {
      const pieces = measured.pieces[fileOf(ledger)] ?? [];
      // By area the waistband is the smallest and the back the largest.
      for (const [i, id] of ['waistband', 'skirt-front', 'skirt-back'].entries()) {
        const edges = ledger.edges.filter((e) => e.piece === id).reduce((sum, e) => sum + e.after, 0);
        const { perimeter = 0, darts = 0 } = pieces[i] ?? {};
        expect(Math.abs(perimeter - darts - edges) / edges, `${ledger.fitting}, ${id}`).toBeLessThan(WITHIN);
      }
    }
  });

  it('has the hip that the ledger says, and the wearer needs', () => {
    for (const ledger of done()) {
      const hip = 2 * (measured.pieces[fileOf(ledger)] ?? []).reduce((sum, p) => sum + (p.hip ?? 0), 0);
      const girth = ledger.girths.find((g) => g.level === 'hip');
      expect(Math.abs(hip / (girth?.after ?? 0) - 1), ledger.fitting).toBeLessThan(WITHIN);
      const needed = ledger.measurements.find((m) => m.measurement === 'hip girth')?.needed ?? 0;
      expect(Math.abs(hip - (girth?.before ?? 0) - needed), ledger.fitting).toBeLessThan(0.1);
    }
  });

  it('stands the audit of the DXF library', () => {
    expect(measured.audit).toEqual([]);
  });

  it.skipIf(!program('rsvg-convert'))('is taken by librsvg', () => {
    for (const ledger of done()) {
      const svg = fileOf(ledger).replace(/dxf$/, 'svg');
      const { status, stderr } = spawnSync('rsvg-convert', ['-f', 'pdf', '-o', `${svg}.pdf`, svg], {
        encoding: 'utf8',
      });
      expect(stderr).toBe('');
      expect(status).toBe(0);
    }
  });

  // It answers 0 to whatever it is given: what counts is that it knows the elements and their size.
  it.skipIf(!program('inkscape'))('is taken by Inkscape at its true size', () => {
    const [ledger] = done();
    if (!ledger) throw new Error('nothing was altered');
    const svg = fileOf(ledger).replace(/dxf$/, 'svg');
    const { stdout } = spawnSync('inkscape', ['--query-all', svg], { encoding: 'utf8', timeout: 60_000 });
    const [, , , width = 0, height = 0] = (stdout.split('\n')[0] ?? '').split(',').map(Number);
    const page = /width="([\d.]+)(mm|in)" height="([\d.]+)(mm|in)"/.exec(readFileSync(svg, 'utf8')) ?? [];
    const pixels = (size: string | undefined, unit: string | undefined) =>
      Number(size) * (unit === 'mm' ? 96 / 25.4 : 96);
    expect(width).toBeGreaterThan(0.8 * pixels(page[1], page[2]));
    expect(width).toBeLessThan(1.2 * pixels(page[1], page[2]));
    expect(height).toBeGreaterThan(0.8 * pixels(page[3], page[4]));
    expect(stdout.split('\n').length).toBeGreaterThan(20);
  });

  // It answers 0 to what it cannot read, and may hang: what counts is that the sheet is there.
  it.skipIf(!program('librecad'))('is taken by LibreCAD', () => {
    const [ledger] = done();
    if (!ledger) throw new Error('nothing was altered');
    const file = fileOf(ledger).replace(/svg$/, 'dxf');
    const env = { ...process.env, QT_QPA_PLATFORM: 'offscreen' };
    spawnSync('librecad', ['dxf2pdf', 'chorus-skirt.dxf'], { cwd: dirname(file), env, timeout: 40_000 });
    expect(existsSync(file.replace(/dxf$/, 'pdf'))).toBe(true);
  });
});

/** Whether a program is there; where checks must not be skipped (env CI set) a missing one fails. */
function program(name: string): boolean {
  const there = spawnSync('which', [name]).status === 0;
  if (!there && process.env.CI) throw new Error(`${name} is needed for this check`);
  if (!there) process.stderr.write(`skipped: ${name} is needed for this check\n`);
  return there;
}
