import type { Finding } from '../finding.ts';
import type { PanelSeam } from '../paper/bust-panels.ts';
import { bustsOf, dartTo, edgeOn } from '../paper/bust-point.ts';
import { trace } from '../paper/tracing.ts';
import { isCentre } from '../pattern/edges.ts';
import { layersOf } from '../pattern/parts.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { EdgeRole, Piece } from '../pattern/piece.ts';
import { timesRound } from '../pattern/round.ts';
import type { Share } from './contract.ts';
import { missing } from './shares.ts';

/* The fronts on which the bust lies, and what has to be on them. */

/** Fronts in one piece from the centre to the side. */
export const plainFronts = (pattern: Pattern): Piece[] =>
  layersOf(pattern, 'front')
    .filter(({ pieces }) => !pieces.some(isPanel))
    .flatMap(({ pieces }) => pieces);

/** Fronts divided into panels, layer by layer: the pieces of each. */
export const panelledFronts = (pattern: Pattern): Piece[][] =>
  layersOf(pattern, 'front')
    .filter(({ pieces }) => pieces.some(isPanel))
    .map(({ pieces }) => [...pieces]);

const isPanel = (piece: Piece): boolean => piece.edges.some((e) => e.role === 'panel seam');

/** Panel seams of a front in one layer of cloth: which edge of the panel nearer the centre is sewn to which of the other. */
export const panelSeams = (pattern: Pattern, pieces: readonly Piece[]): PanelSeam[] =>
  pattern.mates.flatMap((m): PanelSeam[] => {
    const [a, b] = [m.one, m.other].map((row) => (row.length === 1 ? row[0] : undefined));
    const owners = [a, b].map((s) => pieces.find((p) => p.id === s?.piece));
    const isPanelSeam = (i: 0 | 1): boolean =>
      owners[i]?.edges.some((e) => e.id === [a, b][i]?.edge && e.role === 'panel seam') ?? false;
    if (!a || !b || !isPanelSeam(0) || !isPanelSeam(1)) return [];
    return (owners[0] as Piece).part.includes('side') ? [{ centre: b, side: a }] : [{ centre: a, side: b }];
  });

/** Sides of the body that a front shows: two when it is drawn whole. */
const sidesOf = (piece: Piece): number => Math.max(1, bustsOf(trace(piece)).length);

/** How often a side of a front occurs on cloth. */
const sidesOnCloth = (piece: Piece): number => timesRound(piece) * sidesOf(piece);

/** The same amount for each side of every front. */
export const shareASide = (
  pieces: readonly Piece[],
  place: string,
  amount: (onCloth: number) => number,
  most: number,
): Share[] =>
  pieces.map((piece) => {
    const cloth = piece.cut.cloth;
    const layer = pieces.filter((p) => p.cut.cloth === cloth && p.part.split(' ')[0] === piece.part.split(' ')[0]);
    const onCloth = layer.reduce((sum, p) => sum + sidesOnCloth(p), 0);
    return { piece: piece.id, place, amount: amount(onCloth), most, cloth, counted: sidesOnCloth(piece) };
  });

/** What a front lacks for an alteration about its bust point. */
export const frontFindings = (alteration: string, pattern: Pattern, fronts: readonly Piece[]): Finding[] => {
  if (fronts.length === 0) {
    const panels = panelledFronts(pattern).length > 0;
    return [
      panels
        ? missing(
            alteration,
            'the front is made of panels, whose seams do the work of darts',
            'Reshape the panel seam by asking for bust or bust height.',
          )
        : missing(
            alteration,
            'no front of a bodice or dress was found',
            'Name the front, and its edges, in the pattern sheet.',
          ),
    ];
  }
  return fronts.filter((p) => bustsOf(trace(p)).length === 0).map((p) => lacksBustPoint(alteration, p));
};

export const lacksBustPoint = (alteration: string, piece: Piece): Finding => ({
  ...missing(
    alteration,
    `${piece.name || piece.id} has no bust point, and no dart that shows where it lies`,
    `Mark the bust point, or give "landmarks: bust point" for ${piece.id} in the pattern sheet.`,
  ),
  where: { alteration, piece: piece.id },
});

/** A front of panels whose seams are not known to be sewn to each other. */
export const unmatchedPanels = (alteration: string, pattern: Pattern): Finding[] =>
  panelledFronts(pattern)
    .filter((pieces) => panelSeams(pattern, pieces).length === 0)
    .map((pieces) =>
      missing(
        alteration,
        `nothing says which panel seams of ${pieces.map((p) => p.name || p.id).join(' and ')} are sewn together`,
        'State the mates in the pattern sheet.',
      ),
    );

/** Edges from which a dart can be taken up to the bust point. */
export const DART_EDGES = ['side', 'waist', 'shoulder', 'armhole', 'neck', 'centre'] as const;
export type DartEdge = (typeof DART_EDGES)[number];

/** Fronts on which the named dart is missing. */
export const noDartFindings = (alteration: string, fronts: readonly Piece[], role: EdgeRole): Finding[] =>
  fronts
    .filter((piece) => {
      const tracing = trace(piece);
      const busts = bustsOf(tracing);
      return busts.length > 0 && !busts.every((bust) => dartTo(tracing, bust, role));
    })
    .map((piece) => ({
      ...missing(
        alteration,
        `${piece.name || piece.id} has no ${role} dart aimed at the bust point`,
        `It has: ${dartsThere(piece).join(', ') || 'none'}.`,
      ),
      where: { alteration, piece: piece.id },
    }));

const dartsThere = (piece: Piece): string[] => {
  const tracing = trace(piece);
  return DART_EDGES.filter((role) => bustsOf(tracing).some((bust) => dartTo(tracing, bust, role)));
};

/** Fronts into whose named edge no dart can be opened: they have none such, or it lies on the fold. */
export const noEdgeFindings = (alteration: string, fronts: readonly Piece[], role: EdgeRole): Finding[] =>
  fronts
    .filter((piece) => {
      const tracing = trace(piece);
      return !bustsOf(tracing).every((bust) => edgeOn(tracing, bust, role));
    })
    .map((piece) => {
      const onFold = isCentre(role) && piece.edges.some((e) => e.role === 'fold');
      return {
        ...missing(
          alteration,
          onFold
            ? `the centre of ${piece.name || piece.id} lies on the fold, where no dart can open`
            : `${piece.name || piece.id} has no ${role} edge`,
          onFold ? 'Give the front a centre seam first.' : 'Name the edges in the pattern sheet.',
        ),
        where: { alteration, piece: piece.id },
      };
    });
