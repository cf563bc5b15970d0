import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeApparel } from '../../src/formats/dxf/apparel.ts';
import type { ApparelPattern } from '../../src/formats/dxf/apparel-pattern.ts';
import { dxfSheet } from '../../src/formats/dxf/sheet.ts';
import { svgSheet } from '../../src/formats/svg/sheet.ts';
import { polyline } from '../../src/geometry/path.ts';
import { frameOf, longRoll, machineOf, sheetOf, testSquare } from '../formats/sheet-sample.ts';
import { outsideAvailable, python } from './python.ts';
import { readerAvailable, readers } from './readers.ts';
import { misfits, type Ring, ringsAsked, ringsInDxf, SCALE_ERROR } from './rings.ts';

/* Sheets for cutters in programs that know nothing of this one: sizes within 0.05 %, opened without complaint. */

const folder = mkdtempSync(join(tmpdir(), 'cutter-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string): string => join(folder, name);
const reader = (program: string) => readers.find((r) => r.program === program)!;

/**
 * Fits on the A4 page that LibreCAD makes. 7½ by 11 in are whole CSS pixels: librsvg shrinks a page of others to fit
 * whole ones, by up to 0.1 %.
 */
const small = sheetOf(
  frameOf('1', 190.5, 279.4, [
    testSquare({ x: 20, y: 20 }),
    { ...testSquare({ x: 30, y: 140 }, 101.6), purpose: 'cut' as const, piece: 'four inches' },
  ]),
);

const square = polyline(
  [
    { x: 0, y: 0 },
    { x: 400, y: 0 },
    { x: 400, y: 600 },
    { x: 0, y: 600 },
  ],
  true,
);
const apparel: ApparelPattern = {
  style: 'Page costume',
  size: '12',
  pieces: ['Rückenteil', '前', 'Front'].map((name) => ({
    ...{
      name,
      category: 'skirt back',
      material: 'shell',
      quantity: 2,
      mirroredPair: true,
      boundary: square,
      withoutAllowance: false,
    },
    ...{
      grain: [
        { x: 200, y: 50 },
        { x: 200, y: 550 },
      ] as const,
      internals: [],
      drills: [{ x: 50, y: 50 }],
      texts: [],
    },
    notches: [{ at: { x: 400, y: 300 }, inward: { x: -1, y: 0 }, shape: 'castle' as const }],
  })),
};

beforeAll(async () => {
  for (const version of ['R12', 'R2000'] as const) {
    const machine = machineOf({ dxf: { version }, notch: { shape: 'as drawn', joined: version === 'R2000' } });
    for (const [name, sheet] of [
      ['roll', longRoll()],
      ['small', small],
    ] as const)
      writeFileSync(at(`${name}-${version}.dxf`), (await dxfSheet.write(sheet, machine, { name })).files[0]!.bytes);
  }
  for (const units of ['mm', 'in'] as const)
    writeFileSync(at(`apparel-${units}.dxf`), writeApparel(apparel, { units }).bytes);
  for (const [name, sheet] of [
    ['roll', longRoll()],
    ['small', small],
  ] as const)
    writeFileSync(at(`${name}.svg`), (await svgSheet.write(sheet, machineOf(), { name })).files[0]!.bytes);
});

const cutterFiles = ['roll-R12', 'roll-R2000', 'small-R12', 'small-R2000'].map((n) => `${n}.dxf`);
const apparelFiles = ['apparel-mm.dxf', 'apparel-in.dxf'];

describe.skipIf(!outsideAvailable(['ezdxf', 'shapely']))('DXF for cutters in ezdxf', () => {
  it('is free of faults', () => {
    const faults = python(
      [
        'import ezdxf',
        'def audit(path):',
        '    a = ezdxf.readfile(path).audit()',
        // Version 0.18 takes out every SEQEND of R12, of its own files too.
        '    return [e.message for e in a.errors] + [f.message for f in a.fixes if not f.message.startswith("Deleted SEQEND")]',
        'answer = [audit(path) for path in given]',
      ].join('\n'),
      [...cutterFiles, ...apparelFiles].map(at),
    );
    expect(faults).toEqual([...cutterFiles, ...apparelFiles].map(() => []));
  });

  it('has test squares and pieces of a 12 m roll at their true size and place', () => {
    const asked = ringsAsked(longRoll());
    const [beside, taken] = ringsInDxf(['roll-R12.dxf', 'roll-R2000.dxf'].map(at), ['cut', 'guide']);
    expect(misfits(asked, beside!)).toEqual([]);
    // With notches taken into the outline its way is longer; its box is the same.
    expect(taken!.map((r) => [r.width, r.height].map((v) => Math.round(v * 20)))).toEqual(
      beside!.map((r) => [r.width, r.height].map((v) => Math.round(v * 20))),
    );
    expect(taken!.filter((r, i) => r.length > beside![i]!.length + 10)).toHaveLength(3);
    for (const found of [beside!, taken!])
      for (const [i, a] of asked.entries()) expect(Math.hypot(found[i]!.x - a.x, found[i]!.y - a.y)).toBeLessThan(0.15);
  });

  it('states millimetres in R2000, and has the layers with their colours', () => {
    const seen = python(
      [
        'import ezdxf',
        'def seen(path):',
        '    d = ezdxf.readfile(path)',
        '    return dict(version=d.acad_release, units=d.header.get("$INSUNITS", 0), colours={l.dxf.name: l.dxf.color for l in d.layers if l.dxf.name in ("cut", "seam", "grain")}, notes=d.comments if hasattr(d, "comments") else [])',
        'answer = [seen(path) for path in given]',
      ].join('\n'),
      ['small-R12.dxf', 'small-R2000.dxf'].map(at),
    ) as { version: string; units: number; colours: Record<string, number> }[];
    expect(seen.map((s) => s.version)).toEqual(['R12', 'R2000']);
    expect(seen[1]!.units).toBe(4);
    for (const s of seen) expect(s.colours).toEqual({ cut: 1, seam: 3, grain: 5 });
  });

  it('has an apparel piece in each block and nowhere else, in the unit it states', () => {
    const seen = python(
      [
        'import ezdxf',
        'def seen(path):',
        '    d = ezdxf.readfile(path)',
        '    blocks = {}',
        '    for b in d.blocks:',
        '        if b.name.startswith("*"): continue',
        '        xs = [v.dxf.location.x for e in b if e.dxftype() == "POLYLINE" and e.dxf.layer == "1" for v in e.vertices]',
        '        blocks[b.name] = max(xs) - min(xs)',
        '    return dict(blocks=blocks, inserts=[e.dxf.name for e in d.modelspace().query("INSERT")], units=[t.dxf.text for t in d.modelspace().query("TEXT") if "Units" in t.dxf.text])',
        'answer = [seen(path) for path in given]',
      ].join('\n'),
      apparelFiles.map(at),
    ) as { blocks: Record<string, number>; inserts: string[]; units: string[] }[];
    const names = ['RUCKENTEIL', 'PIECE', 'FRONT'];
    for (const [i, [unit, length]] of (
      [
        ['METRIC', 600],
        ['ENGLISH', 600 / 25.4],
      ] as const
    ).entries()) {
      expect(Object.keys(seen[i]!.blocks)).toEqual(names);
      expect(seen[i]!.inserts).toEqual(names);
      expect(seen[i]!.units).toEqual([`Units: ${unit}`]);
      for (const found of Object.values(seen[i]!.blocks)) expect(Math.abs(found / length - 1)).toBeLessThan(1e-5);
    }
  });
});

describe.each([...cutterFiles, ...apparelFiles])('%s', (name) => {
  for (const program of ['librecad', 'dxf2vrml']) {
    it.skipIf(!readerAvailable(reader(program)))(`is opened by ${program}`, () => {
      expect(reader(program).complaints([at(name)])).toEqual([]);
    });
  }
});

/** Boxes of the lines on an SVG that poppler made of a PDF; svgelements counts 96 to the inch. */
const boxesOnPage = (svg: string): Ring[] =>
  python(
    [
      'from svgelements import SVG, Path',
      'answer = []',
      'for e in SVG.parse(given, ppi=96).elements():',
      '    if not isinstance(e, Path): continue',
      '    x0, y0, x1, y1 = e.bbox()',
      '    k = 25.4 / 96',
      '    answer.append(dict(x=x0 * k, y=y0 * k, width=(x1 - x0) * k, height=(y1 - y0) * k, length=0, area=0))',
    ].join('\n'),
    svg,
  ) as Ring[];

const hasSquare = (boxes: readonly Ring[], side: number): boolean => {
  const sides = (from: 'width' | 'height', none: 'width' | 'height') =>
    boxes.filter(
      (b) =>
        Math.abs(b[from] / side - 1) <= SCALE_ERROR && (b[none] < 0.2 || Math.abs(b[none] / side - 1) <= SCALE_ERROR),
    );
  return sides('width', 'height').length > 0 && sides('height', 'width').length > 0;
};

describe.skipIf(!outsideAvailable(['svgelements']))('test squares on paper', () => {
  it.skipIf(!readerAvailable(reader('librecad'))).each(['R12', 'R2000'])(
    'come out at their size from LibreCAD, %s',
    (version) => {
      const env = { ...process.env, QT_QPA_PLATFORM: 'offscreen' };
      spawnSync('timeout', ['20', 'librecad', 'dxf2pdf', `small-${version}.dxf`], { cwd: folder, env });
      spawnSync('pdftocairo', ['-svg', at(`small-${version}.pdf`), at('page.svg')]);
      const boxes = boxesOnPage(at('page.svg'));
      expect([100, 101.6].map((side) => hasSquare(boxes, side))).toEqual([true, true]);
    },
  );

  it.skipIf(!readerAvailable(reader('rsvg-convert')))(
    'come out at their size from librsvg, on a page of the frame’s size',
    () => {
      expect(reader('rsvg-convert').complaints([at('small.svg')])).toEqual([]);
      spawnSync('rsvg-convert', ['-f', 'pdf', '-o', at('small.pdf'), at('small.svg')]);
      spawnSync('pdftocairo', ['-svg', at('small.pdf'), at('page.svg')]);
      const boxes = boxesOnPage(at('page.svg'));
      expect([100, 101.6].map((side) => hasSquare(boxes, side))).toEqual([true, true]);
      const size = spawnSync('pdfinfo', [at('small.pdf')], { encoding: 'utf8' }).stdout;
      const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(size)!.map(Number) as [
        number,
        number,
        number,
      ];
      expect(Math.abs(((width as number) * 25.4) / 72 / 190.5 - 1)).toBeLessThan(SCALE_ERROR);
      expect(Math.abs(((height as number) * 25.4) / 72 / 279.4 - 1)).toBeLessThan(SCALE_ERROR);
    },
  );

  it.skipIf(!readerAvailable(reader('inkscape')))(
    'and pieces of a 12 m roll come out at their size in Inkscape',
    () => {
      const { stdout } = spawnSync('inkscape', ['--query-all', at('roll.svg')], { encoding: 'utf8', timeout: 60_000 });
      // Boxes in CSS pixels, line width and all: 0.3 mm for guides, 0.5 mm for cuts.
      const boxes = stdout
        .split('\n')
        .filter((l) => l.startsWith('path'))
        .map((l) =>
          l
            .split(',')
            .slice(1)
            .map((v) => (Number(v) * 25.4) / 96),
        );
      const fits = (width: number, height: number, stroke: number): boolean =>
        boxes.some(
          ([, , w, h]) =>
            Math.abs((w as number) - stroke - width) <= width * SCALE_ERROR &&
            Math.abs((h as number) - stroke - height) <= height * SCALE_ERROR,
        );
      const asked = ringsAsked(longRoll());
      expect(asked.map((r) => fits(r.width, r.height, r.width === 100 && r.height === 100 ? 0.3 : 0.5))).toEqual(
        asked.map(() => true),
      );
    },
  );
});
