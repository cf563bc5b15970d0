import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { blockFrame, writeApparel } from '../../../src/formats/dxf/apparel.ts';
import type { ApparelPattern, ApparelPiece } from '../../../src/formats/dxf/apparel-pattern.ts';
import { nearestOnPath, type Path, pathBounds, polyline } from '../../../src/geometry/path.ts';
import { distance, type Point } from '../../../src/geometry/point.ts';
import { pointAt } from '../../../src/geometry/segment.ts';
import { type Affine, transformSegment, translation } from '../../../src/geometry/transform.ts';
import { apparelFile, apparelOf } from '../../../src/job/apparel.ts';
import { readPatternFile } from '../../../src/job/patternfile.ts';
import { outlineSegments } from '../../../src/pattern/edges.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import { differences, foundFacts } from '../../recognise/reading.ts';
import { read, textOf } from './tools.ts';

const BLOCKS = join(import.meta.dirname, '../../../fixtures/blocks');
const fixtures = readdirSync(BLOCKS).filter((f) => /\.(dxf|svg)$/.test(f));
/** Chords may lie 0.1 mm off; lengths and notches then differ by less. mm */
const WITHIN = 0.15;

const patternIn = async (path: string) => {
  const { file, findings } = await readPatternFile(path, {});
  if (!file) throw new Error(JSON.stringify(findings));
  return file;
};

/** Greatest distance of points along the first line from the second, mm. */
const farthest = (from: Path, to: Path): number =>
  Math.max(
    ...from.segments.flatMap((s) => [0, 0.5].map((t) => nearestOnPath(to, pointAt(s, t))?.distance ?? Infinity)),
  );
const seamOf = (piece: Piece): Path => ({ segments: outlineSegments(piece.seamLine), closed: true });
const moved = (map: Affine, path: Path): Path => ({
  segments: path.segments.flatMap((s) => transformSegment(map, s)),
  closed: true,
});
/** Blocks lie in a row; where each begins is the box of its boundary. */
const placeOf = (found: Piece, expected: Path): Point => {
  const [a, b] = [pathBounds(seamOf(found)), pathBounds(expected)];
  return { x: a.minX - b.minX, y: a.minY - b.minY };
};

describe('a pattern as an apparel exchange file', () => {
  fixtures.forEach((fixture, i) => {
    const units = i % 3 === 0 ? 'in' : 'mm';
    it(`in ${units} is read back to the same pieces: ${fixture}`, async () => {
      const before = await patternIn(join(BLOCKS, fixture));
      const apparel = apparelOf(before.pattern, before.drawing);
      const { bytes, name } = await apparelFile(before.pattern, before.drawing, { units });
      expect(name).toBe(fixture.replace(/\.\w+$/, '.apparel.dxf'));
      const path = join(mkdtempSync(join(tmpdir(), 'apparel-')), 'exchange.dxf');
      writeFileSync(path, bytes);
      const after = await patternIn(path);
      expect(before.pattern.pieces.length).toBeGreaterThan(1);
      expect(after.pattern.pieces.map((p) => [p.name, p.part])).toEqual(
        before.pattern.pieces.map((p) => [p.name, p.part]),
      );
      before.pattern.pieces.forEach((piece, i) => {
        const found = after.pattern.pieces[i] as Piece;
        expect(differences(foundFacts(piece), foundFacts(found), WITHIN)).toEqual([]);
        expect([found.cut.mirrored, found.cut.cloth]).toEqual([piece.cut.mirrored, piece.cut.cloth]);
        const expected = moved(blockFrame(apparel.pieces[i] as ApparelPiece), seamOf(piece));
        const { x, y } = placeOf(found, expected);
        const back = moved(translation({ x: -x, y: -y }), seamOf(found));
        // The chord tolerance, once for the line and once more for how well the two boxes can be laid together.
        expect(farthest(expected, back)).toBeLessThan(0.11);
        expect(farthest(back, expected)).toBeLessThan(0.11);
      });
      const worse = (level: string) => (f: { level: string; code: string }) =>
        f.level === level && !before.findings.some((b) => b.code === f.code);
      expect(after.findings.filter(worse('error')).map((f) => f.code)).toEqual([]);
      expect(after.findings.filter(worse('warning')).map((f) => f.code)).toEqual([]);
      expect(after.pattern.mates.length).toBe(before.pattern.mates.length);
    });
  });
});

const square = polyline(
  [
    { x: 0, y: 0 },
    { x: 100, y: 0 },
    { x: 100, y: 200 },
    { x: 0, y: 200 },
  ],
  true,
);
const piece = (more: Partial<ApparelPiece> = {}): ApparelPiece => ({
  ...{ name: 'Front', category: 'skirt front', material: 'shell', quantity: 2, mirroredPair: true, boundary: square },
  ...{
    withoutAllowance: false,
    grain: [
      { x: 50, y: 20 },
      { x: 50, y: 180 },
    ],
    internals: [],
    notches: [],
    drills: [],
    texts: [],
    ...more,
  },
});
const patternOf = (...pieces: readonly ApparelPiece[]): ApparelPattern => ({ style: 'Page', size: '12', pieces });

