import type { Mates } from '../pattern/pattern.ts';
import type { EdgeRole, PartName, Piece } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import type { Side } from './sewing.ts';
import { edgesAcross, equal, lengthOfSide, mates, sewn, tellUnequal, timesCut } from './sewing.ts';

/** Collars and facings to the neck, facings to one another, cuffs to the sleeve: these may be of another cloth. */
export const trimMates = (pieces: readonly Piece[], context: Context): Mates[] => {
  const shell = pieces.filter((p) => p.cut.cloth !== 'lining' && p.cut.cloth !== 'interlining');
  const trim = shell.filter((p) => p.part === 'collar' || p.part === 'cuff' || p.part.endsWith('facing'));
  const body = shell.filter((p) => /^(bodice|dress)/.test(p.part));
  const below = shell.filter((p) => /^(skirt|trouser)/.test(p.part));
  const facings = trim.filter((p) => p.part.endsWith('facing'));
  return [
    ...trimSeams('neck', trim, body, context),
    ...trimSeams('waist', facings, below, context),
    ...armholeFacings(facings, body, context),
    ...facingSeams('shoulder', trim, context),
    ...facingSeams('side', trim, context),
    ...cuffSeams(trim, shell, context),
  ];
};

const edgesOf = (pieces: readonly Piece[], role: EdgeRole): Side[] => pieces.flatMap((p) => edgesAcross(p, role));
const round = (sides: readonly Side[]): number =>
  sides.reduce((sum, s) => sum + timesCut(s.piece) * lengthOfSide(s), 0);
const row = (sides: readonly Side[]) => sides.map((s) => sewn(s, timesCut(s.piece)));

/** A collar may overlap at the front by this much; a facing is as long as its neck. mm */
const OVERLAP = 80;
const CLOSE = 8;

/** Collar or facing to the edge of the garment that it follows. */
const trimSeams = (role: 'neck' | 'waist', trim: readonly Piece[], body: readonly Piece[], context: Context): Mates[] =>
  trim.flatMap((piece) => {
    const own = edgesAcross(piece, role);
    const side = piece.part.startsWith('front') ? 'front' : piece.part.startsWith('back') ? 'back' : '';
    const edges = edgesOf(
      body.filter((p) => p.part.endsWith(side)),
      role,
    );
    const [a, b] = [own[0], edges[0]];
    if (!a || !b) return [];
    const isCollar = piece.part === 'collar';
    // Two layers of a collar go round the neck once.
    const times = isCollar ? (piece.half ? 2 : 1) : timesCut(piece);
    const [x, y] = [own.reduce((sum, s) => sum + times * lengthOfSide(s), 0), round(edges)];
    const fits = x - y > -CLOSE && x - y < (isCollar ? OVERLAP : CLOSE);
    if (!fits) tellUnequal([a], x, [b], y, context);
    const says = `the ${isCollar ? 'collar' : 'facing'} is sewn to the ${role}`;
    return [
      mates(
        `${role} seam`,
        own.map((s) => sewn(s, times)),
        row(edges),
        [{ says, weight: 0.7 }, ...equal(x, y)],
      ),
    ];
  });

/** Facings of the armhole to it: of front or back alone, or in one piece for both; on a whole piece of either side. */
const armholeFacings = (facings: readonly Piece[], body: readonly Piece[], context: Context): Mates[] =>
  facings.flatMap((piece) => {
    const [own] = edgesAcross(piece, 'armhole');
    if (!own) return [];
    const of = piece.part === 'facing' ? '' : piece.part.replace(' facing', '');
    const sides = body.filter((p) => p.part.endsWith(of)).map((p) => edgesAcross(p, 'armhole'));
    return ([0, -1] as const).flatMap((hand) => {
      if (hand === -1 && sides.every((s) => s.length < 2)) return [];
      const row = sides.flatMap((s) => s.at(hand) ?? []);
      const [first] = row;
      if (!first) return [];
      const [x, y] = [lengthOfSide(own), row.reduce((sum, s) => sum + lengthOfSide(s), 0)];
      if (Math.abs(x - y) > CLOSE) tellUnequal([own], x, [first], y, context);
      const says = 'the facing is sewn to the armhole';
      return [
        mates(
          'armhole and facing',
          [sewn(own)],
          row.map((s) => sewn(s)),
          [{ says, weight: 0.7 }, ...equal(x, y)],
        ),
      ];
    });
  });

/** Front and back facings to one another, where they end on the same seam. */
const facingSeams = (role: 'shoulder' | 'side', trim: readonly Piece[], context: Context): Mates[] => {
  const of = (part: PartName): Side[] =>
    edgesOf(
      trim.filter((p) => p.part === part),
      role,
    );
  const [fronts, backs] = [of('front facing'), of('back facing')];
  const pairs: (readonly [Side, Side])[] = [];
  if (fronts.length === 2 && backs.length === 2) {
    // Seen from the right side, the left of one meets the right of the other.
    pairs.push([fronts[0] as Side, backs[1] as Side], [fronts[1] as Side, backs[0] as Side]);
  } else for (const f of fronts) for (const b of backs) pairs.push([f, b]);
  return pairs.map(([f, b]) => {
    const [x, y] = [lengthOfSide(f), lengthOfSide(b)];
    if (Math.abs(x - y) > CLOSE) tellUnequal([f], x, [b], y, context);
    return mates(
      `facing ${role} seam`,
      [sewn(f)],
      [sewn(b)],
      [{ says: `the facings are sewn together at the ${role}`, weight: 0.7 }, ...equal(x, y)],
    );
  });
};

/** The cuff's edge that is sewn to the sleeve, by its role; both halves of a two-piece sleeve go round. */
const cuffSeams = (trim: readonly Piece[], shell: readonly Piece[], context: Context): Mates[] => {
  const wrists = edgesOf(
    shell.filter((p) => p.part.endsWith('sleeve')),
    'wrist',
  );
  return trim
    .filter((p) => p.part === 'cuff')
    .flatMap((cuff) => {
      const own = edgesAcross(cuff, 'wrist')[0] ?? edgesAcross(cuff, 'band seam')[0];
      const first = wrists[0];
      if (!own || !first) return [];
      const times = cuff.half ? 2 : 1;
      const [x, y] = [times * lengthOfSide(own), wrists.reduce((sum, s) => sum + lengthOfSide(s), 0)];
      // A sleeve may be gathered into its cuff, and a cuff may overlap.
      if (x - y > OVERLAP || x < 0.5 * y) tellUnequal([own], x, [first], y, context);
      return [
        mates(
          'wrist seam',
          wrists.map((s) => sewn(s)),
          [sewn(own, times)],
          [{ says: 'the cuff is sewn to the sleeve', weight: 0.7 }, ...equal(x, y)],
        ),
      ];
    });
};
