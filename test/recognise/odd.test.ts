import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/formats/drawing.ts';
import { dxf } from '../../src/formats/dxf/index.ts';
import { svg } from '../../src/formats/svg/index.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { Recognised } from '../../src/recognise/index.ts';
import { recognise } from '../../src/recognise/index.ts';
import { emptySheet, sheetPiece, unaccounted } from './reading.ts';

/* Files as people draw them: nothing of these comes from the drafting code. Lengths are exact by construction. */

const drawingOf = (body: string, unit = 'mm', fileName = 'odd.svg'): Drawing => {
  const text = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="2000${unit}" height="2000${unit}" viewBox="0 0 2000 2000">${body}</svg>`;
  const { drawing } = svg.read(Buffer.from(text), { fileName });
  if (!drawing) throw new Error('not read');
  return drawing;
};
const read = (body: string, options: Parameters<typeof recognise>[1] = {}): Recognised => {
  const drawing = drawingOf(body);
  const result = recognise(drawing, options);
  expect(unaccounted(drawing, result.pattern)).toEqual([]);
  return result;
};
const codes = ({ findings }: Recognised): string[] => findings.map((f) => f.code);
const only = ({ pattern }: Recognised): Piece => {
  expect(pattern.pieces).toHaveLength(1);
  return pattern.pieces[0] as Piece;
};
const roles = (piece: Piece): string =>
  [...piece.edges]
    .map((e) => e.role)
    .sort()
    .join(' ');
const lengthOfRole = (piece: Piece, role: string): number => {
  const edge = piece.edges.find((e) => e.role === role);
  return edge ? edgeLength(piece, edge) : Number.NaN;
};

/** Half a skirt front, centre on the left: hem 240, centre 600, side curved at the hip; no dart. */
const HALF = 'M 100 100 L 100 700 L 340 700 L 340 300 C 340 220 315 160 290 90 C 230 100 160 100 100 100 Z';
/** Its seam line 15 mm inside, centre on the fold, hem allowance 40. */
const INNER = 'M 100 115 L 100 660 L 325 660 L 325 300 C 325 225 301 168 279 107 C 225 115 160 115 100 115 Z';
const path = (d: string, more = ''): string => `<path fill="none" stroke="black" ${more} d="${d}"/>`;
const text = (words: string, x: number, y: number, turn = 0, size = 8): string =>
  `<text x="${x}" y="${y}" font-size="${size}" transform="rotate(${turn} ${x} ${y})">${words}</text>`;
const GRAIN = path('M 200 250 L 200 600') + text('grain', 205, 450, 90);

describe('outlines', () => {
  it('reads a lone outline, and says that it does not know which line it is', () => {
    const r = read(path(HALF) + GRAIN + text('Skirt front', 220, 400) + text('cut 1 on fold', 220, 420));
    const piece = only(r);
    expect(piece.part).toBe('skirt front');
    expect(roles(piece)).toBe('fold hem side waist');
    expect(lengthOfRole(piece, 'hem')).toBeCloseTo(240, 6);
    expect(piece.seamLineFrom).toBe('only outline');
    expect(codes(r)).toContain('recognise-no-seam-line');
  });

  it('tells cutting line from seam line by where they lie', () => {
    const piece = only(read(path(INNER) + path(HALF) + GRAIN + text('Skirt front', 220, 400)));
    expect(piece.seamLineFrom).toBe('drawn');
    const allowance = Object.fromEntries(piece.edges.map((e) => [e.role, Math.round(e.allowance)]));
    expect(allowance).toMatchObject({ fold: 0, hem: 40, waist: 15, side: 15 });
  });

  it('closes a seam line that is open at the fold', () => {
    const open = INNER.replace(/^M 100 115 L 100 660/, 'M 100 660').replace(' Z', '');
    const piece = only(read(path(HALF) + path(open) + GRAIN + text('Skirt front', 220, 400)));
    expect(piece.seamLineFrom).toBe('drawn');
    expect(roles(piece)).toBe('fold hem side waist');
    expect(lengthOfRole(piece, 'fold')).toBeCloseTo(545, 6);
  });

  it.each([
    ['seam allowance ⅝ in', 15.875, undefined],
    ['Nahtzugabe 1,5 cm enthalten', 15, undefined],
    ['marges de couture comprises : 1 cm', 10, undefined],
    ['縫い代 10mm 込み', 10, undefined],
    ['ohne Nahtzugabe', undefined, 'drawn'],
    ['seam allowances not included', undefined, 'drawn'],
  ])('obeys “%s”', (words, allowance, from) => {
    const piece = only(
      read(
        path(HALF) + GRAIN + text('Skirt front', 220, 400) + text('cut 1 on fold', 220, 420) + text(words, 220, 440),
      ),
    );
    if (from) {
      expect(piece.seamLineFrom).toBe(from);
      expect(piece.cuttingLine).toBeUndefined();
      return;
    }
    expect(piece.seamLineFrom).toBe('derived');
    expect(piece.edges.find((e) => e.role === 'side')?.allowance).toBeCloseTo(allowance as number, 6);
    expect(piece.edges.find((e) => e.role === 'fold')?.allowance).toBe(0);
    expect(lengthOfRole(piece, 'hem')).toBeCloseTo(240 - (allowance as number), 3);
  });

  it('closes an outline that is open by a hair, and says where', () => {
    const r = read(
      path(HALF.replace(' Z', '').replace('100 100 L', '100 100.4 L')) + GRAIN + text('Skirt front', 220, 400),
    );
    expect(only(r).part).toBe('skirt front');
    const gap = r.findings.find((f) => f.code === 'recognise-gap-closed');
    expect(gap?.message).toMatch(/0\.40 mm/);
  });

  it('does not close a wide gap, and says where it is', () => {
    const r = read(path(HALF.replace(' Z', '').replace('M 100 100 L', 'M 100 130 L')) + text('Skirt front', 220, 400));
    expect(r.pattern.pieces).toHaveLength(0);
    expect(codes(r)).toEqual(expect.arrayContaining(['recognise-outline-open', 'recognise-no-piece']));
    expect(r.findings.find((f) => f.code === 'recognise-outline-open')?.message).toMatch(/open by 30\.0 mm/);
  });

  it('tells of an outline drawn twice', () => {
    expect(codes(read(path(HALF) + path(HALF) + text('Skirt front', 220, 400)))).toContain('recognise-line-twice');
  });

  it('tells of a nest of sizes', () => {
    const grown = (k: number): string =>
      `<g transform="translate(100 100) scale(${k}) translate(-100 -100)">${path(HALF)}</g>`;
    expect(codes(read(path(HALF) + grown(1.03) + grown(1.06) + text('Skirt front', 220, 400)))).toContain(
      'recognise-several-sizes',
    );
  });

  it('tells where an outline crosses itself, but lets a slit be', () => {
    const crossed = 'M 100 100 L 100 700 L 340 700 L 340 300 L 60 250 L 290 90 Z';
    const r = read(path(crossed) + text('Skirt front', 220, 400));
    expect(r.findings.find((f) => f.code === 'recognise-outline-crosses')?.message).toMatch(
      /at \(100\.0, -2\d\d\.\d\) mm/,
    );
    const slit = HALF.replace('L 340 300', 'L 340 306 L 334 306 L 340 306 L 340 300');
    expect(codes(read(path(slit) + text('Skirt front', 220, 400)))).not.toContain('recognise-outline-crosses');
  });

  it('keeps frames and test squares apart', () => {
    const r = read(
      path('M 10 10 H 1900 V 1400 H 10 Z') +
        path('M 1500 1000 H 1550 V 1050 H 1500 Z') +
        text('test square 5 cm', 1505, 1030) +
        path(HALF) +
        text('Skirt front', 220, 400) +
        `<g transform="translate(500 0)">${path(HALF)}${text('Skirt back', 220, 400)}</g>`,
    );
    expect(r.pattern.pieces.map((p) => p.part)).toEqual(['skirt front', 'skirt back']);
    expect(r.pattern.loose).toHaveLength(3);
  });

  it('leaves notches cut in the outline where they are', () => {
    const notched = HALF.replace('L 340 300', 'L 340 306 L 332 303 L 340 300');
    const piece = only(read(path(notched) + GRAIN + text('Skirt front', 220, 400) + text('cut 1 on fold', 220, 420)));
    expect(roles(piece)).toBe('fold hem side waist');
    expect(piece.notches.map((n) => [n.edge, n.marks.length])).toEqual([['side', 0]]);
  });
});

describe('words', () => {
  it('joins a label that runs over three texts', () => {
    const line = path('M 100 450 L 340 450');
    const r = read(
      path(HALF) +
        GRAIN +
        line +
        text('lengthen', 220, 458) +
        text('or shorten', 220, 467) +
        text('here', 220, 476) +
        text('Skirt front', 220, 400),
    );
    expect(only(r).adjustmentLines).toHaveLength(1);
  });

  it('reads layers named in other languages', () => {
    const body = `<g id="Schnittkante">${path(HALF)}</g><g id="Nahtlinie">${path(INNER)}</g><g id="Fadenlauf">${path('M 200 250 L 200 600')}</g><g id="Text">${text('Vorderrock', 220, 400)}${text('1x im Bruch zuschneiden', 220, 420)}</g>`;
    const piece = only(read(body));
    expect(piece.part).toBe('skirt front');
    expect(piece.grainline?.confidence).toBeGreaterThan(0.8);
    expect(piece.half).toBe(true);
    expect(piece.cut.count).toBe(1);
  });

  it.each([
    ['cut 2', 2],
    ['Cut two of fabric', 2],
    ['2x zuschneiden', 2],
    ['2 × ZUSCHNEIDEN', 2],
    ['couper 2 fois', 2],
    ['cortar 3', 3],
    ['tagliare 2', 2],
    ['2x knippen', 2],
    ['２枚裁つ', 2],
    ['Quantity: 4', 4],
  ])('reads “%s”', (words, count) => {
    expect(only(read(path(HALF) + text('Skirt front', 220, 400) + text(words, 220, 420))).cut.count).toBe(count);
  });

  it('takes the words that the pattern sheet adds', () => {
    const words =
      path(HALF) + path('M 200 250 L 200 600') + text('warp way', 205, 450, 90) + text('Skirt front', 220, 400);
    expect(only(read(words)).grainline).toBeUndefined();
    expect(only(read(words, { sheet: { ...emptySheet, labels: { grain: ['warp way'] } } })).grainline).toBeDefined();
  });

  it('keeps cloths apart', () => {
    const r = read(
      path(HALF) +
        text('Skirt front', 220, 400) +
        `<g transform="translate(400 0)">${path(HALF)}${text('Skirt front lining', 220, 400)}</g>`,
    );
    expect(r.pattern.pieces.map((p) => p.cut.cloth)).toEqual(['shell', 'lining']);
  });
});

describe('doubts', () => {
  const RECTANGLE = 'M 100 100 H 400 V 700 H 100 Z';

  it('does not guess which end of a rectangle is the waist', () => {
    const r = read(path(RECTANGLE) + text('Skirt panel front skirt', 220, 400, 90));
    expect(r.pattern.doubts.map((d) => d.code)).toContain('recognise-roles-doubtful');
  });

  it('is settled by a label', () => {
    const r = read(
      path(RECTANGLE) + text('Skirt front', 220, 400) + text('waist', 230, 112) + text('fold', 110, 400, 90) + GRAIN,
    );
    expect(r.pattern.doubts).toEqual([]);
    expect(roles(only(r))).toBe('fold hem side waist');
    expect(only(r).upright.up.y).toBeCloseTo(1, 9);
  });

  it('is settled by the pattern sheet', () => {
    const sheet = { ...emptySheet, pieces: [sheetPiece('skirt front', { up: { x: 0, y: -1 }, onFold: true })] };
    const r = read(path(RECTANGLE) + text('Skirt front', 220, 400) + text('fold', 110, 400, 90) + GRAIN, { sheet });
    expect(r.pattern.doubts).toEqual([]);
    const waist = only(r).edges.find((e) => e.role === 'waist');
    expect(only(r).seamLine.spans[waist?.first ?? 0]?.segments[0]?.from.y).toBeCloseTo(-700, 6);
  });

  it('asks whether a centre edge lies on the fold', () => {
    const r = read(path(HALF) + GRAIN + text('Skirt front', 220, 400));
    expect(r.pattern.doubts.map((d) => [d.code, d.sheetLine])).toEqual([['recognise-fold-doubtful', 'on fold: true']]);
    expect(r.pattern.doubts[0]?.edge).toBe('fold');
  });

  it('obeys edges that the pattern sheet states', () => {
    const edges = [
      { role: 'hem' as const, from: { x: 290, y: 90 }, to: { x: 100, y: 100 }, line: 3 },
      { role: 'waist' as const, from: { x: 100, y: 700 }, to: { x: 340, y: 700 }, line: 4 },
    ];
    const r = read(path(HALF) + GRAIN + text('Skirt front', 220, 400), {
      sheet: { ...emptySheet, pieces: [sheetPiece('skirt front', { edges })] },
    });
    expect(lengthOfRole(only(r), 'waist')).toBeCloseTo(240, 6);
  });

  it('names a place of the pattern sheet that is no corner', () => {
    const edges = [{ role: 'hem' as const, from: { x: 500, y: 90 }, to: { x: 100, y: 100 }, line: 3 }];
    const r = read(path(HALF) + text('Skirt front', 220, 400), {
      sheet: { ...emptySheet, pieces: [sheetPiece('skirt front', { edges })] },
    });
    expect(r.findings.find((f) => f.code === 'recognise-sheet-place-missing')?.where.line).toBe(3);
  });

  it('leaves out what the pattern sheet leaves out', () => {
    const r = read(path(HALF) + text('Skirt front', 220, 400), {
      sheet: { ...emptySheet, pieces: [sheetPiece('Skirt front', { leaveOut: true })] },
    });
    expect(r.pattern.pieces).toHaveLength(0);
    expect(r.pattern.loose).toHaveLength(2);
  });
});

describe('units', () => {
  it('names the likely unit of a skirt 15 m long', () => {
    const r = recognise(drawingOf(path(HALF) + text('Skirt front', 220, 400), 'in'));
    const finding = r.findings.find((f) => f.code === 'recognise-size-implausible');
    expect(finding?.level).toBe('error');
    expect(finding?.message).toMatch(/25\.4 times too large/);
    expect(finding?.try).toMatch(/--units mm/);
  });
});

describe('placements', () => {
  it('takes the second placement of a shape for a repeat', () => {
    const r = read(
      `<defs><g id="front">${path(HALF)}${text('Skirt front', 220, 400)}</g></defs><use href="#front"/><use href="#front" x="500"/>`,
    );
    expect(r.pattern.pieces).toHaveLength(1);
    expect(r.pattern.repeats.size).toBe(2);
    expect(codes(r)).toContain('recognise-placed-twice');
  });

  it('reads loose lines of a plain drawing with a hip line from corner to corner', () => {
    const points = [
      [0, 0],
      [0, -600],
      [240, -600],
      [240, -200],
      [190, 10],
    ] as const;
    const lines = points.map((p, i) => [p, points[(i + 1) % points.length] as readonly [number, number]] as const);
    const all = [
      ...lines,
      [
        [0, -200],
        [240, -200],
      ] as const,
    ];
    const entities = all
      .map(([a, b]) => `0\nLINE\n8\n0\n10\n${a[0]}\n20\n${a[1]}\n11\n${b[0]}\n21\n${b[1]}\n`)
      .join('');
    const label = (t: string, x: number, y: number): string => `0\nTEXT\n8\n0\n10\n${x}\n20\n${y}\n40\n8\n1\n${t}\n`;
    const file = `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${entities}${label('SKIRT BACK', 80, -300)}${label('HIP', 80, -195)}${label('CUT 2', 80, -320)}0\nENDSEC\n0\nEOF\n`;
    const { drawing } = dxf.read(Buffer.from(file), { fileName: 'loose.dxf' });
    const r = recognise(drawing as Drawing);
    const piece = only(r);
    expect(piece.part).toBe('skirt back');
    expect(roles(piece)).toBe('centre hem side waist');
    expect(piece.levels.find((l) => l.name === 'hip')?.height).toBeCloseTo(-200, 6);
    expect(piece.cut.mirrored).toBe(true);
  });
});
