import type { PrintMark } from '../formats/print.ts';
import type { Figure, Mark } from '../picture/figure.ts';
import { HALO, LOOKS, type Look } from '../picture/looks.ts';
import type { Slab } from './slab.ts';
import { shifted } from './slab.ts';

/** A figure as marks of a printed sheet, in its true size, its upper left corner at (x, 0). */
export const figureSlab = (figure: Figure, x: number): Slab => ({
  height: figure.height,
  marks: shifted(figure.marks.flatMap(printed), x, 0),
});

const printed = (mark: Mark): PrintMark[] => {
  const look: Look = LOOKS[mark.look];
  if (mark.kind === 'words') {
    const { at, anchor, words } = mark;
    const text = { kind: 'text', at, anchor, words, bold: false, halo: HALO } as const;
    return [{ ...text, size: look.size ?? 3, colour: look.fill ?? '#000000' }];
  }
  const rings = mark.kind === 'line' ? [mark.segments] : mark.rings;
  if (rings.every((r) => r.length === 0)) return [];
  return [
    {
      kind: 'path',
      rings,
      closed: mark.kind === 'area' || mark.closed,
      ...(look.fill ? { fill: look.fill } : {}),
      ...(look.stroke
        ? { stroke: { colour: look.stroke, width: look.width ?? 0.2, ...(look.dash ? { dash: look.dash } : {}) } }
        : {}),
    },
  ];
};
