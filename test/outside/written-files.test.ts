import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

import { outsideAvailable } from './python.ts';
import { readerAvailable, readers } from './readers.ts';
import {
  type Altered,
  alterFixture,
  girth,
  type Holdings,
  holdings,
  lengthsSeen,
  type MeasuredFile,
  measureFiles,
  sourceOf,
} from './written.ts';

/** R12 files of these blocks have no handles: ezdxf makes them up, in order, and counts new vertices with them. */
const asDrawn = (h: Holdings): Holdings => (h.version === 'AC1009' ? (withoutHandles(h) as Holdings) : h);

const withoutHandles = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(withoutHandles);
  if (typeof value !== 'object' || value === null) return value;
  const kept = Object.entries(value).filter(([key]) => !/handle|owner/i.test(key));
  return Object.fromEntries(kept.map(([key, inner]) => [key, withoutHandles(inner)]));
};

/**
 * Fixture blocks of every kind are altered as a user does it, and the files that come out are opened by readers that
 * know nothing of this program: ezdxf and svgelements measure them with shapely, LibreCAD, dime, Inkscape and librsvg
 * open them.
 */
const WHOLE = { choose: 'abdomen method=raise the waist' };
const FIXTURES: Readonly<Record<string, { readonly to?: string; readonly choose?: string }>> = {
  'blocks/skirt-apparel-mm.dxf': { to: 'dxf,svg' },
  'blocks/skirt-apparel-inches-cutting-line.dxf': {},
  'blocks/skirt-apparel-japanese-back-seam.dxf': {},
  'blocks/skirt-lines-and-arcs.dxf': {},
  'blocks/skirt-lines-and-arcs-turned-german-one-layer.dxf': {},
  'blocks/skirt-bulges-mirrored-cm-french-seam-line.dxf': {},
  'blocks/skirt-splines-spanish-capitals.dxf': {},
  'blocks/skirt-splines-whole-inches-portuguese.dxf': WHOLE,
  'blocks/skirt-cubics.svg': { to: 'svg,dxf' },
  'blocks/skirt-cubics-whole-mirrored-turned-italian.svg': WHOLE,
  'blocks/skirt-polylines-inches-cutting-line.svg': {},
  'blocks/skirt-six-gores-cm-dutch.svg': {},
};

const MM = 25.4;
/** Changes asked for, mm. The blocks are drafted for waist 26½ in, hip 36 in. */
const ORDERS = {
  Same: { waist: 0, hip: 0, length: 0, abdomen: 0 },
  Wider: { waist: 1 * MM, hip: 1.5 * MM, length: 0, abdomen: 0 },
  Shorter: { waist: 0, hip: 0, length: -20, abdomen: 0 },
  Fuller: { waist: 0, hip: 0, length: 0, abdomen: 15 },
  All: { waist: 0.5 * MM, hip: 1 * MM, length: 25, abdomen: 10 },
} as const;
type Fitting = keyof typeof ORDERS;

const table = (): string => {
  const rows = Object.entries(ORDERS).map(([name, o]) =>
    [name, 26.5 + o.waist / MM, 36 + o.hip / MM, o.length || '', o.abdomen || ''].join(','),
  );
  const columns = 'fitting,waist girth (in),hip girth (in),length at the adjustment line (mm),abdomen (mm)';
  return `${columns}\n${rows.join('\n')}\n`;
};

/** A skirt of gores has no front to swing a wedge in. */
const refusedFor: Readonly<Record<string, readonly Fitting[]>> = {
  'blocks/skirt-six-gores-cm-dutch.svg': ['Fuller', 'All'],
};

const fittingsTable = join(tmpdir(), `fittings-${process.pid}.csv`);
const altered = new Map<string, readonly Altered[]>();
beforeAll(async () => {
  writeFileSync(fittingsTable, table());
  for (const [fixture, options] of Object.entries(FIXTURES)) {
    altered.set(fixture, await alterFixture(fixture, fittingsTable, options));
  }
}, 120_000);

afterAll(() => {
  for (const [first] of altered.values()) {
    if (first) rmSync(dirname(dirname(first.folder)), { recursive: true, force: true });
  }
  rmSync(fittingsTable, { force: true });
});

const done = (): Altered[] => [...altered.values()].flat().filter((a) => a.ledger.status === 'done');
const orderOf = (a: Altered) => ORDERS[a.ledger.fitting as Fitting];
const written = (ending: 'dxf' | 'svg'): string[] => done().flatMap((a) => a.files.filter((f) => f.endsWith(ending)));
const said = (a: Altered, file: string): string => `${a.ledger.fitting} of ${a.fixture} in ${file}`;

