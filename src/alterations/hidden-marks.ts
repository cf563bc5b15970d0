import type { Finding } from '../finding.ts';
import { nearestOnPath } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { formatLength } from '../measurements/units.ts';
import type { Garment } from '../paper/garment.ts';
import { edgeSegments } from '../pattern/edges.ts';
import { pieceCalled } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { LengthShown } from './contract.ts';

/* Marks and texts that lay in a tuck: each is named, so that it can be found on the fold and set where it belongs. */

/** More than this are counted only. */
const MOST_NAMED = 6;

export const hiddenFindings = (garment: Garment, show: LengthShown): Finding[] =>
  [...new Set(garment.hidden.map((h) => h.piece))].flatMap((id): Finding[] => {
    const piece = pieceCalled(garment.pattern, id);
    const marks = garment.hidden.filter((h) => h.piece === id).map((h) => h.mark);
    if (!piece) return [];
    const names = marks.slice(0, MOST_NAMED).map((mark) => nameOf(piece, mark, show));
    const more = marks.length > MOST_NAMED ? [`${marks.length - MOST_NAMED} more`] : [];
    return [
      {
        code: 'alter-hidden-in-tuck',
        level: 'warning',
        where: { piece: id },
        message: `${kindsOf(piece, marks)} where the tuck is folded, and ${marks.length === 1 ? 'lies' : 'lie'} on the fold now: ${[...names, ...more].join(', ')}.`,
        try: 'Look at the place, and set on the written piece what belongs elsewhere.',
      },
    ];
  });

/** `1 text lay`, `3 marks lay`, `2 marks and 1 text lay`. */
const kindsOf = (piece: Piece, marks: readonly string[]): string => {
  const texts = marks.filter((mark) => piece.texts.some((t) => t.id === mark)).length;
  const counted = (n: number, word: string): string[] => (n === 0 ? [] : [`${n} ${word}${n === 1 ? '' : 's'}`]);
  return `${[...counted(marks.length - texts, 'mark'), ...counted(texts, 'text')].join(' and ')} lay`;
};

/** `“Skirt front”`, `the bust point`, `a notch of the side`, `a drill hole, 3 in from the fold as drafted`. */
const nameOf = (piece: Piece, mark: string, show: LengthShown): string => {
  const text = piece.texts.find((t) => t.id === mark);
  if (text) return `“${text.text}”`;
  const landmark = piece.landmarks.find((l) => l.marks.includes(mark));
  if (landmark) return `the ${landmark.name}`;
  const notch = piece.notches.find((n) => n.marks.includes(mark));
  if (notch) return `a notch of the ${notch.edge.replaceAll('-', ' ')}`;
  const point = piece.points.find((p) => p.id === mark);
  const kind = point?.kind === 'drill' ? 'a drill hole' : 'a point';
  return point ? `${kind}, ${fromNearest(piece, point.at, show)} as drafted` : kind;
};

const fromNearest = (piece: Piece, at: Point, show: LengthShown): string => {
  const [nearest] = piece.edges
    .map((edge) => {
      const path = { segments: edgeSegments(piece, edge), closed: false };
      return { edge, mm: nearestOnPath(path, at)?.distance ?? Number.POSITIVE_INFINITY };
    })
    .sort((a, b) => a.mm - b.mm);
  return nearest ? `${formatLength(nearest.mm, show)} from the ${nearest.edge.id.replaceAll('-', ' ')}` : '';
};
