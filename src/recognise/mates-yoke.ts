import type { Mates } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import type { Side } from './sewing.ts';
import { edgesAcross, equal, lengthOfSide, mates, sewn, tellUnequal, timesCut } from './sewing.ts';

/** A yoke and the edge below that is most nearly as long; a skirt may be gathered into its yoke, which is then told. */
const CLOSE = 8;

const isPanel = (p: Piece): boolean => p.part === 'skirt' || /^(skirt |trouser)/.test(p.part);

const round = (side: Side): number => timesCut(side.piece) * lengthOfSide(side);

/** Hip yokes with the panel that each is sewn to. */
const yokesOnPanels = (pieces: readonly Piece[]): readonly { readonly yoke: Side; readonly panel: Side }[] => {
  const waists = pieces.filter(isPanel).flatMap((p) => edgesAcross(p, 'waist').slice(0, 1));
  return pieces
    .filter((p) => p.part === 'yoke' && edgesAcross(p, 'waist').length > 0)
    .flatMap((p) => {
      const [yoke] = edgesAcross(p, 'yoke seam');
      if (!yoke) return [];
      const off = (w: Side): number => Math.abs(round(w) - round(yoke));
      const [panel] = [...waists].sort((a, b) => off(a) - off(b));
      return panel ? [{ yoke, panel }] : [];
    });
};

/** The waist of the body lies on the yoke; what is measured and moved as the panel's waist is the seam below it. */
const tellYokeBelow = (yoke: Side, panel: Side, context: Context): void =>
  context.tell({
    code: 'recognise-yoke-at-waist',
    level: 'note',
    where: { file: context.drawing.fileName, piece: panel.piece.id, edge: panel.edge.id },
    message: `${panel.piece.id} is sewn to ${yoke.piece.id}: its waist edge is the yoke seam. A change of the waist is made there, and the yoke takes it on up to its waist.`,
    try: 'Give the waist that the pattern was drafted for, as for a skirt without a yoke.',
  });

/** Each hip yoke to its panel, and the yokes to one another at the side. */
export const yokeMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const found = yokesOnPanels(pieces);
  const seams = found.map(({ yoke, panel }) => {
    const [x, y] = [round(yoke), round(panel)];
    if (Math.abs(x - y) > CLOSE) tellUnequal([yoke], x, [panel], y, context);
    tellYokeBelow(yoke, panel, context);
    const says = 'the yoke is sewn to the edge below it that is most nearly as long';
    return mates(
      'yoke seam',
      [sewn(yoke, timesCut(yoke.piece))],
      [sewn(panel, timesCut(panel.piece))],
      [{ says, weight: 0.6 }, ...equal(x, y)],
    );
  });
  const [a, b] = found.map(({ yoke }) => edgesAcross(yoke.piece, 'side'));
  if (!a || !b || a.length !== b.length) return seams;
  // Seen from their right side the left of one meets the right of the other.
  const sides = a.map((side, i) => {
    const other = b[b.length - 1 - i] as Side;
    return mates(
      'yoke side seam',
      [sewn(side)],
      [sewn(other)],
      [
        { says: 'the yokes are sewn together at the side', weight: 0.7 },
        ...equal(lengthOfSide(side), lengthOfSide(other)),
      ],
    );
  });
  return [...seams, ...sides];
};

/** The waist edges that a band is sewn to: of the yokes, and of the panels that have none. */
export const waistsOnTop = (pieces: readonly Piece[]): Side[] => {
  const yokes = yokesOnPanels(pieces);
  const below = new Set(yokes.map(({ panel }) => panel.piece.id));
  return [...yokes.map(({ yoke }) => yoke.piece), ...pieces.filter((p) => isPanel(p) && !below.has(p.id))].flatMap(
    (piece) => piece.edges.filter((e) => e.role === 'waist').map((edge) => ({ piece, edge })),
  );
};
