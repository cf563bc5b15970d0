import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { boundsOfPoints } from '../../src/geometry/bounds.ts';
import { apply } from '../../src/geometry/transform.ts';
import { type ArrangeOptions, arrange } from '../../src/layout/arrange.ts';
import { copiesOf } from '../../src/layout/copies.ts';
import { placing } from '../../src/layout/draw.ts';
import { type Lay, type Template, templateOf } from '../../src/layout/template.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { ARRANGE, patternOf, ringOf, worstOverlap } from './laying.ts';

const FILES = ['skirt-cubics.svg', 'skirt-six-gores-cm-dutch.svg', 'skirt-apparel-japanese-back-seam.dxf'];
const patterns: Pattern[] = [];
beforeAll(async () => {
  for (const file of FILES) patterns.push(await patternOf(file));
});

const laidOut = (templates: readonly Template[], lay: Lay, options: Partial<ArrangeOptions> = {}) => {
  const copies = templates.map((t) => copiesOf(t, lay, 'as cut').copies);
  return { copies, ...arrange(copies, { ...ARRANGE, lay, ...options }) };
};
const templatesOf = (pattern: Pattern, lay: Lay): Template[] =>
  pattern.pieces.map((p) => templateOf(p, '', { lay, line: 'cutting' }));

describe('any layout', () => {
  it('holds every copy once, inside the strip, none on another', () => {
    fc.assert(
      fc.property(
        fc.nat({ max: FILES.length - 1 }),
        fc.constantFrom<Lay>('paper', 'cloth', 'folded'),
        fc.boolean(),
        fc.integer({ min: 760, max: 1600 }),
        fc.integer({ min: 0, max: 12 }),
        fc.integer({ min: 1, max: 5 }),
        (which, lay, nap, height, gap, seed) => {
          const templates = templatesOf(patterns[which] as Pattern, lay);
          const { copies, arrangement, findings } = laidOut(templates, lay, { nap, height, gap, seed });
          expect(findings).toEqual([]);
          for (const c of copies) {
            const own = arrangement.pieces.filter((p) => p.template === c.template);
            expect(own.length).toBe(c.asDrawn + c.mirrored);
            if (c.template.half !== 'on fold') expect(own.filter((p) => p.mirror).length).toBe(c.mirrored);
            expect(own.map((p) => p.copy)).toEqual(own.map((_, i) => i + 1));
          }
          const rings = arrangement.pieces.map(ringOf);
          const box = boundsOfPoints(rings.flat());
          expect(Math.min(box.minX, box.minY)).toBeGreaterThan(-0.11);
          expect(box.maxX).toBeLessThan(arrangement.length + 0.11);
          expect(box.maxY).toBeLessThan(height + 0.11);
          expect(worstOverlap(rings)).toBeLessThan(1e-4);
        },
      ),
      { numRuns: 10 },
    );
  }, 60_000);

  it('is the same for the same seed', () => {
    const templates = templatesOf(patterns[1] as Pattern, 'paper');
    const [a, b] = [laidOut(templates, 'paper', { seed: 7 }), laidOut(templates, 'paper', { seed: 7 })];
    expect(a.arrangement).toEqual(b.arrangement);
  });

  it('of very many pieces is made in lots, one after the other, no fitting in two and no piece on another', () => {
    const copies = Array.from({ length: 60 }, (_, f) =>
      (patterns[0] as Pattern).pieces.map((p) => {
        const template = templateOf(p, `F${f}`, { lay: 'paper', line: 'cutting' });
        return copiesOf(template, 'paper', 'as cut').copies;
      }),
    ).flat();
    const { arrangement, findings } = arrange(copies, { ...ARRANGE, effort: 5 });
    expect(findings.map((f) => [f.code, f.level])).toEqual([['layout-in-lots', 'note']]);
    const rings = arrangement.pieces.map(ringOf);
    expect(worstOverlap(rings)).toBeLessThan(1e-4);
    // Two lots of thirty fittings: a line across the strip parts them.
    const ends = (from: number, to: number) => {
      const own = rings.filter((_, i) => {
        const f = Number(arrangement.pieces[i]?.template.fitting.slice(1));
        return f >= from && f < to;
      });
      const { minX, maxX } = boundsOfPoints(own.flat());
      return { minX, maxX, count: own.length };
    };
    const [first, second] = [ends(0, 30), ends(30, 60)];
    expect([first.count, second.count]).toEqual([90, 90]);
    expect(second.minX).toBeGreaterThan(first.maxX + ARRANGE.gap - 0.21);
  }, 60_000);

  it('leaves out a piece that is too wide, and tells it', () => {
    const templates = templatesOf(patterns[0] as Pattern, 'cloth');
    const { arrangement, findings } = laidOut(templates, 'cloth', { height: 300 });
    expect(findings.map((f) => [f.code, f.where.piece])).toEqual([
      ['layout-piece-too-wide', 'skirt-front'],
      ['layout-piece-too-wide', 'skirt-back'],
    ]);
    expect(arrangement.pieces.map((p) => p.template.id)).toEqual(['waistband']);
  });
});

