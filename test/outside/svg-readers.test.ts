import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import type { PathDrawable } from '../../src/formats/drawing.ts';
import { svg } from '../../src/formats/svg/index.ts';
import { pathLength } from '../../src/geometry/path.ts';
import { rotation } from '../../src/geometry/transform.ts';
import { pathData, transforms } from '../formats/svg/arbitrary.ts';
import { boxOf, movedWhole, patched, pathsOf, readText, sheet } from '../formats/svg/helpers.ts';
import { outsideAvailable, python } from './python.ts';

/**
 * Length and box of every shape in each document, in mm with y up, as svgelements reads them at 96 px to the inch.
 * Its arcs become cubics of 3.6° before transforms are applied, for it skews the axes of an ellipse with the drawing;
 * curves are measured along their points.
 */
const SCRIPT = `
import io
from math import hypot
from svgelements import SVG, Shape, Path, Line, Close, Move
MM = 25.4 / 96

def length(segment):
    if isinstance(segment, Move) or segment.start is None or segment.end is None:
        return 0
    if isinstance(segment, (Line, Close)):
        return abs(segment.end - segment.start)
    corners = [p for p in (segment.start, getattr(segment, 'control', None), getattr(segment, 'control1', None), getattr(segment, 'control2', None), segment.end) if p is not None]
    reach = sum(abs(b - a) for a, b in zip(corners, corners[1:]))
    n = min(300, max(8, int(reach * 2)))
    points = [segment.point(i / n) for i in range(n + 1)]
    return sum(hypot(b.x - a.x, b.y - a.y) for a, b in zip(points, points[1:]))

answer = []
for text in given:
    found = []
    for element in SVG.parse(io.StringIO(text), ppi=96, reify=False).elements():
        if not isinstance(element, Shape):
            continue
        whole = Path(element)
        whole.approximate_arcs_with_cubics(error=0.01)
        for sub in abs(whole).as_subpaths():
            path = Path(sub)
            total = sum(length(s) for s in path) * MM
            if total == 0:
                continue
            x0, y0, x1, y1 = [v * MM for v in path.bbox()]
            found.append([total, x0, -y1, x1, -y0])
    answer.append(found)
`;

/**
 * It reflects the last control point of any curve, where SVG 2 (section 9.3.6 and 9.3.7) wants one of the same family;
 * such sequences are checked in test/formats/svg/pathdata.test.ts.
 */
const sameFamily = (data: string): boolean => !/[cs][^a-z]*t|[qt][^a-z]*s/i.test(data);

type Measured = [number, number, number, number, number];

const ours = (d: PathDrawable): Measured => [pathLength(d.path), ...boxOf(d)];

const SHAPES = [
  '<rect x="5" y="6mm" width="40" height="30" rx="5" ry="3"/>',
  '<rect x="1cm" y="2" width="10%" height="20%"/>',
  '<circle cx="50" cy="40" r="12.5"/>',
  '<ellipse cx="50" cy="40" rx="20" ry="8" transform="rotate(20 50 40)"/>',
  '<line x1="3" y1="4" x2="60" y2="70"/>',
  '<polyline points="0,0 10,5 20,0 30-5"/>',
  '<g transform="translate(20 10) scale(.5 2)"><polygon points="0,0 10,5 20,30" transform="skewX(10)"/></g>',
  '<svg x="10" y="20" width="50" height="100" viewBox="0 0 100 100"><path d="M0 0L100 0L100 100Z"/></svg>',
  '<defs><path id="welt" d="M0 0H30V4H0Z"/></defs><use href="#welt" x="12" y="7"/><use href="#welt" transform="rotate(90)"/>',
];

