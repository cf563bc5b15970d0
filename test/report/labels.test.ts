import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type LabelAsked, placeLabels } from '../../src/picture/labels.ts';

const label: fc.Arbitrary<LabelAsked> = fc
  .record({
    x: fc.integer({ min: 0, max: 60 }),
    y: fc.integer({ min: 0, max: 120 }),
    words: fc.constantFrom('→ ½ in', 'side', 'panel seam', '↗ 12.7 mm', 'hem'),
    angle: fc.double({ min: 0, max: 6.28, noNaN: true }),
  })
  .map(({ x, y, words, angle }) => ({
    at: { x, y },
    words,
    look: 'amount' as const,
    toward: { x: Math.cos(angle), y: Math.sin(angle) },
    leader: 'leader' as const,
  }));

it('puts no words over other words, of a dozen spread over a piece', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(label, {
        minLength: 2,
        maxLength: 12,
        selector: (l) => Math.round(l.at.x / 20) * 1000 + Math.round(l.at.y / 12),
      }),
      (asked) => {
        const { boxes, marks } = placeLabels(asked, []);
        expect(marks.filter((m) => m.kind === 'words').map((m) => m.kind === 'words' && m.words)).toEqual(
          asked.map((a) => a.words),
        );
        boxes.forEach((a, i) => {
          for (const b of boxes.slice(i + 1)) {
            const apart = a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY;
            expect(apart).toBe(true);
          }
        });
      },
    ),
  );
});

it('leads a line to words that stand off, from the place they speak of', () => {
  const at = { x: 10, y: 10 };
  const wall = Array.from({ length: 200 }, (_, i) => ({ x: 11 + (i % 20) * 0.25, y: 6 + Math.floor(i / 20) * 0.8 }));
  const asked: LabelAsked = { at, words: '→ ½ in', look: 'amount', toward: { x: 1, y: 0 }, leader: 'leader' };
  const { marks, boxes } = placeLabels([asked], wall);
  const [leader] = marks.filter((m) => m.kind === 'line');
  const inTheWay = wall.filter(
    (p) => p.x >= boxes[0]!.minX && p.x <= boxes[0]!.maxX && p.y >= boxes[0]!.minY && p.y <= boxes[0]!.maxY,
  );
  expect(inTheWay).toEqual([]);
  if (leader?.kind === 'line') expect(leader.segments[0]?.from).toEqual(at);
});
