import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PathDrawable } from '../../src/formats/drawing.ts';
import { add, type Point, point } from '../../src/geometry/point.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import { line, reversed, splitAt } from '../../src/geometry/segment.ts';
import { transformSegment, translation } from '../../src/geometry/transform.ts';
import { changesBetween, contestedLines } from '../../src/job/redraw.ts';
import type { Span } from '../../src/pattern/piece.ts';
import { drawingOf, innerLine, pathDrawable, patternOf, pieceOf, spansOf, textDrawable } from './handmade.ts';

const ring = (corners: readonly Point[]): Segment[] =>
  corners.map((c, i) => line(c, corners[(i + 1) % corners.length] as Point));

/** A polygon drawn as several drawables, each along the outline or against it. */
const drawnRing = fc
  .record({
    corners: fc.integer({ min: 3, max: 12 }),
    cuts: fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
    against: fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
  })
  .map(({ corners, cuts, against }) => {
    const points = Array.from({ length: corners }, (_, i) => {
      const angle = (2 * Math.PI * i) / corners;
      return point(100 * Math.cos(angle), 100 * Math.sin(angle));
    });
    const groups: Segment[][] = [];
    ring(points).forEach((s, i) => {
      if (i === 0 || cuts[i]) groups.push([]);
      groups.at(-1)?.push(s);
    });
    const parts = groups.map((segments, i) => {
      const turned = against[i] ?? false;
      const own = turned ? segments.toReversed().map(reversed) : segments;
      return { drawable: pathDrawable(`d${i}`, own, groups.length === 1), turned };
    });
    return {
      drawables: parts.map((p) => p.drawable),
      spans: parts.flatMap((p) => spansOf(p.drawable, p.turned)),
    };
  });

type Fate = 'keep' | 'move' | 'split';
const fates = fc.array(fc.constantFrom<Fate>('keep', 'move', 'split'), { minLength: 12, maxLength: 12 });

/** One span as an alteration leaves it; the ends need not meet for what is checked here. */
const fated = (span: Span, fate: Fate): Span => {
  if (fate === 'keep') return span;
  if (fate === 'move')
    return { ...span, segments: span.segments.flatMap((s) => transformSegment(translation(point(3, 4)), s)) };
  return { ...span, segments: span.segments.flatMap((s) => splitAt(s, 0.25)).filter((s) => s !== undefined) };
};

