import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../../src/formats/drawing.ts';
import type { Point } from '../../../src/geometry/point.ts';
import type { Judged } from '../../../src/pattern/evidence.ts';
import type { Pattern } from '../../../src/pattern/pattern.ts';
import type { Edge, EdgeRole, Piece } from '../../../src/pattern/piece.ts';
import { heightOf } from '../../../src/pattern/upright.ts';
import { pointOfPlace } from '../../../src/recognise/sheet/places.ts';
import { readSheet } from '../../../src/recognise/sheet/read.ts';
import { writeSheet } from '../../../src/recognise/sheet/write.ts';

const sure: Judged = { evidence: [{ says: 'the label says so', weight: 1 }], confidence: 1 };
const guessed: Judged = { evidence: [{ says: 'it is\nthe longest "edge": [x]', weight: 0.6 }], confidence: 0.6 };

const corners: readonly Point[] = [
  { x: 10, y: 10 },
  { x: 250.5, y: 12 },
  { x: 220.1234, y: 700 },
  { x: 10, y: 690 },
];
const edge = (role: EdgeRole, index: number, judged: Judged, id: string = role): Edge => ({
  ...judged,
  ...{ id, role, first: index, last: index, allowance: 15 },
});

const front: Piece = {
  id: 'skirt-front',
  name: 'Chorus: "front"',
  part: 'skirt front',
  partJudged: sure,
  upright: { ...sure, origin: { x: 0, y: 0 }, up: { x: Math.cos(1.2), y: Math.sin(1.2) } },
  half: true,
  cut: { ...sure, count: 1, mirrored: false, cloth: 'shell' },
  seamLine: {
    spans: corners.map((from, i) => ({
      source: { drawable: 'outline', index: i, reversed: false },
      segments: [{ kind: 'line' as const, from, to: corners[(i + 1) % 4] as Point }],
    })),
  },
  seamLineFrom: 'derived',
  edges: [
    edge('hem', 0, sure),
    edge('side', 1, guessed, 'left side'),
    edge('waist', 2, sure),
    edge('unknown', 3, guessed),
  ],
  levels: [{ ...sure, name: 'hip', height: 490.25 }],
  darts: [],
  notches: [],
  lines: [],
  points: [],
  texts: [],
  grainline: { ...guessed, lines: ['grain'], from: { x: 100, y: 100 }, to: { x: 100, y: 500 } },
  landmarks: [],
  adjustmentLines: [{ ...sure, lines: [], height: 300 }],
};
const pattern: Pattern = {
  fileName: 'chorus.dxf',
  style: 'Chorus skirt, act 2',
  size: '12',
  pieces: [front, { ...front, id: 'piece-2', name: '', part: 'unknown', grainline: undefined, levels: [] } as Piece],
  mates: [
    {
      ...guessed,
      id: 'odd seam',
      one: [{ piece: 'skirt-front', edge: 'left side', times: 1 }],
      other: [
        { piece: 'piece-2', edge: 'waist', times: 2 },
        { piece: 'piece-2', edge: 'hem', times: 1 },
      ],
    },
  ],
  draftedFor: { 'waist girth': 685.8, 'hip girth': 941.3 },
  loose: [],
  repeats: new Map(),
  doubts: [
    { piece: 'piece-2', about: 'fold', code: 'x', message: 'Which edge is the fold?', sheetLine: 'on fold: true' },
    {
      ...{ piece: 'piece-2', about: 'the side seam', edge: 'left side', code: 'y', message: 'Sewn to which?' },
      sheetLine: 'mates:\n  - sew: [piece-2 left side, skirt-front left side]',
    },
  ],
  views: [{ name: 'A', needs: ['skirt-front', 'piece-2'] }],
};
const drawingIn = (millimetresPerUnit: number, name: string, format: Drawing['format'] = 'dxf'): Drawing => ({
  ...{ format, fileName: 'chorus.dxf', containers: [], drawables: [], document: undefined },
  units: { millimetresPerUnit, name, statedBy: 'file' },
});