describe.skipIf(!outsideAvailable(['svgelements']))('lengths and places, against svgelements', () => {
  const compare = (documents: readonly string[], each: (document: string) => PathDrawable[]): void => {
    const measured = python(SCRIPT, documents) as Measured[][];
    for (const [i, document] of documents.entries()) {
      const read = each(document).map(ours);
      expect(read.length, document).toBe(measured[i]?.length);
      for (const [k, mine] of read.entries()) {
        for (const [n, value] of mine.entries()) {
          const theirs = measured[i]?.[k]?.[n] ?? Number.NaN;
          expect(Math.abs(value - theirs), `${document} shape ${k} value ${n}: ${value}, ${theirs}`).toBeLessThan(
            0.002 + Math.abs(theirs) * 1e-5,
          );
        }
      }
    }
  };

  it('basic shapes, nested drawings, placed shapes', () => {
    compare(
      SHAPES.map((s) => sheet(s)),
      (document) => pathsOf(readText(document).drawing),
    );
  });

  it('path data with every command, under transforms', () => {
    const samples = fc
      .sample(fc.tuple(pathData, transforms(false)), { numRuns: 50, seed: 1791 })
      .filter(([d]) => sameFamily(d));
    const documents = samples.map(([d, t]) => sheet(`<path transform="${t}" d="${d}"/>`));
    compare(documents, (document) => pathsOf(readText(document).drawing));
  });

  it('what a patch wrote, by the geometry that was asked for', () => {
    const samples = fc
      .sample(fc.tuple(pathData, transforms(true)), { numRuns: 40, seed: 1787 })
      .filter(([d]) => sameFamily(d));
    const wanted = new Map<string, PathDrawable[]>();
    for (const [d, t] of samples) {
      const { drawing } = readText(sheet(`<path transform="${t}" d="${d}"/>`));
      const by = rotation(0.4, { x: 20, y: -30 });
      const paths = pathsOf(drawing).map((p) => ({ p, segments: movedWhole(p, by) }));
      const { text } = patched(drawing, { paths: new Map(paths.map(({ p, segments }) => [p.id, { segments }])) });
      wanted.set(
        text,
        paths.map(({ p, segments }) => ({ ...p, path: { segments: segments.flat(), closed: p.path.closed } })),
      );
    }
    const measured = python(SCRIPT, [...wanted.keys()]) as Measured[][];
    for (const [i, [text, paths]] of [...wanted].entries()) {
      for (const [k, p] of paths.entries()) {
        const [length, ...box] = ours(p);
        expect(Math.abs(length - (measured[i]?.[k]?.[0] ?? Number.NaN)), text).toBeLessThan(0.02);
        for (const [n, v] of box.entries())
          expect(Math.abs(v - (measured[i]?.[k]?.[n + 1] ?? Number.NaN)), text).toBeLessThan(0.005);
      }
    }
  });
});

const converter = spawnSync('rsvg-convert', ['--version']).status === 0;
if (!converter && process.env.CI) throw new Error('rsvg-convert is needed for this check (package librsvg2-bin)');

describe.skipIf(!converter)('what is written, in rsvg-convert', () => {
  const folder = mkdtempSync(join(tmpdir(), 'svg-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  /** Page size of the PDF it makes, mm. */
  const accepted = (bytes: Uint8Array): [number, number] => {
    const file = join(folder, 'costume.svg');
    const out = join(folder, 'costume.pdf');
    writeFileSync(file, bytes);
    const run = spawnSync('rsvg-convert', ['-f', 'pdf', '-o', out, file], { encoding: 'utf8' });
    expect(run.stderr).toBe('');
    expect(run.status).toBe(0);
    const [, w, h] = /MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)/.exec(readFileSync(out, 'latin1')) ?? [];
    return [(Number(w) * 25.4) / 72, (Number(h) * 25.4) / 72];
  };

  it('a new drawing, at true size', () => {
    const { drawing } = readText(
      sheet(`${SHAPES.join('\n')}<text x="3" y="5">Zauberflöte &amp; Co<tspan x="3" dy="6">cut 2</tspan></text>`),
    );
    const { bytes } = svg.write(drawing);
    const [, width, height] = /width="(\d+)mm" height="(\d+)mm"/.exec(Buffer.from(bytes).toString('utf8')) ?? [];
    const [w, h] = accepted(bytes);
    expect(w).toBeCloseTo(Number(width), 1);
    expect(h).toBeCloseTo(Number(height), 1);
  });

  it('patched drawings, a changed path and a shape become a path', () => {
    for (const shape of [
      '<path d="M0 0a10 5 30 0 1 20 3t4 5 6 7c1 2 3 4 5 6s2 2 8 1z"/>',
      SHAPES[0] ?? '',
      SHAPES[3] ?? '',
    ]) {
      const { drawing } = readText(sheet(shape));
      const by = rotation(0.3);
      const changes = new Map(pathsOf(drawing).map((d) => [d.id, { segments: movedWhole(d, by) }]));
      const [w, h] = accepted(patched(drawing, { paths: changes }).bytes);
      expect(w).toBeCloseTo(200, 1);
      expect(h).toBeCloseTo(200, 1);
    }
  });
});

const vectors = join(import.meta.dirname, '../../../shared/data/vectors/svg');

describe.skipIf(!existsSync(vectors))('public vector drawings', () => {
  it('come back byte for byte, and can be written anew with all their lines', () => {
    for (const name of readdirSync(vectors)) {
      const bytes = new Uint8Array(readFileSync(join(vectors, name)));
      expect(svg.sniff(bytes), name).toBe(true);
      const { drawing } = svg.read(bytes, { fileName: name });
      if (drawing === undefined) throw new Error(`${name} was not read`);
      const unchanged = svg.patch(drawing, { paths: new Map(), texts: new Map(), points: new Map(), additions: [] });
      expect(Buffer.from(unchanged.bytes).equals(Buffer.from(bytes)), name).toBe(true);
      const again = svg.read(svg.write(drawing).bytes, { fileName: name }).drawing;
      expect(again?.drawables.length, name).toBe(drawing.drawables.length);
    }
  });
});