describe('changesBetween', () => {
  it('says nothing of a pattern that did not change', () => {
    fc.assert(
      fc.property(drawnRing, ({ drawables, spans }) => {
        const pattern = patternOf(pieceOf(spans));
        const again = patternOf(pieceOf(spans.map((s) => ({ ...s, segments: s.segments.map((x) => ({ ...x })) }))));
        for (const after of [pattern, again]) {
          const changes = changesBetween(drawingOf(drawables), pattern, after);
          expect(changes.paths.size + changes.texts.size + changes.points.size + changes.additions.length).toBe(0);
        }
      }),
    );
  });

  it('gives each drawable its own segments, in its own direction, and unmoved ones as the same objects', () => {
    fc.assert(
      fc.property(drawnRing, fates, ({ drawables, spans }, fate) => {
        const altered = spans.map((s, i) => fated(s, fate[i] ?? 'keep'));
        const changes = changesBetween(drawingOf(drawables), patternOf(pieceOf(spans)), patternOf(pieceOf(altered)));
        for (const drawable of drawables) {
          const own = altered.filter((s) => s.source?.drawable === drawable.id);
          const changed = own.some(
            (s) => s.segments.length !== 1 || s.segments[0] !== spans[altered.indexOf(s)]?.segments[0],
          );
          expect(changes.paths.has(drawable.id)).toBe(changed);
          if (changed) expectFollows(drawable, changes.paths.get(drawable.id)?.segments ?? [], own);
        }
      }),
    );
  });

  const expectFollows = (
    drawable: PathDrawable,
    groups: readonly (readonly Segment[])[],
    spans: readonly Span[],
  ): void => {
    expect(groups.length).toBe(drawable.path.segments.length);
    for (const span of spans) {
      const group = groups[span.source?.index ?? -1] ?? [];
      const along = span.source?.reversed ? group.toReversed().map(reversed) : group;
      expect(along).toEqual(span.segments);
    }
    for (const [i, own] of drawable.path.segments.entries()) {
      const kept = groups[i]?.length === 1 && JSON.stringify(groups[i]?.[0]) === JSON.stringify(own);
      if (kept) expect(groups[i]?.[0]).toBe(own);
    }
  };

  it('lets a segment vanish when its span is gone or empty', () => {
    const drawable = pathDrawable('d', ring([point(0, 0), point(100, 0), point(100, 100), point(0, 100)]), true);
    const spans = spansOf(drawable);
    const gone = [spans[0], spans[2], { ...spans[3], segments: [] }] as Span[];
    const changes = changesBetween(drawingOf([drawable]), patternOf(pieceOf(spans)), patternOf(pieceOf(gone)));
    expect(changes.paths.get('d')?.segments.map((g) => g.length)).toEqual([1, 0, 1, 0]);
  });

  it('moves texts, and turns only those that were turned', () => {
    const text = { id: 't', text: 'FRONT', at: point(10, 10), angle: 0, height: 5 };
    const before = patternOf(pieceOf([], { texts: [text] }));
    const drawing = drawingOf([textDrawable('t', 'FRONT', point(10, 10))]);
    const moved = patternOf(pieceOf([], { texts: [{ ...text, at: add(text.at, point(1, 2)) }] }));
    const turned = patternOf(pieceOf([], { texts: [{ ...text, angle: 0.5 }] }));
    expect(changesBetween(drawing, before, moved).texts.get('t')).toEqual({ at: point(11, 12) });
    expect(changesBetween(drawing, before, turned).texts.get('t')).toEqual({ at: point(10, 10), angle: 0.5 });
  });

  it('takes new marks for additions, drawn like the one they name', () => {
    const drawable = pathDrawable('e:1', [line(point(0, 0), point(10, 0))]);
    const own = innerLine('e:1', spansOf(drawable));
    const fresh = innerLine('new:1:e:1', [{ segments: [line(point(0, 5), point(10, 5))] }]);
    const changes = changesBetween(
      drawingOf([drawable]),
      patternOf(pieceOf([], { lines: [own] })),
      patternOf(pieceOf([], { lines: [own, fresh] })),
    );
    const path = { segments: [line(point(0, 5), point(10, 5))], closed: false };
    expect(changes.additions).toEqual([{ kind: 'path', like: 'e:1', path }]);
    expect(changes.paths.size).toBe(0);
  });

  it('takes a line that got lost for a fault of the program', () => {
    const drawable = pathDrawable('d', [line(point(0, 0), point(10, 0))]);
    const before = patternOf(pieceOf([], { lines: [innerLine('d', spansOf(drawable))] }));
    expect(() => changesBetween(drawingOf([drawable]), before, patternOf(pieceOf([])))).toThrow(/lost/);
  });
});

describe('contestedLines', () => {
  const drawable = pathDrawable('d', [line(point(0, 0), point(100, 0))]);
  const spans = spansOf(drawable);
  const moved = [{ ...spans[0], segments: [line(point(0, 1), point(100, 1))] } as Span];
  const two = (a: readonly Span[], b: readonly Span[]) =>
    patternOf(pieceOf(a, { id: 'front' }), pieceOf(b, { id: 'back' }));

  it('lets two pieces share a line that stays or moves alike', () => {
    expect(contestedLines(drawingOf([drawable]), two(spans, spans))).toEqual([]);
    expect(contestedLines(drawingOf([drawable]), two(moved, moved))).toEqual([]);
  });

  it('refuses a line that two pieces alter differently', () => {
    const [finding] = contestedLines(drawingOf([drawable]), two(spans, moved));
    expect(finding).toMatchObject({ code: 'job-line-shared', level: 'error' });
    expect(finding?.message).toMatch(/front.*back/);
  });
});
