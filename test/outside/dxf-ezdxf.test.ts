import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Drawing, DrawingChanges, PathChange, PathDrawable } from '../../src/formats/drawing.ts';
import { dxf } from '../../src/formats/dxf/index.ts';
import { cubic, line, pointAt, type Segment } from '../../src/geometry/segment.ts';
import {
  type Affine,
  compose,
  IDENTITY,
  rotation,
  transformSegment,
  translation,
} from '../../src/geometry/transform.ts';
import { outsideAvailable, python } from './python.ts';

/**
 * Files written by ezdxf, a general-purpose DXF library, are read, changed and written, and what we say of them is
 * compared with what ezdxf says: sampled points of every curve, placed by its own block explosion; its audit of what
 * we wrote has no errors.
 */
const available = outsideAvailable(['ezdxf']);
const folder = mkdtempSync(join(tmpdir(), 'dxf-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const VERSIONS = ['R12', 'R2000', 'R2004', 'R2007', 'R2010', 'R2013', 'R2018'] as const;
const FORMS = ['asc', 'bin'] as const;

const MAKE = `
import ezdxf, math
answer = []
for version in given['versions']:
    for form in ('asc', 'bin'):
        doc = ezdxf.new(version)
        if version != 'R12':
            doc.header['$INSUNITS'] = 4
        doc.layers.add('grün')
        msp = doc.modelspace()
        block = doc.blocks.new('PIECE', base_point=(10, 5))
        inner = doc.blocks.new('MARK')
        inner.add_line((0, 0), (5, 0)); inner.add_arc((0, 0), 3, 20, 200)
        block.add_blockref('MARK', (40, 30), dxfattribs={'rotation': 30, 'xscale': 2, 'yscale': 2})
        if version == 'R12':
            block.add_polyline2d([(0, 0, 0), (100, 0, 0.3), (100, 60, 0), (0, 60, -0.2)], format='xyb', close=True)
        else:
            block.add_lwpolyline([(0, 0, 0), (100, 0, 0.3), (100, 60, 0), (0, 60, -0.2)], format='xyb', close=True)
        block.add_circle((50, 30), 7)
        block.add_text('Vorderteil', height=4, dxfattribs={'layer': 'grün'}).set_placement((20, 20)) if hasattr(ezdxf.entities.Text, 'set_placement') else block.add_text('Vorderteil', dxfattribs={'height': 4, 'layer': 'grün'}).set_pos((20, 20))
        block.add_attdef('NAME', (5, 5), dxfattribs={'height': 3})
        ref = msp.add_blockref('PIECE', (200, 100), dxfattribs={'rotation': 25})
        ref.add_attrib('NAME', 'Rücken', (210, 110), dxfattribs={'height': 3})
        msp.add_blockref('PIECE', (-150, 20), dxfattribs={'xscale': -1, 'rotation': 10})
        msp.add_blockref('MARK', (300, 300), dxfattribs={'row_count': 2, 'column_count': 3, 'row_spacing': 20, 'column_spacing': 15, 'rotation': 12})
        msp.add_line((0, 0), (120, 35)); msp.add_arc((10, 10), 25, 300, 40); msp.add_circle((5, -40), 12)
        msp.add_arc((30, 40), 9, 10, 100, dxfattribs={'extrusion': (0, 0, -1)})
        msp.add_point((7, 8))
        msp.add_polyline2d([(0, 0, 0.5), (30, 10, 0), (45, -20, 0)], format='xyb')
        if version != 'R12':
            msp.add_ellipse((60, -80), major_axis=(30, 12), ratio=0.4, start_param=0.5, end_param=4)
            msp.add_spline_control_frame([(0, 100), (30, 160), (60, 90), (110, 130), (140, 100)], degree=3) if hasattr(msp, 'add_spline_control_frame') else None
            s = msp.add_spline(); s.set_open_uniform([(0, -100), (20, -150), (60, -90), (80, -140)], 3)
            q = msp.add_spline(); q.set_open_rational([(0, -200), (20, -250), (60, -190)], [1, 2, 1], 2)
            msp.add_lwpolyline([(0, 0, 0, 0, 1), (50, 0, 0, 0, 0), (50, 50, 0, 0, -0.4)], dxfattribs={'extrusion': (0, 0, -1)})
            msp.add_mtext('Fadenlauf\\\\PÄrmel', dxfattribs={'char_height': 5, 'insert': (9, 9)})
            msp.add_hatch()
        path = '%s/%s-%s.dxf' % (given['folder'], version, form)
        doc.saveas(path, fmt=form)
        answer.append(path)
`;

/** Points along every curve of the model space, blocks exploded, and the texts; with the audit. */
const LOOK = `
import ezdxf
from ezdxf import recover
from ezdxf.math import Vec3
answer = []
def leaves(entity):
    if entity.dxftype() == 'INSERT':
        if entity.mcount > 1:
            for one in entity.multi_insert():
                yield from leaves(one)
        else:
            for one in entity.virtual_entities():
                yield from leaves(one)
            yield from entity.attribs
    else:
        yield entity
def sampled(e):
    kind = e.dxftype()
    if kind == 'LINE':
        return [Vec3(e.dxf.start), Vec3(e.dxf.end)]
    if kind in ('LWPOLYLINE', 'POLYLINE'):
        points = []
        for one in e.virtual_entities():
            part = sampled(one)
            # Arcs run anticlockwise whichever way the polyline does.
            if points and (part[-1] - points[-1]).magnitude < (part[0] - points[-1]).magnitude:
                part.reverse()
            points += part
        return points
    if kind == 'SPLINE':
        return list(e.construction_tool().flattening(0.001, segments=8))
    return list(e.flattening(0.005))
def looked(name):
    doc = ezdxf.readfile(name) if open(name, 'rb').read(3) == b'Aut' else recover.readfile(name)[0]
    audit = doc.audit()
    curves, texts, points = [], [], []
    for top in doc.modelspace():
        for e in leaves(top):
            kind = e.dxftype()
            if kind in ('TEXT', 'ATTRIB', 'MTEXT'):
                at = e.ocs().to_wcs(Vec3(e.dxf.insert)) if kind != 'MTEXT' else e.dxf.insert
                texts.append([e.plain_text() if kind != 'ATTRIB' else e.dxf.text, at[0], at[1]])
            elif kind == 'POINT':
                points.append([e.dxf.location[0], e.dxf.location[1]])
            elif kind in ('LINE', 'ARC', 'CIRCLE', 'ELLIPSE', 'SPLINE', 'LWPOLYLINE') or (kind == 'POLYLINE' and not (e.is_poly_face_mesh or e.is_polygon_mesh)):
                curves.append([kind, e.dxf.layer, [[v[0], v[1]] for v in sampled(e)]])
    errors = [str(x.message) for x in audit.errors]
    fixes = [str(x.message) for x in audit.fixes]
    return {'curves': curves, 'texts': texts, 'points': points, 'errors': errors, 'fixes': fixes}
for name in given:
    try:
        answer.append(looked(name))
    except Exception as e:
        answer.append({'curves': [], 'texts': [], 'points': [], 'errors': [repr(e)], 'fixes': []})
`;

interface Look {
  readonly curves: readonly (readonly [string, string, readonly (readonly [number, number])[]])[];
  readonly texts: readonly (readonly [string, number, number])[];
  readonly points: readonly (readonly [number, number])[];
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
}

const look = (names: readonly string[]): Look[] => python(LOOK, names) as Look[];

const read = (name: string): Drawing => {
  const result = dxf.read(readFileSync(name), { fileName: name, units: { millimetresPerUnit: 1, name: 'mm' } });
  if (result.drawing === undefined) throw new Error(JSON.stringify(result.findings));
  return result.drawing;
};

const paths = (drawing: Drawing): PathDrawable[] =>
  drawing.drawables.filter((d): d is PathDrawable => d.kind === 'path');

/** Least distance from a point to a sampled line. */
const distanceTo = (samples: readonly (readonly [number, number])[], x: number, y: number): number => {
  let best = Infinity;
  for (let i = 1; i < samples.length; i++) {
    const [ax, ay] = samples[i - 1] as [number, number];
    const [bx, by] = samples[i] as [number, number];
    const n = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = n === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / n));
    best = Math.min(best, Math.hypot(ax + t * (bx - ax) - x, ay + t * (by - ay) - y));
  }
  return best;
};

