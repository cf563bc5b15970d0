import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { flatten } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { alter } from '../../src/job/run/run.ts';
import { outlineSegments } from '../../src/pattern/edges.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { acrossOf } from '../../src/pattern/upright.ts';

const blocks = join(import.meta.dirname, '../../fixtures/blocks');
const halves = [
  'skirt-apparel-mm.dxf',
  'skirt-apparel-inches-cutting-line.dxf',
  'skirt-lines-and-arcs.dxf',
  'skirt-lines-and-arcs-turned-german-one-layer.dxf',
  'skirt-bulges-mirrored-cm-french-seam-line.dxf',
  'skirt-splines-spanish-capitals.dxf',
  'skirt-cubics.svg',
  'skirt-polylines-inches-cutting-line.svg',
];

/** Area of the seam line by the shoelace formula, mm². */
const areaOf = (piece: Piece): number => {
  const points = flatten({ segments: outlineSegments(piece.seamLine), closed: true }, 0.01);
  return Math.abs(
    points.reduce((sum, p, i) => {
      const q = points[(i + 1) % points.length] as typeof p;
      return sum + (p.x * q.y - q.x * p.y) / 2;
    }, 0),
  );
};

const run = async (name: string, wearer: string, unfold: boolean) => {
  const out = mkdtempSync(join(tmpdir(), 'retrue-unfold-'));
  const pattern = join(blocks, name);
  const request = { pattern, wearer, name: 'Edda', out, force: false, unfold, drafted: 'waist girth=680mm' };
  const result = await alter(request, { onFindings: () => {}, onFitting: () => {} });
  const ledger = JSON.parse(readFileSync(join(out, 'Edda', 'ledger.json'), 'utf8'));
  const written = await readPatternFile(join(out, 'Edda', name), {});
  const before = await readPatternFile(pattern, {});
  return { result, ledger, after: written.file?.pattern, before: before.file?.pattern };
};

const skirts = (pieces: readonly Piece[]): Piece[] => pieces.filter((p) => /^skirt (front|back)$/.test(p.part));

describe('unfolding half pieces for one side that differs', () => {
  it.each(halves)('%s opens to twice its area, whole, left and right written on it', async (name) => {
    const { result, after, before } = await run(name, 'one larger hip=1mm', true);
    expect(result.done).toBe(1);
    const opened = skirts(after?.pieces ?? []);
    expect(opened.length).toBe(2);
    for (const piece of opened) {
      const half = before?.pieces.find((p) => p.part === piece.part) as Piece;
      expect(piece.half).toBe(false);
      expect(piece.cut.count).toBe(half.cut.count);
      // 1 mm more hip is ½ mm more on one side of each piece, over at most its height of 700 mm.
      expect(Math.abs(areaOf(piece) - 2 * areaOf(half))).toBeLessThan(0.5 * 700);
      expect(piece.texts.map((t) => t.text)).toEqual(expect.arrayContaining(['left', 'right']));
      expect(piece.edges.filter((e) => e.role === 'side').length).toBe(2);
      expect(piece.edges.some((e) => e.role === 'fold')).toBe(false);
    }
  });

  it('raises the waist on the side asked for and leaves the other side as it was', async () => {
    const { ledger } = await run('skirt-lines-and-arcs.dxf', 'one high hip=12mm', true);
    const sides = ledger.edges.filter((e: { edge: string }) => e.edge.startsWith('side'));
    const changes = sides
      .map((e: { before: number; after: number }) => e.after - e.before)
      .sort((a: number, b: number) => a - b);
    expect(changes.length).toBe(4);
    expect(Math.max(...changes.slice(0, 2).map(Math.abs))).toBeLessThan(0.2);
    for (const change of changes.slice(2)) expect(change).toBeGreaterThan(10);
  });

  it('refuses half pieces without being asked to unfold, and says how', async () => {
    const { result, ledger } = await run('skirt-cubics.svg', 'one larger hip=10mm', false);
    expect(result.refused).toBe(1);
    const told = ledger.findings.filter((f: { code: string }) => f.code === 'plan-needs-unfolding');
    expect(told.length).toBe(2);
    expect(told[0].try).toContain('--unfold');
  });

  it('leaves a fitting that needs nothing of the sort on its half pieces', async () => {
    const { after } = await run('skirt-cubics.svg', 'hip slope=5mm', true);
    expect(skirts(after?.pieces ?? []).every((p) => p.half)).toBe(true);
  });
});

