import { edgeWithRole, isCentre } from '../edges.ts';
import type { Pattern } from '../pattern.ts';
import { coversHip, rounds } from '../round.ts';
import { hasRole, sewn, waistBelow } from './on-each.ts';
import { centreOf, heightOfEdge, levelHeight, waistHeight } from './places.ts';
import { addedUp, counted, lacking, lacksLevel, layerCalled, type Taken, together } from './taken.ts';

/* Lengths from the waist down: to the hip, and to the hem of a skirt or dress. */

/** From the waist at the centre down to the hip level. */
export const waistToHip = (pattern: Pattern): Taken =>
  together(
    rounds(pattern).map(({ tier, cloth, pieces }) =>
      together(
        pieces.filter(coversHip).map((piece) => {
          const hip = levelHeight(piece, 'hip');
          const of = layerCalled(`${tier} ${piece.name || piece.id}`, cloth);
          return addedUp(of, [
            hip === undefined
              ? lacksLevel(piece, 'hip')
              : counted(piece, 'from the waist to the hip level', waistHeight(piece) - hip),
          ]);
        }),
      ),
    ),
  );

/** From the waist, straight down to the hem: at the centre, or in the middle of a piece that has none. */
const downTo = (pattern: Pattern, part: 'front' | 'back' | undefined): Taken =>
  together(
    rounds(pattern)
      .filter((r) => r.tier === 'skirt' || r.tier === 'dress')
      .map(({ cloth, pieces }) =>
        together(
          pieces
            .filter((p) => (part === undefined ? true : p.part.endsWith(` ${part}`) && !p.part.includes('side')))
            .filter((p) => p.edges.some((e) => isCentre(e.role)) || part === undefined)
            .map((piece) => {
              const x = centreOf(piece) ?? 0;
              const waist = waistBelow(piece, x);
              const hem = heightOfEdge(piece, 'hem', x);
              const of = layerCalled(piece.name || piece.id, cloth);
              return addedUp(of, [
                waist === undefined || hem === undefined
                  ? lacking(piece, 'no waist or no hem', `Name the edges of ${piece.id} in the pattern sheet.`)
                  : counted(piece, 'straight down from waist to hem', waist - hem),
              ]);
            }),
        ),
      ),
  );

export const skirtLength = (pattern: Pattern): Taken => downTo(pattern, undefined);

export const skirtLengthAtFront = (pattern: Pattern): Taken => downTo(pattern, 'front');

export const skirtLengthAtBack = (pattern: Pattern): Taken => downTo(pattern, 'back');

/** Along the side seam. */
export const skirtLengthAtSide = (pattern: Pattern): Taken =>
  together(
    rounds(pattern)
      .filter((r) => r.tier === 'skirt')
      .flatMap(({ cloth, pieces }) =>
        pieces
          .filter(hasRole('side'))
          .map((piece) =>
            addedUp(layerCalled(piece.name || piece.id, cloth), [
              counted(piece, 'along the side seam', sewn(piece, 'side') / edgeWithRole(piece, 'side').length),
            ]),
          ),
      ),
  );
