import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sheetCodes } from '../../../src/recognise/sheet/codes.ts';
import { parseSewn } from '../../../src/recognise/sheet/edge-names.ts';
import { readSheet } from '../../../src/recognise/sheet/read.ts';

const whole = `# sheet of the chorus skirt
retrue pattern sheet: 1
units: in
style: Chorus skirt
size: 08
drafted for: { waist girth: 27 in, Hips: 94 cm }
allowance: 15 mm
outline is: cutting line
pieces:
  front:
    part: skirt front
    cut: 1
    on fold: true
    mirrored: false
    cloth: shell
    up: up
    allowance: { side: 5/8 in, hem: 40 mm, other: 1 cm }
    edges:
      - { role: waist, from: [0, 10], to: [9.5, 10.25] }
      - role: side
        id: left side
        from: [9.5, 10.25]
        to: [12, 0]
        through: [11, 5]
    levels:
      hip: 8 in below waist
      top hip: [3, 6.5]
    grainline: { from: [2, 1], to: [2, 9] }
    adjustment lines: [[2, 4]]
  BACK:
    up: 90 degrees
    allowance: 12 mm
    name: Skirt back
  scrap: { leave out: true, at: [40, 40] }
mates:
  - sew: [front left side, BACK side-2]
  - sew: [waistband band seam, [front waist x2, BACK waist ×2]]
views:
  A: [front, BACK]
  B: [front]
labels:
  grain: [Laufrichtung, LR]
`;

describe('levels and landmarks of a bodice', () => {
  it('are read in any unit, one bust point or two', () => {
    const text = `pieces:
  front:
    levels: { bust: 2 in below the underarm level, chest: [3, 6.5] }
    landmarks: { bust point: [90, 190] }
  whole: { landmarks: { bust point: [[90, 190], [-90, 190]] } }
`;
    const { sheet, findings } = readSheet(text, 'bodice.sheet.yaml');
    expect(findings).toEqual([]);
    const [front, whole] = sheet?.pieces ?? [];
    expect(front?.levels.map((l) => [l.name, l.lies])).toEqual([
      ['bust', { by: 'distance', below: 'underarm', distance: 50.8 }],
      ['chest', { by: 'place', at: { x: 3, y: 6.5 } }],
    ]);
    expect(front?.landmarks).toEqual([{ name: 'bust point', at: { x: 90, y: 190 } }]);
    expect(whole?.landmarks.map((l) => l.at.x)).toEqual([90, -90]);
  });

  it('refuses a landmark it does not know', () => {
    const { findings } = readSheet('pieces: { f: { landmarks: { elbow point: [1, 2] } } }', 'x.yaml');
    expect(findings.map((f) => f.code)).toEqual(['sheet-key-unknown']);
  });
});

describe('a whole pattern sheet', () => {
  const { sheet, findings } = readSheet(whole, 'skirt.sheet.yaml');

  it('is read without findings', () => {
    expect(findings).toEqual([]);
    expect(sheet).toMatchObject({
      ...{ fileName: 'skirt.sheet.yaml', units: 'in', style: 'Chorus skirt', size: '08', outlineIs: 'cutting line' },
      draftedFor: { 'waist girth': 685.8, 'hip girth': 940 },
      allowance: 15,
      views: [
        { name: 'A', needs: ['front', 'BACK'] },
        { name: 'B', needs: ['front'] },
      ],
      labels: { grain: ['Laufrichtung', 'LR'] },
    });
  });

  it('says what each piece is, in millimetres and file units', () => {
    const [front, back, scrap] = sheet?.pieces ?? [];
    expect(front).toMatchObject({
      ...{ key: 'front', line: 10, part: 'skirt front', cut: 1, onFold: true, mirrored: false, cloth: 'shell' },
      ...{ up: { x: 0, y: 1 }, allowance: 10, allowances: { side: 15.875, hem: 40 }, leaveOut: false },
      edges: [
        { role: 'waist', from: { x: 0, y: 10 }, to: { x: 9.5, y: 10.25 }, line: 19 },
        { role: 'side', id: 'left side', through: { x: 11, y: 5 }, line: 20 },
      ],
      levels: [
        { name: 'hip', lies: { by: 'distance', below: 'waist', distance: 203.2 } },
        { name: 'top hip', lies: { by: 'place', at: { x: 3, y: 6.5 } } },
      ],
      grainline: { from: { x: 2, y: 1 }, to: { x: 2, y: 9 } },
      adjustmentLines: [{ x: 2, y: 4 }],
    });
    expect(back).toMatchObject({ key: 'BACK', name: 'Skirt back', allowance: 12, allowances: {}, leaveOut: false });
    expect(back?.up?.x).toBeCloseTo(0, 12);
    expect(back?.up?.y).toBeCloseTo(1, 12);
    expect(scrap).toMatchObject({ leaveOut: true, at: { x: 40, y: 40 } });
  });

  it('says what is sewn to what', () => {
    expect(sheet?.mates).toEqual([
      { one: [{ piece: 'front', edge: 'left side' }], other: [{ piece: 'BACK', edge: 'side-2' }], line: 36 },
      {
        one: [{ piece: 'waistband', edge: 'band seam' }],
        other: [
          { piece: 'front', edge: 'waist', times: 2 },
          { piece: 'BACK', edge: 'waist', times: 2 },
        ],
        line: 37,
      },
    ]);
  });
});

