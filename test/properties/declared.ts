import type { Finding } from '../../src/finding.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { PartName, Piece } from '../../src/pattern/piece.ts';
import type { Deed } from './laying.ts';

/* What alterations are allowed beyond DESIGN's bounds, each with its reason. */

/** DESIGN's own bound on what an edge may turn more within 5 mm, degrees. */
const DESIGN = 1;

/**
 * By alteration, degrees at the most that it takes within its limits, and why there is no way without.
 * - A cross edge raised at one end only bends on its way there: see {@link TAPERS}.
 * - A curve that is made shorter, a neck or an armhole, turns as far as it did on less line.
 * - On panels an armhole has half of its length to come to another place on.
 */
const TURNS: readonly (readonly [alteration: string, degrees: number, why: string])[] = [
  ['one high hip', 2, 'waist raised at one end, between its darts'],
  ['waist', 3, 'waist square to a side that leans more, on a narrow panel'],
  ['hip', 1.5, 'waist square to a side that leans more'],
  ['wrist', 4, 'wrist square to seams that lean more, on a narrow under sleeve'],
  ['neck', 3, 'the same turn on a shorter neck'],
  ['round back', 2.6, 'the same turn on a neck that is folded over'],
  ['shoulder slope', 3.2, 'neck and armhole turned at the shoulder alone, on panels over half an armhole'],
  ['shoulder width', 4.5, 'armhole moved between its notch and the shoulder alone'],
  ['back width', 4.6, 'armhole of a panel moved between its ends alone'],
  ['chest width', 3.5, 'armhole moved between its ends alone'],
  ['upper arm', 2.4, 'the same turn on a shorter cap, and armhole under the arm'],
  ['armhole depth', 1.5, 'the same turn on a shorter armhole'],
  ['cap height', 1.5, 'crown of an upper sleeve lowered between its notches'],
  ['bust', 4, 'armhole taken in over a narrow panel; armhole hinged a third of the way up'],
  ['bust height', 3, 'panel seam pressed together above the bust; side short between its dart and the underarm'],
  ['armhole gape', 1.6, 'the same turn on a shorter armhole'],
  ['neckline gape', 3, 'the same turn on a shorter neck'],
  ['crotch depth', 2, 'the same turn on a shorter crotch seam'],
  ['waist to hip', 3, 'the same turn on a shorter side or crotch seam'],
  ['length above the knee', 1.8, 'inseam run from crotch to knee on less line'],
];

/**
 * Alterations that raise (lower) a cross edge at one end, and over which part of its sewn length it comes to nothing. A
 * step of two parabolas that rises a over the length L, the least sharp there is, turns by 4a/L² a millimetre.
 */
const TAPERS: Readonly<Record<string, number>> = {
  'uneven length': 0.5,
  'sway back': 1,
  'hip slope': 1,
  abdomen: 1,
  seat: 1,
  'bodice sway back': 1,
  'front waist length': 1,
  'back waist length': 1,
  'front crotch length': 1,
  'back crotch length': 1,
};
/** An end that keeps its angle to its neighbour takes so much of the line out of the step. */
const HELD = 1.15;

/** A curve drawn as chords turns at its vertices alone, and there by so much more. */
const AT_VERTICES = 1.35;

/** What a taper turns more within 5 mm, degrees. */
const taperTurn = (deed: Deed, { where }: Finding, pattern: Pattern, amount: number): number => {
  const part = TAPERS[deed.alteration.card.name];
  const piece = pattern.pieces.find((p) => p.id === where.piece);
  const edge = piece?.edges.find((e) => e.id === where.edge);
  if (part === undefined || !piece || !edge || !['waist', 'hem'].includes(edge.role)) return 0;
  const over = edgeLength(piece, edge) * part * (isWhole(piece) ? 0.5 : 1);
  return ((HELD * 4 * Math.abs(amount)) / over ** 2) * 5 * (180 / Math.PI);
};
const isWhole = (piece: Piece): boolean => piece.edges.filter((e) => e.role === 'side').length > 1;

const mayTurn = (alteration: string): number => TURNS.find(([name]) => name === alteration)?.[1] ?? DESIGN;