it('every block is altered for every fitting that it has room and pieces for', () => {
  for (const [fixture, all] of altered) {
    expect(all.length, fixture).toBe(Object.keys(ORDERS).length);
    for (const { ledger } of all) {
      const refused = refusedFor[fixture]?.includes(ledger.fitting as Fitting) ?? false;
      const why = ledger.findings.filter((f) => f.level === 'error').map((f) => f.message);
      expect(ledger.status, `${ledger.fitting} of ${fixture}: ${why.join(' ')}`).toBe(refused ? 'refused' : 'done');
    }
  }
});

it('for a wearer of the very measurements it was drafted for, the file comes back byte for byte', () => {
  for (const a of done().filter((x) => x.ledger.fitting === 'Same')) {
    const file = a.files.find((f) => f.endsWith(a.fixture.slice(-4))) as string;
    expect(readFileSync(file).equals(readFileSync(sourceOf(a.fixture))), a.fixture).toBe(true);
  }
});

/** Areas and lengths of the readers and of the ledger agree within 0.05 %. */
const AGREES = 0.0005;
const within = (seen: number, told: number, what: string): void => {
  expect(Math.abs(seen - told), `${what}: ${seen} is seen, ${told} told`).toBeLessThanOrEqual(Math.abs(told) * AGREES);
};

describe.skipIf(!outsideAvailable(['ezdxf', 'shapely', 'svgelements']))(
  'measured by ezdxf, svgelements, shapely',
  () => {
    const seen = new Map<string, MeasuredFile>();
    beforeAll(async () => {
      const changed = done().filter((a) => a.ledger.fitting !== 'Same');
      const paths = [...Object.keys(FIXTURES).map(sourceOf), ...changed.flatMap((a) => a.files)];
      const files = await measureFiles(paths);
      for (const [i, path] of paths.entries()) seen.set(path, files[i] as MeasuredFile);
    }, 120_000);

    const each = (check: (a: Altered, file: MeasuredFile, path: string, before: MeasuredFile) => void): void => {
      let checked = 0;
      for (const a of done()) {
        for (const path of a.files) {
          const file = seen.get(path);
          const before = seen.get(sourceOf(a.fixture));
          if (!file || !before) continue;
          check(a, file, path, before);
          checked += 1;
        }
      }
      // Eleven blocks with four changes each, the gores with two, and two of the blocks in both formats.
      expect(checked).toBe(11 * 4 + 2 + 2 * 4);
    };

    it('every edge is as long as the ledger says', () => {
      each((a, file, path) => {
        for (const { piece: id, edge, after } of a.ledger.edges) {
          const of = file.pieces.get(id);
          if (!of) throw new Error(`${said(a, path)}: ${id} is not found again`);
          within(lengthsSeen(of.piece, of.seen).get(edge) ?? Number.NaN, after, `${said(a, path)}: ${id} ${edge}`);
        }
      });
    });

    it('every piece has the area that its seam line encloses in the program', () => {
      each((a, file, path) => {
        for (const [id, { seen: s, area }] of file.pieces) within(s.area, area, `${said(a, path)}: area of ${id}`);
      });
    });

    it('every piece is as wide straight across at the hip as the ledger says', () => {
      each((a, file, path) => {
        const hip = a.ledger.girths.find((g) => g.level === 'hip');
        expect(hip?.counted.length, said(a, path)).toBeGreaterThan(0);
        for (const { piece, width } of hip?.counted ?? []) {
          within(file.pieces.get(piece)?.seen.widths[0] ?? Number.NaN, width, `${said(a, path)}: hip of ${piece}`);
        }
      });
    });

    it('waist and hip changed by what the wearer needs, within 0.1 mm', () => {
      each((a, file, path, before) => {
        for (const level of ['waist', 'hip'] as const) {
          const change = girth(file, level) - girth(before, level);
          expect(Math.abs(change - orderOf(a)[level]), `${said(a, path)}: ${level} by ${change}`).toBeLessThan(0.1);
        }
      });
    });

    it('the centre edge changed by the length and what the abdomen needs, within 0.1 mm', () => {
      each((a, file, path, before) => {
        for (const [id, { piece, seen: s }] of file.pieces) {
          const centre = piece.edges.find((e) => e.role === 'fold' || e.role === 'centre')?.id;
          const was = before.pieces.get(id);
          if (centre === undefined || !was) continue;
          const length = (p: typeof was.piece, m: typeof s): number => lengthsSeen(p, m).get(centre) ?? Number.NaN;
          const { length: longer, abdomen } = orderOf(a);
          const needed = longer + (piece.part === 'skirt front' ? abdomen : 0);
          const change = length(piece, s) - length(was.piece, was.seen);
          expect(Math.abs(change - needed), `${said(a, path)}: ${id} ${centre} by ${change}`).toBeLessThan(0.1);
        }
      });
    });
  },
);