describe('pieces cut as a pair, for one side that differs', () => {
  const pairs = [
    'trousers-apparel-mm.dxf',
    'trousers-cubics-inches.svg',
    'trousers-splines-straight-mirrored-turned-french.dxf',
  ];
  const legs = (pieces: readonly Piece[]): Piece[] => pieces.filter((p) => /^trouser (front|back)$/.test(p.part));
  const handOf = (piece: Piece): string | undefined =>
    piece.texts.map((t) => / (left|right)$/.exec(t.text)?.[1]).find((hand) => hand !== undefined);

  it.each(pairs)('%s is drawn as a left and a right piece, each cut once, only the left one altered', async (name) => {
    const { result, after, before, ledger } = await run(name, 'one high hip=12mm', true);
    expect(result.done).toBe(1);
    for (const pair of legs(before?.pieces ?? [])) {
      expect(pair.cut.count).toBe(2);
      const two = legs(after?.pieces ?? []).filter((p) => p.part === pair.part);
      expect(two.map(handOf).sort()).toEqual(['left', 'right']);
      for (const piece of two) {
        expect(piece.cut).toMatchObject({ count: 1, mirrored: false });
        const gain = areaOf(piece) - areaOf(pair);
        if (handOf(piece) === 'right') expect(Math.abs(gain)).toBeLessThan(1);
        // The waist is raised 12 mm at the side, to nothing at the centre, over at most 300 mm of waist.
        else expect(gain > 0 && gain < 12 * 300).toBe(true);
        // One is the other turned over: right side up, a front has the wearer's left side at its right, a back at its left.
        const [side, crotch] = (['side', 'crotch'] as const).map((role) => {
          const edge = piece.edges.find((e) => e.role === role);
          return acrossOf(piece.upright, piece.seamLine.spans[edge?.first ?? 0]?.segments[0]?.from as Point);
        }) as [number, number];
        expect(side > crotch).toBe((handOf(piece) === 'left') === pair.part.endsWith('front'));
      }
    }
    const sides = ledger.edges.filter((e: { edge: string }) => e.edge.startsWith('side'));
    const changes = sides
      .map((e: { before: number; after: number }) => e.after - e.before)
      .sort((a: number, b: number) => a - b);
    expect(changes.length).toBe(4);
    expect(Math.max(...changes.slice(0, 2).map(Math.abs))).toBeLessThan(0.01);
    for (const change of changes.slice(2)) expect(change).toBeGreaterThan(11);
  });

  it('sews the crotch seam of the left leg to that of the right one, front and back', async () => {
    const { after } = await run('trousers-cubics-inches.svg', 'one high hip=12mm', true);
    const nameOf = (id: string): string => {
      const piece = legs(after?.pieces ?? []).find((p) => p.id === id);
      return piece ? `${piece.part} ${handOf(piece)}` : id;
    };
    const crotches = after?.mates
      .filter((m) => m.one.some((s) => s.edge.startsWith('crotch')))
      .map((m) => [...m.one, ...m.other].map((s) => nameOf(s.piece)).sort());
    expect(crotches).toEqual([
      ['trouser front left', 'trouser front right'],
      ['trouser back left', 'trouser back right'],
    ]);
  });

  it.each([
    ['cut 2, a pair', 'cut 1'],
    ['cut 2 mirrored', 'cut 1'],
    ['cut 2 (as a pair), serge', 'cut 1, serge'],
  ])('“%s” becomes “%s” on each of the two', async (drawn, wanted) => {
    const out = mkdtempSync(join(tmpdir(), 'retrue-pair-'));
    const svg = readFileSync(join(blocks, 'trousers-cubics-inches.svg'), 'utf8');
    expect(svg.split('>cut 2<').length).toBe(3);
    const pattern = join(out, 'trousers.svg');
    writeFileSync(pattern, svg.replaceAll('>cut 2<', `>${drawn}<`));
    const request = { pattern, wearer: 'one high hip=12mm', name: 'Edda', out, force: true, unfold: true };
    const result = await alter(request, { onFindings: () => {}, onFitting: () => {} });
    expect(result.done).toBe(1);
    const altered = readFileSync(join(out, 'Edda', 'trousers.svg'), 'utf8');
    expect(altered.split(`>${wanted}<`).length).toBe(5);
    expect(altered).not.toMatch(/pair|mirrored/u);
  });

  it('a larger hip on one side comes out on its pieces alone, the girth larger by just that', async () => {
    const { result, ledger } = await run('trousers-apparel-mm.dxf', 'one larger hip=20mm', true);
    expect(result.done).toBe(1);
    const hip = ledger.girths.find((g: { level: string }) => g.level === 'hip');
    expect(Math.abs(hip.after - hip.before - 20)).toBeLessThan(0.1);
    expect(JSON.stringify(ledger.findings)).toContain('drawn as a left and a right piece');
  });

  it('is refused without --unfold, and says how', async () => {
    const { result, ledger } = await run('trousers-cubics-inches.svg', 'one larger hip=10mm', false);
    expect(result.refused).toBe(1);
    const told = ledger.findings.filter((f: { code: string }) => f.code === 'plan-needs-unfolding');
    expect(told.length).toBe(2);
    expect(told[0].try).toContain('--unfold');
  });
});
