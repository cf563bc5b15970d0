import type { Mates } from '../pattern/pattern.ts';
import type { EdgeRole, PartName, Piece } from '../pattern/piece.ts';
import { handOf } from '../pattern/wearer-side.ts';
import type { Context } from './context.ts';
import type { Side } from './sewing.ts';
import { edgesAcross, equal, lengthOfSide, mates, sewn, tellUnequal, timesCut } from './sewing.ts';

/** What of a bodice, a dress or trousers is sewn together, in one layer of cloth. */
export const garmentMates = (pieces: readonly Piece[], context: Context): Mates[] => [
  ...(['bodice', 'dress', 'trouser'] as const).flatMap((tier) => bodyMates(tier, pieces, context)),
  ...sleeveSeams(pieces, context),
  ...waistSeams(pieces),
];

/** How a seam joins its two rows, and by how much the second may be longer than the first. mm */
interface Seam {
  readonly id: string;
  readonly says: string;
  readonly longer: readonly [least: number, most: number];
}

const seams = {
  shoulder: {
    id: 'shoulder seam',
    says: 'front and back are sewn at the shoulder',
    // The back shoulder is ¼ to ½ in longer and eased or darted (common practice).
    longer: [-6, 16],
  },
  side: { id: 'side seam', says: 'front and back are sewn at the side', longer: [-6, 6] },
  panel: { id: 'panel seam', says: 'the panels are sewn along their seam', longer: [-13, 13] },
  inseam: { id: 'inseam', says: 'front and back leg are sewn along the inside', longer: [-13, 13] },
  cap: {
    id: 'armhole and cap',
    says: 'the cap is set into the armhole',
    // Knits take the cap without ease; a gathered cap has much (common practice).
    longer: [-6, 90],
  },
} satisfies Readonly<Record<string, Seam>>;

type Hand = 'left' | 'right' | 'only';

/** The edges of a role on one side of the body, piece by piece; undefined where a piece that has any lacks that side. */
const row = (pieces: readonly Piece[], role: EdgeRole, hand: Hand): Side[] =>
  pieces.flatMap((p) => {
    const own = edgesAcross(p, role);
    if (own.length < 2) return own;
    return [own[hand === 'right' ? own.length - 1 : 0] as Side];
  });

/** Pieces seen from their right side face one another: the left of a front is sewn to the right of a back. */
const facing: Readonly<Record<Hand, Hand>> = { left: 'right', right: 'left', only: 'only' };

const hasBoth = (pieces: readonly Piece[], role: EdgeRole): boolean =>
  pieces.some((p) => edgesAcross(p, role).length === 2);

const handsOf = (pieces: readonly Piece[], role: EdgeRole): readonly Hand[] =>
  hasBoth(pieces, role) ? ['right', 'left'] : ['only'];

const bodyMates = (tier: 'bodice' | 'dress' | 'trouser', pieces: readonly Piece[], context: Context): Mates[] => {
  const of = (part: string): Piece[] => pieces.filter((p) => p.part === (part as PartName));
  const [sideFronts, sideBacks] = [of(`${tier} side front`), of(`${tier} side back`)];
  const found: Mates[] = [];
  const backs = of(`${tier} back`);
  for (const front of of(`${tier} front`)) {
    const back = closest(front, ofSameHand(front, backs));
    const fronts = [front, ...sideFronts];
    if (tier !== 'trouser') found.push(...panelSeams(front, sideFronts, context));
    if (!back) continue;
    const all = [back, ...sideBacks];
    found.push(...joined(seams.shoulder, fronts, all, 'shoulder', context));
    found.push(...joined(seams.side, fronts, all, 'side', context));
    found.push(...joined(seams.inseam, fronts, all, 'inseam', context));
    found.push(...armholes(fronts, all, pieces, context));
  }
  if (tier !== 'trouser') for (const back of backs) found.push(...panelSeams(back, sideBacks, context));
  return found;
};

const lengthWith = (p: Piece, role: EdgeRole): number =>
  edgesAcross(p, role)
    .slice(0, 1)
    .reduce((s, e) => s + lengthOfSide(e), 0);
/** Where front and back are drawn for each side of the body, those of one side are sewn together. */
const ofSameHand = (front: Piece, backs: readonly Piece[]): readonly Piece[] => {
  const hand = handOf(front);
  const same = backs.filter((b) => handOf(b) === hand);
  return hand === undefined || same.length === 0 ? backs : same;
};

/** Of several backs the one whose side is most nearly as long. */
const closest = (front: Piece, backs: readonly Piece[]): Piece | undefined =>
  [...backs].sort(
    (a, b) =>
      Math.abs(lengthWith(a, 'side') - lengthWith(front, 'side')) -
      Math.abs(lengthWith(b, 'side') - lengthWith(front, 'side')),
  )[0];

const joined = (
  seam: Seam,
  fronts: readonly Piece[],
  backs: readonly Piece[],
  role: EdgeRole,
  context: Context,
): Mates[] =>
  handsOf([...fronts, ...backs], role).flatMap((hand) =>
    rowMates(seam, row(fronts, role, hand), row(backs, role, facing[hand]), context),
  );

const total = (sides: readonly Side[]): number => sides.reduce((sum, s) => sum + lengthOfSide(s), 0);

