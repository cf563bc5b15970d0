/**
 * Layouts looked at by other readers: ezdxf reads the outlines from the cutter file, shapely looks at them pair by pair
 * and compares them with where layout.json says that each piece of the pattern's own file lies.
 */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { outsideAvailable, python } from './python.ts';

const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');
const AVAILABLE = outsideAvailable(['ezdxf', 'shapely']);

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retrue-layout-'));
});
afterAll(() => rm(folder, { recursive: true }));

const SCRIPT = `
import ezdxf, math
from shapely.geometry import Polygon
from shapely import affinity

def rings(path, layer):
    found = []
    for e in ezdxf.readfile(path).modelspace():
        if e.dxf.layer != layer: continue
        if e.dxftype() == 'POLYLINE' and e.is_closed:
            found.append([(v.dxf.location.x, v.dxf.location.y) for v in e.vertices])
        if e.dxftype() == 'LWPOLYLINE' and e.closed:
            found.append([(x, y) for x, y, *_ in e.get_points()])
    return found

cut = [Polygon(r) for r in rings(given['sheet'], 'CUT')]
worst, nearest = 0, 1e9
for i, a in enumerate(cut):
    for b in cut[i + 1:]:
        worst = max(worst, a.intersection(b).area / min(a.area, b.area))
        nearest = min(nearest, a.distance(b))
bounds = [p.bounds for p in cut]

# The same outlines from the pattern's own file, put where the layout says.
sources = [Polygon(r) for r in rings(given['pattern'], given['layer']) if len(r) > 2]
off = []
for piece in given['pieces']:
    best = 1e9
    for s in sources:
        p = affinity.scale(s, -1, 1, origin=(0, 0)) if piece['mirror'] else s
        p = affinity.rotate(p, piece['turn'], origin=(0, 0))
        p = affinity.translate(p, piece['offset']['x'], piece['offset']['y'])
        for c in cut:
            best = min(best, p.symmetric_difference(c).area / c.area)
    off.append(best)
answer = {'count': len(cut), 'worst': worst, 'nearest': nearest, 'off': off,
          'box': [min(b[0] for b in bounds), min(b[1] for b in bounds), max(b[2] for b in bounds), max(b[3] for b in bounds)]}
`;

interface Answer {
  readonly count: number;
  readonly worst: number;
  readonly nearest: number;
  readonly off: readonly number[];
  readonly box: readonly [number, number, number, number];
}

describe.skipIf(!AVAILABLE)('a layout, to shapely', () => {
  it.each<[string, string[]]>([
    ['on paper', ['--lay', 'paper']],
    ['on cloth with a nap, each once', ['--lay', 'cloth', '--nap', '--copies', 'once']],
  ])('%s: no piece on another, the gap kept, each piece of the pattern where the record says', async (name, args) => {
    // A file whose outlines are closed polylines of straight lines, so that ezdxf needs no curve of ours.
    const pattern = join(BLOCKS, 'skirt-apparel-japanese-back-seam.dxf');
    const dir = join(folder, name);
    const quiet = { out: () => undefined, err: () => undefined, colour: false };
    const typed = [
      'plot',
      pattern,
      '--roll',
      '1500',
      '--gap',
      '6',
      '--to',
      'dxf',
      '--effort',
      '300',
      '--out',
      dir,
      ...args,
    ];
    expect(await run(typed, quiet)).toBe(0);
    const [layout] = JSON.parse(await readFile(join(dir, 'layout.json'), 'utf8')).layouts;
    const whole = layout.pieces.filter((p: { laidAs: string }) => p.laidAs !== 'opened out');
    const blocks = python(PLAIN, pattern) as string;
    const input = {
      sheet: join(dir, 'skirt-apparel-japanese-back-seam.dxf'),
      pattern: blocks,
      layer: '1',
      pieces: whole,
    };
    const seen = python(SCRIPT, input) as Answer;
    await rm(blocks);
    expect(seen.count).toBe(layout.pieces.length);
    expect(seen.worst).toBeLessThan(1e-4);
    // Curves stand as chords in the file, within 0.1 mm.
    expect(seen.nearest).toBeGreaterThan(6 - 0.2);
    expect(seen.box[0]).toBeGreaterThanOrEqual(5);
    expect(seen.box[1]).toBeGreaterThanOrEqual(5);
    expect(seen.box[2]).toBeLessThanOrEqual(layout.length - 5 + 1e-3);
    expect(seen.box[3]).toBeLessThanOrEqual(1500 - 5 + 1e-3);
    for (const off of seen.off) expect(off).toBeLessThan(5e-4);
  });
});

/** The inserted blocks as plain lines in model space, in millimetres, in a file of its own. */
const PLAIN = `
import ezdxf, tempfile, os
doc = ezdxf.readfile(given)
msp = doc.modelspace()
for insert in list(msp.query('INSERT')): insert.explode()
fd, answer = tempfile.mkstemp(suffix='.dxf')
os.close(fd)
doc.saveas(answer)
`;