const samplesOf = (segments: readonly Segment[], each = 16): [number, number][] =>
  segments.flatMap((s) =>
    Array.from({ length: each + 1 }, (_, i) => pointAt(s, i / each)).map((p): [number, number] => [p.x, p.y]),
  );

/** ezdxf flattens within 0.01 mm; its curves and ours may lie so far apart and not farther. */
const FLATTENED = 0.015;

/** Whether every point lies within the tolerance of a sampled line. */
const along = (
  points: readonly (readonly [number, number])[],
  line: readonly (readonly [number, number])[],
  tolerance: number,
): boolean => points.every(([x, y]) => distanceTo(line, x, y) <= tolerance);

/** Every curve that ezdxf sees is one of ours and the other way round, whatever their order. */
const expectSameCurves = (
  ours: readonly (readonly Segment[])[],
  theirs: Look['curves'],
  tolerance = FLATTENED,
  name = '',
): void => {
  expect(ours.length, name).toBe(theirs.length);
  const left = new Set(theirs);
  for (const segments of ours) {
    const each = segments.length < 8 ? 240 : 24;
    const samples = samplesOf(segments, each);
    const few = samples.filter((_, i) => i % 5 === 0);
    const match = [...left].find(
      ([, , points]) =>
        along(few, points, tolerance) &&
        along(
          points.filter((_, i) => i % 3 === 0 || i === points.length - 1),
          samples,
          tolerance * 4,
        ),
    );
    expect(match, `${name}: no curve of ezdxf is like ${JSON.stringify(segments[0])}`).toBeDefined();
    if (match !== undefined) left.delete(match);
  }
};