/** A corner of curves that are drawn as chords is measured with the last chord, which turns by half its arc: degrees. */
const CORNER_OF_CHORDS = 4.5;

/**
 * Whether a finding of the checks is within what the deed declares.
 * @param amount by which it was done, mm
 */
export const isDeclared = (
  deed: Deed,
  finding: Finding,
  chorded: boolean,
  pattern: Pattern,
  amount: number,
): boolean => {
  if (finding.code === 'check-mates-apart') return mayLeaveMates(deed, finding.where.edge ?? '');
  if (finding.code === 'check-corner-turned' && chorded)
    return Number(/of ([\d.]+)°/.exec(finding.message)?.[1]) <= CORNER_OF_CHORDS;
  if (finding.code !== 'check-not-fair') return false;
  const most = Math.max(
    mayTurn(deed.alteration.card.name),
    taperTurn(deed, finding, pattern, amount) * (chorded ? AT_VERTICES : 1),
  );
  // The check tells a tenth of a degree.
  return turnedMore(finding) <= most + 0.05;
};

/** How much more an edge turns than it did, as the check tells it, degrees. */
export const turnedMore = (finding: Finding): number =>
  finding.code === 'check-not-fair' ? Number(/turns ([\d.]+)°/.exec(finding.message)?.[1]) : 0;

/** A waist lowered all across lengthens the side seam too: the other of front and back is asked for beside it. */
export const mayLeaveMates = (deed: Deed, mates: string): boolean =>
  deed.choices['side seam'] === 'with it' && mates.includes('side seam');

/** Pieces that no share names, and that follow what they are sewn to. */
export const FOLLOWERS: readonly PartName[] = [
  'waistband',
  'sleeve',
  'upper sleeve',
  'under sleeve',
  'collar',
  'cuff',
  'front facing',
  'back facing',
];

/**
 * Deeds that the opposite amount does not undo, because it is another construction, with how far they then come back at
 * the most, mm: in length of an edge, in shape. Infinity: nothing is expected to come back.
 */
const ONE_WAY: readonly (readonly [deed: string, length: number, shape: number, why: string])[] = [
  ['leg tilt', Infinity, Infinity, 'opens at the side for the one sign, at the inseam for the other'],
  ['back width', 0.1, Infinity, 'spread into a new shoulder dart, lapped out of the shoulder'],
  ['round back', 0.1, Infinity, 'the surplus goes into a dart that stays'],
  ['round back surplus=ease', Infinity, Infinity, 'the surplus stays in the shoulder as ease'],
  ['bust', Infinity, Infinity, 'draws darts that stay'],
  ['bust share=all round', 0.7, 2.6, 'armhole drawn anew over its whole length, out and in'],
  ['bust height', 1, 1.5, 'darts aimed anew, and their seams trued'],
  ['upper arm method=underarm seam', 0.7, 0.6, 'armhole drawn anew below its notches, out and in'],
  ['dart', Infinity, Infinity, 'a dart that is drawn stays'],
  ['neckline gape', Infinity, Infinity, 'taken into a dart that stays'],
  ['armhole gape', Infinity, Infinity, 'taken into a dart that stays'],
  ['crotch depth', 2, 2, 'fold and slash lie in other places of a curve, each run out for itself'],
  ['front crotch length method=wedge', 0.1, 1, 'hinge run out for itself each time'],
  ['back crotch length method=wedge', 0.1, 3, 'hinge run out for itself each time'],
  ['chest width method=tuck', 0.2, 0.5, 'centre drawn straight each time'],
  ['cap height', 0.3, 0.5, 'crown evened out each time'],
];

/** How far a deed and its opposite may end from where they began, mm. */
export const comesBack = (deed: Deed, length: number, shape: number): { length: number; shape: number } => {
  const exact = ONE_WAY.find(([says]) => says === deed.says);
  const like = exact ?? ONE_WAY.find(([says]) => deed.says.startsWith(says));
  return like ? { length: Math.max(length, like[1]), shape: Math.max(shape, like[2]) } : { length, shape };
};

/** What two parts of an amount may differ from the whole of it, mm: more where an end is drawn square anew each time. */
export const addsUpWithin = (deed: Deed, within: number): number =>
  deed.alteration.card.name === 'wrist' ? 0.06 : within;
