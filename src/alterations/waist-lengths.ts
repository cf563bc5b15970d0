import type { Finding } from '../finding.ts';
import { lengthenAboveWaist, waistLine } from '../paper/bodice-lengths.ts';
import type { Garment } from '../paper/garment.ts';
import { hangBelowBust, hangFromCentre } from '../paper/waist-hang.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Place } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Division, Request } from './alteration.ts';
import { bodiceLayers, groupsOf } from './bodice-parts.ts';
import type { AlterationOption, LengthShown, PlannedStep, Share } from './contract.ts';
import { shareTo } from './length-parts.ts';
import { spreadOrTucked, told } from './sayings.ts';
import { inches, limitFindings, missing, signed } from './shares.ts';

/* Waist lengths of front and back: what both have in common, and how they are done. */

/** Customary most at the line (common practice). */
const MOST_AT_LINE = inches(1);
/** Most at the centre (front: below the bust point) alone: ours; past it the waist would turn too sharply. */
const MOST_AT_CENTRE = inches(3 / 4);

/** Where the amount is that: the front waist length is measured over the bust point. */
const placeOfWedge = (place: Place): string => (place === 'front' ? 'waist below the bust point' : `centre ${place}`);

export const waistLengthLimits = (place: Place) => [
  { place: 'adjustment line', most: MOST_AT_LINE, source: 'common practice' },
  { place: placeOfWedge(place), most: MOST_AT_CENTRE, source: 'ours: past it the waist turns too sharply' },
];

export const SIDE_SEAM: AlterationOption = {
  name: 'side seam',
  means: 'keep its length (a wedge from the centre, nothing at the side), or let it change with the whole piece',
  values: ['with it', 'keep'],
  default: 'keep',
};

/** Pieces of a front or back that come down to the waist, layer by layer. */
const reachWaist = (piece: Piece): boolean =>
  edgeWithRole(piece, 'side').length + edgeWithRole(piece, 'panel seam').length > 0 &&
  (edgeWithRole(piece, 'waist').length > 0 || piece.levels.some((l) => l.name === 'waist'));

const isAlong = (options: PlannedStep['options']): boolean => options['side seam'] === 'with it';

export const divideWaistLength = (request: Request, name: string, place: Place): Division => {
  const { pattern, amount, options, beyondLimits, show } = request;
  const along = isAlong(options);
  const pieces = bodiceLayers(pattern, [place]).flatMap((l) => l.pieces.filter(reachWaist));
  const shares = shareTo(
    pieces,
    amount,
    along ? 'adjustment line' : placeOfWedge(place),
    along ? MOST_AT_LINE : MOST_AT_CENTRE,
  );
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [
            missing(
              name,
              `no bodice or dress ${place} with a side seam and a waist was found`,
              'Name the pieces, their edges and the waist level in the pattern sheet.',
            ),
          ]
        : []),
      ...lineNotes(name, pattern, pieces, along),
      ...limitFindings(name, shares, beyondLimits, show, 'Share it between front and back, or take another size.'),
    ],
    explanation: along
      ? `${signed(amount, show)} at the adjustment line, across the whole ${place}`
      : `${signed(amount, show)} at the ${placeOfWedge(place)}, nothing at the side`,
  };
};

/** Where no line is printed between underarm and waist, it is told which was taken. */
const lineNotes = (name: string, pattern: Pattern, pieces: readonly Piece[], along: boolean): Finding[] =>
  pieces
    .filter(
      (piece) => (along || edgeWithRole(piece, 'waist').length === 0) && !waistLine(pattern.pieces, piece).printed,
    )
    .map((piece) => ({
      code: 'plan-line-midway',
      level: 'note',
      where: { alteration: name, piece: piece.id },
      message: `${piece.name || piece.id}: no adjustment line is printed between underarm and waist; that of another piece, or else the level midway, was taken.`,
      try: 'Draw the line where the piece is to be parted, or name it in the pattern sheet.',
    }));

/** Done on each layer of cloth. */
export const alterWaistLength = (garment: Garment, step: PlannedStep, place: Place): Garment => {
  if (isAlong(step.options)) return step.shares.reduce((g, s) => lengthenAboveWaist(g, s.piece, s.amount), garment);
  return groupsOf(garment.pattern, step.shares).reduce((g, pieces) => {
    const { height } = waistLine(g.pattern.pieces, pieceOf(g, pieces[0] as string));
    return place === 'front'
      ? hangBelowBust(g, pieces, step.amount, height)
      : hangFromCentre(g, pieces, step.amount, height);
  }, garment);
};

const pieceOf = (garment: Garment, id: string): Piece => garment.pattern.pieces.find((p) => p.id === id) as Piece;

const lowerOrHigher = told('lower by', 'higher by');

export const saysWaistLength = (share: Share, step: PlannedStep, show: LengthShown, where: string): string =>
  isAlong(step.options)
    ? `${spreadOrTucked(share.amount, show)} at the adjustment line, side seam and all`
    : `waist ${lowerOrHigher(share.amount, show)} ${where}, nothing at the side seam, which keeps its length`;