describe('edges by name', () => {
  it.each([
    ['front side', { piece: 'front', edge: 'side' }],
    ['skirt side side', { piece: 'skirt side', edge: 'side' }],
    ['waistband band seam', { piece: 'waistband', edge: 'band seam' }],
    ['gore gore seam-2 x6', { piece: 'gore', edge: 'gore seam-2', times: 6 }],
    ['skirt front: side 2', { piece: 'skirt front', edge: 'side 2' }],
    ['Vorderrock Side', { piece: 'Vorderrock', edge: 'Side' }],
    ['front opening', { piece: 'front', edge: 'opening' }],
    ['front', undefined],
    ['side', undefined],
    ['front elbow', undefined],
    ['front waist x0', undefined],
    ['', undefined],
  ])('%j', (text, sewn) => expect(parseSewn(text, ['opening'])).toEqual(sewn));
});

describe('what is wrong in a sheet', () => {
  const at = (text: string) =>
    readSheet(text, 's.yaml').findings.map((f) => [f.code, f.where.line, f.where.column, f.try] as const);

  it.each([
    ['an unknown key', 'units: mm\npeices: {}\n', 'sheet-key-unknown', 2, 1, "'pieces'"],
    ['an unknown key of a piece', 'pieces:\n  front:\n    on fould: true\n', 'sheet-key-unknown', 3, 5, "'on fold'"],
    ['an unknown unit', 'units: inch\n', 'sheet-value-unknown', 1, 8, 'mm, cm, in'],
    ['an unknown part', 'pieces:\n  front:\n    part: skrit front\n', 'sheet-value-unknown', 3, 11, "'skirt front'"],
    [
      'an unknown role',
      'pieces: { f: { edges: [{ role: wiast, from: [0, 0], to: [1, 1] }] } }',
      'sheet-value-unknown',
      1,
      32,
      "'waist'",
    ],
    [
      'a missing corner',
      'pieces:\n  f:\n    edges:\n      - role: waist\n        from: [0, 0]\n',
      'sheet-key-missing',
      4,
      9,
      "'to:'",
    ],
    ['a place of three numbers', 'pieces: { f: { at: [0, 1, 2] } }', 'sheet-value-wrong', 1, 20, '[x, y]'],
    ['a length without unit', 'allowance: 15\n', 'sheet-length-unreadable', 1, 12, '15 mm'],
    [
      'an edge length without unit',
      'pieces:\n  f:\n    allowance:\n      hem: 40\n',
      'sheet-length-unreadable',
      4,
      12,
      '40 mm',
    ],
    ['a length that is none', 'allowance: wide\n', 'sheet-length-unreadable', 1, 12, '705 mm'],
    ['a negative length', 'allowance: -5 mm\n', 'sheet-length-unreadable', 1, 12, 'Correct'],
    ['an ambiguous length', 'drafted for:\n  waist: 1,234 mm\n', 'sheet-length-unreadable', 2, 10, '1234 or 1.234'],
    ['an unknown measurement', 'drafted for:\n  wiast: 27 in\n', 'sheet-measurement-unknown', 2, 3, "'waist girth'"],
    ['a measurement twice', 'drafted for:\n  waist: 27 in\n  waist girth: 27 in\n', 'sheet-given-twice', 3, 3, 'Keep'],
    ['a piece twice', 'pieces:\n  front: {}\n  FRONT: {}\n', 'sheet-given-twice', 3, 3, 'Keep'],
    ['a key twice', 'units: mm\nunits: in\n', 'sheet-unreadable', 2, 1, 'Check'],
    ['an unknown edge', 'pieces: { f: { allowance: { sied: 5 mm } } }', 'sheet-edge-unknown', 1, 29, "'side'"],
    ['mates without an edge', 'mates:\n  - sew: [front, back side]\n', 'sheet-edge-unknown', 2, 11, 'front side'],
    ['three mates', 'mates:\n  - sew: [a side, b side, c side]\n', 'sheet-value-wrong', 2, 10, 'two edges'],
    ['a level nowhere', 'pieces: { f: { levels: { hip: low } } }', 'sheet-value-wrong', 1, 31, 'below waist'],
    ['a direction that is none', 'pieces: { f: { up: north } }', 'sheet-value-wrong', 1, 20, 'degrees'],
    ['a newer version', 'retrue pattern sheet: 2\n', 'sheet-version', 1, 23, ': 1'],
    ['a waist in the wrong unit', 'drafted for:\n  waist: 27 cm\n', 'measure-unit-mixed-up', 2, 10, '27 in'],
    ['broken YAML', 'units: "mm\n', 'sheet-unreadable', 2, 1, 'Check'],
    ['a list', '- a\n', 'sheet-value-wrong', 1, 1, 'names with a value'],
    ['a plain text', 'hello\n', 'sheet-value-wrong', 1, 1, 'names with a value'],
  ])('%s is told with line and column', (_, text, code, line, column, hint) => {
    const found = at(text);
    expect(found.map(([c]) => c)).toEqual([code]);
    const [first] = found;
    expect(first?.slice(1, 3)).toEqual([line, column]);
    expect(first?.[3]).toContain(hint);
    expect(readSheet(text, 's.yaml').sheet).toBeUndefined();
    if (code.startsWith('sheet-')) expect(sheetCodes).toHaveProperty(code);
  });

  it('names every fault at once', () => {
    const codes = at('unit: mm\npieces:\n  f: { cut: two, up: [1] }\n  g: { leave out: maybe }\n').map(([c]) => c);
    expect(codes).toEqual(['sheet-key-unknown', 'sheet-value-wrong', 'sheet-value-wrong', 'sheet-value-wrong']);
  });

  it('says when nothing is in it', () => {
    for (const text of ['', '# only a note\n']) {
      const { sheet, findings } = readSheet(text, 's.yaml');
      expect(findings.map((f) => f.code)).toEqual(['sheet-empty']);
      expect(sheet?.pieces).toEqual([]);
    }
  });

  it('survives an alias bomb and any text', () => {
    const bomb = `a: &a [x, x, x, x, x, x, x, x, x]\n${'bcdefghi'
      .split('')
      .map((n, i) => `${n}: &${n} [${Array.from({ length: 9 }, () => `*${'abcdefgh'[i]}`).join(', ')}]\n`)
      .join('')}`;
    expect(readSheet(bomb, 's.yaml').findings[0]?.code).toBe('sheet-unreadable');
    const scrap = fc.constantFrom(...whole.split(/(?<=[\s:,[\]{}])/), ':', '-', '{', ']', '"', '&a', '*a', '!!x', '\t');
    fc.assert(
      fc.property(fc.array(scrap, { maxLength: 30 }), (scraps) => {
        const { sheet, findings } = readSheet(scraps.join(''), 's.yaml');
        return sheet !== undefined || findings.some((f) => f.level === 'error');
      }),
      { numRuns: 300 },
    );
  });
});