describe('cloth', () => {
  it('keeps the grain along the roll, and with a nap all tops the same way', () => {
    for (const nap of [false, true]) {
      for (const pattern of patterns) {
        const { arrangement } = laidOut(templatesOf(pattern, 'cloth'), 'cloth', { nap, height: 1500 });
        for (const piece of arrangement.pieces) {
          const source = pattern.pieces.find((p) => p.id === piece.template.id);
          if (!source?.grainline) throw new Error('every block has a grainline');
          const [from, to] = [source.grainline.from, source.grainline.to].map((p) =>
            apply(placing(piece), apply(piece.template.lie, p)),
          ) as [{ x: number; y: number }, { x: number; y: number }];
          expect(Math.abs(to.y - from.y)).toBeLessThan(1e-4 * Math.abs(to.x - from.x));
          if (!nap) continue;
          const { origin, up } = source.upright;
          const tip = { x: origin.x + up.x, y: origin.y + up.y };
          const rise =
            apply(placing(piece), apply(piece.template.lie, tip)).x -
            apply(placing(piece), apply(piece.template.lie, origin)).x;
          // A band cut along its length has no top along the roll.
          if (Math.abs(rise) > 0.5) expect(rise).toBeGreaterThan(0.5);
        }
      }
    }
  });

  it('opens a half piece out to twice its area, mirrored in its fold', () => {
    const pattern = patterns[0] as Pattern;
    const [half, whole] = [templatesOf(pattern, 'paper'), templatesOf(pattern, 'cloth')];
    const height = (t: Template): number => {
      const ring = ringOf({ template: t, copy: 1, of: 1, mirror: false, turn: 0, offset: { x: 0, y: 0 } });
      const box = boundsOfPoints(ring);
      return box.maxY - box.minY;
    };
    for (const i of [0, 1]) {
      expect(whole[i]?.half).toBe('opened');
      expect(height(whole[i] as Template)).toBeCloseTo(2 * height(half[i] as Template), 3);
      const cuts = (t: Template | undefined) => t?.marks.filter((m) => m.purpose === 'cut') ?? [];
      expect(cuts(whole[i]).every((m) => m.kind === 'path' && m.path.closed)).toBe(true);
      const notches = (t: Template | undefined) => t?.marks.filter((m) => m.kind === 'notch').length ?? 0;
      expect(notches(whole[i])).toBe(2 * notches(half[i]));
    }
  });

  it('puts the fold of a half piece on the lower edge, and does not cut it', () => {
    const { arrangement } = laidOut(templatesOf(patterns[0] as Pattern, 'folded'), 'folded', { height: 750 });
    const onFold = arrangement.pieces.filter((p) => p.template.half === 'on fold');
    expect(onFold.length).toBe(2);
    for (const piece of onFold) {
      const fold = piece.template.fold;
      if (!fold) throw new Error('a piece on the fold has one');
      for (const p of [fold.from, fold.to]) expect(apply(placing(piece), p).y).toBeCloseTo(0, 3);
      const cut = piece.template.marks.filter((m) => m.purpose === 'cut');
      expect(cut.every((m) => m.kind === 'path' && !m.path.closed)).toBe(true);
      expect(piece.template.marks.filter((m) => m.purpose === 'crease').length).toBe(1);
    }
  });
});