/** ezdxf 0.18 tells of a SEQEND on every R12 POLYLINE, its own too. */
const realFixes = (l: Look): string[] => l.fixes.filter((f) => !f.includes('SEQEND'));

describe.skipIf(!available)('DXF against ezdxf', () => {
  let files: string[] = [];
  let looks: Look[] = [];
  /** The versions that differ in what they can hold or how they hold it; the others are read only. */
  let some: string[] = [];
  beforeAll(() => {
    files = python(MAKE, { folder, versions: VERSIONS }) as string[];
    looks = look(files);
    some = files.filter((f) => /R12|R2000|R2007|R2018/.test(f));
  }, 60_000);

  it('made every version in both forms', () => expect(files.length).toBe(VERSIONS.length * FORMS.length));

  it('reads the same curves, points and texts', () => {
    for (const [i, file] of files.entries()) {
      const drawing = read(file);
      const theirs = looks[i] as Look;
      expectSameCurves(
        paths(drawing).map((p) => p.path.segments),
        theirs.curves,
      );
      const at = (x: number, y: number) => `${x.toFixed(3)} ${y.toFixed(3)}`;
      const ourTexts = drawing.drawables.flatMap((d) => (d.kind === 'text' ? [`${d.text} ${at(d.at.x, d.at.y)}`] : []));
      expect(ourTexts.sort()).toEqual(theirs.texts.map(([t, x, y]) => `${t} ${at(x, y)}`).sort());
      const ourPoints = drawing.drawables.flatMap((d) => (d.kind === 'point' ? [at(d.at.x, d.at.y)] : []));
      expect(ourPoints.sort()).toEqual(theirs.points.map(([x, y]) => at(x, y)).sort());
    }
  });

  it('gives the very bytes when nothing changes', () => {
    for (const file of files) {
      const bytes = readFileSync(file);
      const nothing: DrawingChanges = { paths: new Map(), texts: new Map(), points: new Map(), additions: [] };
      expect(Buffer.compare(bytes, dxf.patch(read(file), nothing).bytes)).toBe(0);
    }
  });

  /** Changes `change` every path once for each definition, writes, and gives ours as expected beside ezdxf's view. */
  const patched = (
    name: string,
    change: (p: PathDrawable) => PathChange,
  ): { ours: (readonly Segment[])[]; file: string } => {
    const drawing = read(name);
    const placements = new Map<string, number>();
    for (const d of drawing.drawables) placements.set(d.definition, (placements.get(d.definition) ?? 0) + 1);
    const changes = new Map<string, PathChange>();
    for (const p of paths(drawing)) if (placements.get(p.definition) === 1) changes.set(p.id, change(p));
    const result = dxf.patch(drawing, { paths: changes, texts: new Map(), points: new Map(), additions: [] });
    expect(result.findings.filter((f) => f.level === 'error')).toEqual([]);
    const file = `${name.slice(0, -4)}-patched.dxf`;
    writeFileSync(file, result.bytes);
    return { file, ours: paths(drawing).map((p) => changes.get(p.id)?.segments.flat() ?? p.path.segments) };
  };

  const compare = (change: (p: PathDrawable) => PathChange, tolerance: number): void => {
    const done = some.map((file) => patched(file, change));
    for (const [i, seen] of look(done.map((d) => d.file)).entries()) {
      expect(seen.errors).toEqual([]);
      expect(realFixes(seen)).toEqual(realFixes(looks[files.indexOf(some[i] as string)] as Look));
      expectSameCurves((done[i] as (typeof done)[number]).ours, seen.curves, tolerance);
      const again = read((done[i] as (typeof done)[number]).file);
      expectSameCurves(
        paths(again).map((p) => p.path.segments),
        seen.curves,
        tolerance,
      );
    }
  };

  const through =
    (m: Affine) =>
    (p: PathDrawable): PathChange => ({ segments: p.path.segments.map((s) => transformSegment(m, s)) });

  it(
    'writes what moved as ezdxf reads it',
    () => compare(through(compose(translation({ x: 12.345, y: -6.789 }), rotation(0.37))), FLATTENED + 0.002),
    30_000,
  );

  it(
    'writes what was stretched as ezdxf reads it',
    () => compare(through({ ...IDENTITY, a: 1.1, c: 0.07, d: 0.95 }), 0.02 + FLATTENED),
    30_000,
  );

  it('writes lines bent into curves as ezdxf reads them', () => {
    const bent = (p: PathDrawable): PathChange => ({
      segments: p.path.segments.map((s, i): readonly Segment[] => {
        if (s.kind !== 'line' || i % 2 === 1) return [s];
        const at = (t: number, out: number) => ({
          x: s.from.x + (s.to.x - s.from.x) * t - (s.to.y - s.from.y) * out,
          y: s.from.y + (s.to.y - s.from.y) * t + (s.to.x - s.from.x) * out,
        });
        const middle = at(0.5, 0.08);
        return [cubic(s.from, at(0.15, 0.05), at(0.35, 0.08), middle), line(middle, s.to)];
      }),
    });
    compare(bent, 0.02 + FLATTENED);
  }, 30_000);

  it('adds entities that ezdxf finds in the right place', () => {
    const done = files.map((file) => {
      const drawing = read(file);
      const like = paths(drawing).find((p) => p.container === 'root' && p.entity === 'LINE') as PathDrawable;
      const bow = cubic({ x: 400, y: 0 }, { x: 420, y: 30 }, { x: 440, y: 30 }, { x: 460, y: 0 });
      const result = dxf.patch(drawing, {
        paths: new Map(),
        texts: new Map(),
        points: new Map(),
        additions: [
          { kind: 'path', like: like.id, path: { segments: [line({ x: 1, y: 2 }, { x: 3, y: 4.5 })], closed: false } },
          { kind: 'path', like: like.id, path: { segments: [bow, line(bow.to, bow.from)], closed: true } },
          { kind: 'point', like: like.id, at: { x: 500, y: 501 } },
          { kind: 'text', like: like.id, at: { x: 510, y: 511 }, text: 'Bügel ⅜', angle: 0.5, height: 6 },
        ],
      });
      const out = `${file.slice(0, -4)}-added.dxf`;
      writeFileSync(out, result.bytes);
      return out;
    });
    for (const [i, seen] of look(done).entries()) {
      const before = looks[i] as Look;
      expect(seen.errors).toEqual([]);
      expect(realFixes(seen)).toEqual(realFixes(before));
      expect(seen.curves.length).toBe(before.curves.length + 2);
      expect(seen.points.length).toBe(before.points.length + 1);
      const added = seen.texts.find(([t]) => t.startsWith('Bügel'));
      expect(added?.[1]).toBeCloseTo(510, 6);
      expectSameCurves(
        paths(read(done[i] as string)).map((p) => p.path.segments),
        seen.curves,
        0.02 + FLATTENED,
      );
    }
  }, 30_000);

  it('writes whole new files that ezdxf audits clean', () => {
    const done = files.map((file) => {
      const drawing = read(file);
      const { bytes } = dxf.write(drawing);
      expect(Buffer.compare(bytes, dxf.write(drawing).bytes)).toBe(0);
      const out = `${file.slice(0, -4)}-new.dxf`;
      writeFileSync(out, bytes);
      return out;
    });
    for (const [i, seen] of look(done).entries()) {
      expect(seen.errors).toEqual([]);
      expect(seen.fixes).toEqual([]);
      expectSameCurves(
        paths(read(files[i] as string)).map((p) => p.path.segments),
        seen.curves,
        FLATTENED,
      );
      expect(seen.texts.length).toBe((looks[i] as Look).texts.length);
    }
  }, 30_000);
});