const rowMates = (seam: Seam, one: readonly Side[], other: readonly Side[], context: Context): Mates[] => {
  const [a, b] = [one[0], other[0]];
  if (!a || !b) return [];
  const [x, y] = [total(one), total(other)];
  const longer = y - x;
  if (longer < seam.longer[0] || longer > seam.longer[1]) tellUnequal(one, x, other, y, context);
  const eased =
    Math.abs(longer) > 6 && longer >= seam.longer[0] && longer <= seam.longer[1]
      ? [{ says: `${longer.toFixed(1)} mm of ease is what such a seam may have`, weight: 0.4 }]
      : [];
  const row = (sides: readonly Side[]) => sides.map((s) => sewn(s));
  return [mates(seam.id, row(one), row(other), [{ says: seam.says, weight: 0.7 }, ...equal(x, y), ...eased])];
};

/** Centre panel to side panel. */
const panelSeams = (centre: Piece, sides: readonly Piece[], context: Context): Mates[] => {
  const own = edgesAcross(centre, 'panel seam');
  return sides.flatMap((side) =>
    edgesAcross(side, 'panel seam').flatMap((edge) => own.flatMap((o) => rowMates(seams.panel, [o], [edge], context))),
  );
};

/** Both armholes, from the front shoulder round to the back one, to the cap or caps of the sleeve. */
const armholes = (
  fronts: readonly Piece[],
  backs: readonly Piece[],
  pieces: readonly Piece[],
  context: Context,
): Mates[] => {
  const sleeves = pieces.filter((p) => p.part === 'sleeve');
  const two = (['upper sleeve', 'under sleeve'] as const).flatMap((part) => pieces.filter((p) => p.part === part));
  const caps = [...sleeves.map((s) => [s]), ...(two.length > 0 ? [two] : [])];
  return caps.flatMap((sleeve) => {
    const cap = sleeve.flatMap((p) => edgesAcross(p, 'cap'));
    return handsOf([...fronts, ...backs], 'armhole').flatMap((hand) => {
      const round = [...row(fronts, 'armhole', hand), ...row([...backs].reverse(), 'armhole', facing[hand])];
      return rowMates(seams.cap, round, cap, context);
    });
  });
};

const SLEEVE: Seam = { id: 'sleeve seam', says: 'the sleeve is sewn together below the arm', longer: [-20, 20] };

/** A sleeve to itself; an upper to an under sleeve, the seams that are most nearly as long together. */
const sleeveSeams = (pieces: readonly Piece[], context: Context): Mates[] => {
  const alone = pieces
    .filter((p) => p.part === 'sleeve')
    .flatMap((p) => {
      const [a, b] = edgesAcross(p, 'sleeve seam');
      return a && b ? rowMates(SLEEVE, [a], [b], context) : [];
    });
  const upper = pieces.find((p) => p.part === 'upper sleeve');
  const under = pieces.find((p) => p.part === 'under sleeve');
  if (!upper || !under) return alone;
  const [a, b] = edgesAcross(upper, 'sleeve seam');
  const [c, d] = edgesAcross(under, 'sleeve seam');
  if (!a || !b || !c || !d) return alone;
  const off = (x: Side, y: Side): number => Math.abs(lengthOfSide(x) - lengthOfSide(y));
  const straight = off(a, c) + off(b, d) < off(a, d) + off(b, c) - 2;
  const pairs: readonly (readonly [Side, Side])[] = straight
    ? [
        [a, c],
        [b, d],
      ]
    : [
        [a, d],
        [b, c],
      ];
  return [...alone, ...pairs.flatMap(([x, y]) => rowMates(SLEEVE, [x], [y], context))];
};

/** A bodice is sewn to the skirt of the same pattern when their waists are of one length. mm */
const SAME_WAIST = 14;

const waistSeams = (pieces: readonly Piece[]): Mates[] => {
  if (pieces.some((p) => p.part === 'waistband')) return [];
  const waists = (part: string): Side[] =>
    pieces.filter((p) => p.part === part).flatMap((p) => edgesAcross(p, 'waist'));
  const rows = (of: 'front' | 'back'): readonly [Side[], Side[]] => [
    [...waists(`bodice ${of}`), ...waists(`bodice side ${of}`)],
    waists(`skirt ${of}`),
  ];
  const [front, back] = [rows('front'), rows('back')];
  const apart = [front, back].flatMap(([bodice, skirt]) => waistSeam(bodice, skirt, SAME_WAIST / 2));
  if (apart.length === 2) return apart;
  const isSkirt = (p: Piece): boolean => p.part === 'skirt' || p.part.startsWith('skirt ');
  const skirt = pieces.filter(isSkirt).flatMap((p) => edgesAcross(p, 'waist'));
  return waistSeam([...front[0], ...back[0]], skirt, SAME_WAIST);
};

/** One row of waists sewn to another when they are of one length; none otherwise. */
const waistSeam = (bodice: readonly Side[], skirt: readonly Side[], within: number): Mates[] => {
  if (bodice.length === 0 || skirt.length === 0) return [];
  const round = (sides: readonly Side[]): number =>
    sides.reduce((sum, s) => sum + timesCut(s.piece) * lengthOfSide(s), 0);
  const off = Math.abs(round(bodice) - round(skirt));
  if (off > within) return [];
  // Half pieces against half pieces are sewn once.
  const halved = [...bodice, ...skirt].every((s) => timesCut(s.piece) % 2 === 0) ? 2 : 1;
  const row = (sides: readonly Side[]) => sides.map((s) => sewn(s, timesCut(s.piece) / halved));
  const says = `bodice and skirt are the same length round the waist within ${Math.max(0.1, off).toFixed(1)} mm`;
  return [mates('waist seam', row(bodice), row(skirt), [{ says, weight: 0.8 }])];
};
