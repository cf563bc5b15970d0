import type { Finding } from '../finding.ts';
import { trace } from '../paper/tracing.ts';
import { type LegPart, printedLine } from '../paper/trouser-lines.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { EdgeRole, LevelName, Piece } from '../pattern/piece.ts';
import type { Share } from './contract.ts';
import { type LegPlace, legs } from './garment-parts.ts';
import { shareTo } from './length-parts.ts';
import { missing } from './shares.ts';

/* Sharing a change over the pieces of the legs, and what they may lack. */

/** Every piece of the places takes the whole amount, front and back, left and right, each layer of cloth alike. */
export const wholeToLegs = (
  pattern: Pattern,
  amount: number,
  place: string,
  most: number,
  places?: readonly LegPlace[],
): Share[] => shareTo(legs(pattern, places), amount, place, most);

/** What an alteration needs of each piece of a leg. */
export interface LegNeeds {
  readonly places?: readonly LegPlace[];
  readonly edges: readonly EdgeRole[];
  readonly levels?: readonly LevelName[];
}

/** What the legs lack of the edges and levels that an alteration needs. */
export const legsLack = (pattern: Pattern, alteration: string, { places, edges, levels }: LegNeeds): Finding[] => {
  const pieces = legs(pattern, places);
  if (pieces.length === 0) {
    const what = places?.length === 1 ? `no ${places[0]} was found` : 'no trousers were found';
    return [missing(alteration, what, 'Name the pieces in the pattern sheet.')];
  }
  return pieces.flatMap((piece) => [
    ...edges
      .filter((role) => edgeWithRole(piece, role).length === 0)
      .map((role) =>
        missing(
          alteration,
          `${called(piece)} has no ${role} edge`,
          `Name the edge of ${piece.id} that is the ${role} in the pattern sheet.`,
        ),
      ),
    ...(levels ?? [])
      .filter((name) => !piece.levels.some((l) => l.name === name))
      .map((name) =>
        missing(
          alteration,
          `${called(piece)} has no ${name} level`,
          `Draw the ${name} line, or give it under “levels” of ${piece.id} in the pattern sheet.`,
        ),
      ),
  ]);
};

/** Where no adjustment line is printed on a part of the leg, and the level midway was taken. */
export const midwayNotes = (pattern: Pattern, alteration: string, part: LegPart): Finding[] =>
  legs(pattern)
    .filter((piece) => printedLine(trace(piece), part) === undefined)
    .map((piece) => ({
      code: 'plan-line-midway',
      level: 'note',
      where: { alteration, piece: piece.id },
      message: `${called(piece)}: no adjustment line is printed ${part}; the level midway was taken.`,
      try: 'Draw the line where the leg is to be parted, or name it in the pattern sheet.',
    }));

/** Where no knee is marked, and it was taken halfway down the leg. */
export const kneeNotes = (pattern: Pattern, alteration: string, places?: readonly LegPlace[]): Finding[] =>
  legs(pattern, places)
    .filter((piece) => !piece.levels.some((l) => l.name === 'knee'))
    .map((piece) => ({
      code: 'plan-knee-level',
      level: 'note',
      where: { alteration, piece: piece.id },
      message: `${called(piece)}: no knee line is marked; the knee was taken 50 mm above the middle of the inside leg.`,
      try: 'Draw the knee line, or give "levels: knee" in the pattern sheet.',
    }));

const called = (piece: Piece): string => piece.name || piece.id;