describe('apparel exchange layout', () => {
  it('has an empty header, no tables, only blocks of pieces, and 7-bit texts', () => {
    const { bytes, findings } = writeApparel(
      patternOf(piece({ name: 'Vorderteil Größe' }), piece({ name: '前' }), piece({ name: '前' })),
    );
    const text = textOf(bytes);
    expect(text.startsWith('0\nSECTION\n2\nHEADER\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n')).toBe(true);
    expect(text).not.toContain('TABLES');
    expect(/^[\x20-\x7e\n]*$/.test(text)).toBe(true);
    expect([...text.matchAll(/\n0\nBLOCK\n8\n1\n2\n([^\n]*)/g)].map((m) => m[1])).toEqual([
      'VORDERTEIL_GROSSE',
      'PIECE',
      'PIECE_2',
    ]);
    expect(findings.map((f) => f.code)).toEqual(['dxf-apparel-relations', 'dxf-letters-escaped']);
  });

  it('lays the grain along x with the lower left corner at the origin, whatever way the piece lies', () => {
    for (const angle of [0, 0.7, -2, Math.PI]) {
      const to = (p: Point): Point => ({
        x: 500 + p.x * Math.cos(angle) - p.y * Math.sin(angle),
        y: -300 + p.x * Math.sin(angle) + p.y * Math.cos(angle),
      });
      const turned = piece({
        boundary: polyline(
          square.segments.map((s) => to(s.from)),
          true,
        ),
        grain: [to({ x: 50, y: 20 }), to({ x: 50, y: 180 })],
      });
      const { drawing } = read(writeApparel(patternOf(turned)).bytes);
      const paths = drawing.drawables.flatMap((d) => (d.kind === 'path' ? [d] : []));
      const grain = paths.find((d) => d.layer === '7')!.path.segments[0]!;
      expect(distance(grain.from, { x: 20, y: 50 })).toBeLessThan(1e-3);
      expect(distance(grain.to, { x: 180, y: 50 })).toBeLessThan(1e-3);
    }
  });

  it('puts each thing on its layer', () => {
    const { drawing } = read(
      writeApparel(
        patternOf(
          piece({
            sewLine: polyline(
              [
                { x: 10, y: 10 },
                { x: 90, y: 10 },
                { x: 90, y: 190 },
                { x: 10, y: 190 },
              ],
              true,
            ),
            mirrorLine: [
              { x: 0, y: 0 },
              { x: 0, y: 200 },
            ],
            internals: [
              {
                path: polyline([
                  { x: 20, y: 60 },
                  { x: 80, y: 60 },
                ]),
                cutout: false,
              },
              {
                path: polyline(
                  [
                    { x: 40, y: 100 },
                    { x: 60, y: 100 },
                    { x: 50, y: 120 },
                  ],
                  true,
                ),
                cutout: true,
              },
            ],
            notches: (['slit', 'v', 't', 'castle', 'check', 'u'] as const).map((shape, i) => ({
              at: { x: 100, y: 20 + 20 * i },
              inward: { x: -1, y: 0 },
              shape,
            })),
            drills: [{ x: 30, y: 150 }],
            texts: [
              { text: 'hip line', at: { x: 30, y: 62 }, angle: 0, height: 4 },
              { text: 'Quantity: 9', at: { x: 30, y: 62 }, angle: 0, height: 4 },
            ],
          }),
        ),
      ).bytes,
    );
    const counts = new Map<string, number>();
    for (const d of drawing.drawables)
      counts.set(`${d.layer} ${d.kind}`, (counts.get(`${d.layer} ${d.kind}`) ?? 0) + 1);
    expect(Object.fromEntries(counts)).toMatchObject({
      ...{ '1 path': 1, '14 path': 1, '6 path': 1, '7 path': 1, '8 path': 1, '11 path': 1, '13 point': 1 },
      ...{
        '4 point': 2,
        '80 point': 1,
        '81 point': 1,
        '82 point': 1,
        '83 point': 1,
        '2 point': 8,
        '3 point': 6,
        '15 text': 1,
      },
    });
    const texts = drawing.drawables.flatMap((d) => (d.kind === 'text' ? [d.text] : []));
    expect(texts.filter((t) => t.startsWith('Quantity'))).toEqual(['Quantity: 2']);
  });

  it('tells of a piece without grain', () => {
    const { grain: _, ...without } = piece();
    expect(writeApparel(patternOf(without)).findings.map((f) => [f.code, f.where.piece])).toContainEqual([
      'dxf-apparel-no-grain',
      'Front',
    ]);
  });
});