describe('writing a pattern sheet', () => {
  it.each([
    [1, 'mm'],
    [25.4, 'in'],
    [10, 'cm'],
    [25.4 / 96, 'px'],
  ])('is read back as it was meant, 1 unit = %d mm (%s)', (perUnit, name) => {
    const drawing = drawingIn(perUnit, name, name === 'px' ? 'svg' : 'dxf');
    const { sheet, findings } = readSheet(writeSheet(pattern, drawing), 'chorus.sheet.yaml');
    expect(findings).toEqual([]);
    expect(sheet).toMatchObject({
      ...{ style: pattern.style, size: '12', outlineIs: 'cutting line', views: pattern.views },
      mates: [
        {
          name: 'odd seam',
          one: [{ piece: 'skirt-front', edge: 'left side' }],
          other: [{ times: 2 }, { edge: 'hem' }],
        },
      ],
    });
    expect(sheet?.draftedFor['waist girth']).toBeCloseTo(685.8, 9);
    expect(sheet?.draftedFor['hip girth']).toBeCloseTo(941.3, 9);
    const [first, second] = sheet?.pieces ?? [];
    expect(first).toMatchObject({
      ...{ key: 'skirt-front', name: front.name, part: 'skirt front', cut: 1, onFold: true, cloth: 'shell' },
      allowances: { hem: 15, 'left side': 15 },
      edges: [{ role: 'hem' }, { role: 'side', id: 'left side' }, { role: 'waist' }],
    });
    expect(first?.up?.x).toBeCloseTo(Math.cos(1.2), 6);
    expect(first?.up?.y).toBeCloseTo(Math.sin(1.2), 6);
    expect(second?.part).toBeUndefined();
    for (const [i, stated] of (first?.edges ?? []).entries()) {
      const from = pointOfPlace(drawing, stated.from);
      expect(from.x).toBeCloseTo(corners[i]?.x ?? 0, 2);
      expect(from.y).toBeCloseTo(corners[i]?.y ?? 0, 2);
    }
    const [hip] = first?.levels ?? [];
    if (hip?.lies.by !== 'place') throw new Error('the hip is stated by a place');
    expect(heightOf(front.upright, pointOfPlace(drawing, hip.lies.at))).toBeCloseTo(490.25, 2);
  });

  it('gives the evidence as notes and marks what was not found', () => {
    const text = writeSheet(pattern, drawingIn(1, 'mm'));
    expect(text).toContain('the label says so');
    expect(text).toContain('60 % sure');
    expect(text).toMatch(/# \? Is this the role of the edge\? It is/);
    expect(text).toMatch(/# \? What is this piece/);
    expect(text).toMatch(/# \? No grainline was found/);
    expect(text).toMatch(/# \? Which edge is the fold\?\n +# {3}on fold: true/);
    const bare = writeSheet({ ...pattern, draftedFor: {}, size: '', mates: [], views: [] }, drawingIn(1, 'mm'));
    expect(bare).toMatch(/# \? Body measurements[^\n]*\n# {3}drafted for:\n# {5}waist girth: … in/);
    expect(bare).toMatch(/# \? No mate was found for these edges/);
    expect(readSheet(bare, 's.yaml').findings).toEqual([]);
  });

  it('states nothing that is in doubt, so that obeying the sheet settles no doubt by itself', () => {
    const uncertain: Judged = { evidence: [], confidence: 0.3 };
    const doubtful: Pattern = {
      ...pattern,
      pieces: [{ ...front, cut: { ...front.cut, ...uncertain } }, ...pattern.pieces.slice(1)],
      doubts: [
        ...pattern.doubts,
        {
          piece: 'skirt-front',
          about: 'up',
          code: 'z',
          message: 'Either end could be the waist.',
          sheetLine: 'up: [0, 1]',
        },
      ],
    };
    const text = writeSheet(doubtful, drawingIn(1, 'mm'));
    const { sheet, findings } = readSheet(text, 's.yaml');
    expect(findings).toEqual([]);
    const [first, second] = sheet?.pieces ?? [];
    expect(first).toMatchObject({ key: 'skirt-front', part: 'skirt front', edges: [] });
    expect([first?.up, first?.cut, first?.onFold, first?.cloth]).toEqual(Array(4).fill(undefined));
    expect(second?.onFold).toBeUndefined();
    expect(second?.edges.map((e) => e.role)).toEqual(['hem', 'side', 'waist']);
    expect(text).toMatch(/# \? Not sure of this:\n +# {3}cut: 1/);
    expect(text).toMatch(/# \? piece-2: Sewn to which\?\n# {5}- sew:/);
  });

  it('is a sheet even of a pattern without pieces', () => {
    const none = writeSheet({ ...pattern, pieces: [], mates: [], views: [], doubts: [] }, drawingIn(1, 'mm'));
    expect(readSheet(none, 's.yaml').findings).toEqual([]);
  });

  it('becomes part of the sheet where the mark is taken away', () => {
    const text = writeSheet(pattern, drawingIn(1, 'mm'))
      .replace(/# - \{ role: unknown/g, '  - { role: fold')

      .replace(/# {3}grainline: \{ from: \[x, y\], to: \[x, y\] \}/, 'grainline: { from: [1, 2], to: [1, 9] }')
      .replace(/# {3}levels:/, 'levels:')
      .replace(/# {5}hip: 200 mm/, '  hip: 200 mm')
      .replace(/# {3}part: .*/, 'part: skirt back');
    const { sheet, findings } = readSheet(text, 's.yaml');
    expect(findings).toEqual([]);
    expect(sheet?.pieces[0]?.edges.map((e) => e.role)).toEqual(['hem', 'side', 'waist', 'fold']);
    expect(sheet?.pieces[1]).toMatchObject({ grainline: { from: { x: 1, y: 2 } }, part: 'skirt back' });
  });
});