/** Public files of general-purpose libraries, where they are at hand beside the project. */
const VECTORS = join(import.meta.dirname, '../../../shared/data/vectors/dxf');

describe.skipIf(!existsSync(VECTORS))('public DXF files', () => {
  const names = existsSync(VECTORS) ? readdirSync(VECTORS).filter((n) => n.endsWith('.dxf')) : [];
  const nothing: DrawingChanges = { paths: new Map(), texts: new Map(), points: new Map(), additions: [] };

  it.each(names)('%s is read, and written back byte for byte', (name) => {
    const bytes = readFileSync(join(VECTORS, name));
    const { drawing, findings } = dxf.read(bytes, { fileName: name });
    expect(
      findings.filter((f) => f.level === 'error' && !['dxf-units-unstated', 'dxf-nothing-drawn'].includes(f.code)),
    ).toEqual([]);
    if (drawing !== undefined) expect(Buffer.compare(bytes, dxf.patch(drawing, nothing).bytes)).toBe(0);
  });

  it.skipIf(!available)(
    'hold the curves that ezdxf finds in them',
    () => {
      let compared = 0;
      for (const [i, seen] of look(names.map((n) => join(VECTORS, n))).entries()) {
        const name = names[i] as string;
        // What ezdxf 0.18 cannot load, or explode, cannot be compared.
        if (seen.curves.length === 0) continue;
        const { drawing } = dxf.read(readFileSync(join(VECTORS, name)), {
          fileName: name,
          units: { millimetresPerUnit: 1, name: 'mm' },
        });
        if (drawing === undefined) throw new Error(name);
        expectSameCurves(
          paths(drawing).map((p) => p.path.segments),
          seen.curves,
          FLATTENED,
          name,
        );
        compared += 1;
      }
      expect(compared).toBeGreaterThan(40);
    },
    60_000,
  );
});