describe.skipIf(!outsideAvailable(['ezdxf']))('what the DXF files hold, by ezdxf', () => {
  const held = new Map<string, Holdings>();
  beforeAll(() => {
    const sources = Object.keys(FIXTURES)
      .filter((f) => f.endsWith('dxf'))
      .map(sourceOf);
    const paths = [...sources, ...written('dxf')];
    for (const [i, h] of holdings(paths).entries()) held.set(paths[i] as string, h);
  }, 120_000);

  const pairs = (): { a: Altered; was: Holdings; is: Holdings }[] =>
    done().flatMap((a) => {
      const was = held.get(sourceOf(a.fixture));
      const is = held.get(a.files[0] as string);
      return a.fixture.endsWith('dxf') && was && is ? [{ a, was: asDrawn(was), is: asDrawn(is) }] : [];
    });

  it('the auditor finds no errors', () => {
    expect(held.size).toBe(8 + 8 * 5 + 5);
    for (const [path, { faults }] of held) expect(faults, path).toEqual([]);
  });

  it('the same version, header, layers, blocks, and entities in the same order on the same layers', () => {
    const order = (h: Holdings) =>
      Object.entries(h.blocks).map(([name, entities]) => [name, entities.map((e) => `${e.handle} ${e.layer}`)]);
    for (const { a, was, is } of pairs()) {
      expect([is.version, is.header, is.layers], a.fixture).toEqual([was.version, was.header, was.layers]);
      expect(order(is), a.fixture).toEqual(order(was));
    }
  });

  it('an entity that is drawn in another way than before is a bent line or arc', () => {
    for (const { a, was, is } of pairs()) {
      for (const [name, entities] of Object.entries(was.blocks)) {
        const after = is.blocks[name] ?? [];
        const turned = entities.flatMap((e, i) => (e.type === after[i]?.type ? [] : [`${e.type} ${after[i]?.type}`]));
        for (const t of turned)
          expect(['ARC SPLINE', 'LINE SPLINE', 'ARC LWPOLYLINE', 'LINE LWPOLYLINE'], a.fixture).toContain(t);
      }
    }
  });

  it('pieces that a fitting does not touch keep every attribute of every entity', () => {
    const blocks = pairs().filter(({ a, was }) => a.ledger.fitting === 'Fuller' && 'BACK' in was.blocks);
    expect(blocks.length).toBe(3);
    for (const { was, is } of blocks) {
      expect(is.blocks.BACK).toEqual(was.blocks.BACK);
      expect(is.blocks.WAISTBAND).toEqual(was.blocks.WAISTBAND);
      expect(is.blocks.FRONT).not.toEqual(was.blocks.FRONT);
    }
  });

  it('texts say the same in the same height, width and slope; they are only moved', () => {
    let texts = 0;
    for (const { a, was, is } of pairs()) {
      for (const [name, entities] of Object.entries(was.blocks)) {
        entities.forEach((e, i) => {
          expect(is.blocks[name]?.[i]?.look, a.fixture).toEqual(e.look);
          texts += e.type === 'TEXT' ? 1 : 0;
        });
      }
    }
    expect(texts).toBeGreaterThan(8 * 5 * 15);
  });
});

for (const reader of readers) {
  describe.skipIf(!readerAvailable(reader))(`opened by ${reader.program}`, () => {
    it(`every ${reader.reads.toUpperCase()} file that was written`, () => {
      // A file that came back byte for byte says nothing of the writing.
      const changed = done().filter((a) => a.ledger.fitting !== 'Same' && a.ledger.fitting !== 'Shorter');
      const files = changed.flatMap((a) => a.files.filter((f) => f.endsWith(reader.reads)));
      expect(files.length).toBeGreaterThan(10);
      expect(reader.complaints(files)).toEqual([]);
    }, 120_000);

    it('and it does complain of a spoiled one', () => {
      const whole = readFileSync(
        sourceOf(reader.reads === 'dxf' ? 'blocks/skirt-apparel-mm.dxf' : 'blocks/skirt-cubics.svg'),
        'utf8',
      );
      const spoiled = join(dirname(done()[0]?.folder as string), `spoiled.${reader.reads}`);
      writeFileSync(spoiled, reader.spoiled(whole));
      expect(reader.complaints([spoiled])).toHaveLength(1);
    });
  });
}
