import { Bug } from '../finding.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { type Bust, centreLine, dartTo, edgeOn, insideDartTo, OFF_POINT, partWay, placeForDart } from './bust-point.ts';
import { type CutPart, cutOut } from './parting.ts';
import { at, edgeRun, mouthIndex, pointsOf } from './runs.ts';
import { prickedAtLevels } from './slash.ts';
import { slit, towards } from './slit.ts';
import { type Prick, pricked, type Tracing } from './tracing.ts';

/*
 * Cutting a front for a fuller bust: from the waist over the bust point to the armhole, where it hinges; from the side
 * dart to the bust point; and from the centre to the first slash, below the bust. A dress is cut down to its waist level.
 */

/** The hinge lies on the armhole a third of the way up from the underarm: in its lower third. */
const HINGE = 1 / 3;
/** A side dart that is drawn new ends 1 in from the bust point (common practice). mm */
const OFF_POINT_SIDE = 25.4;
/** Where the centre is slashed: so far from the bust point to the waist. */
const CENTRE_SLASH = 0.4;

/** What takes the width that the waist gains. */
export type WaistTake =
  /** A dart in the waist edge. */
  | { readonly kind: 'edge'; readonly dart: string; readonly edge: string; readonly innerMouth: number }
  /** A dress: the dart that lies inside at its waist, if it has one; the side seam takes the rest down to the hip. */
  | {
      readonly kind: 'level';
      readonly dart?: string;
      readonly waist: number;
      readonly hip: number;
      /** Prick of the side seam at the waist level. */
      readonly onSide: number;
    };

/** One side of the front, cut and ready to be swung. */
export interface CutSide {
  readonly bust: Bust;
  readonly hinge: Point;
  readonly armhole: string;
  readonly side: string;
  /** Swings about the hinge: from the side dart up to the hinge. */
  readonly upper: CutPart;
  /** Follows it without turning: from the waist to the side dart. */
  readonly lower: CutPart;
  readonly sideDart: string;
  readonly take: WaistTake;
  /** The prick on the armhole that goes with the swinging part, and the one that stays. */
  readonly lips: { readonly stays: number; readonly moves: number };
  /** +1 where the side part swings anticlockwise to open. */
  readonly sense: 1 | -1;
}

export interface BustCut {
  readonly tracing: Tracing;
  readonly sides: readonly CutSide[];
  /** All below the slash from the centre that does not go with a side. */
  readonly centre: CutPart;
  /** Height of the slash from the centre. */
  readonly height: number;
}

/** @throws Bug when the front lacks a side edge, an armhole, or both a waist edge and a waist level */
export const cutFront = (tracing: Tracing, busts: readonly Bust[]): BustCut => {
  const darted = busts.reduce(withDarts, prickedAtWaist(tracing));
  const lipped = busts.reduce(withLips, { tracing: darted, places: [] });
  const sides = busts.map((bust, i) => cutSide(lipped.tracing, bust, lipped.places[i] as Lips));
  return { tracing: lipped.tracing, sides, ...cutCentre(lipped.tracing, sides) };
};

const hasWaistEdge = ({ piece }: Tracing): boolean => piece.edges.some((e) => e.role === 'waist');

/** Height of the waist of a dress; of its hip level, or else its lowest point. */
const dressLevels = (tracing: Tracing): { waist: number; hip: number } => {
  const waist = tracing.levels.get('waist');
  if (waist === undefined) throw new Bug('a front with neither a waist edge nor a waist level');
  return { waist, hip: tracing.levels.get('hip') ?? Math.min(...tracing.seam.map((p) => p.at.y)) };
};

const prickedAtWaist = (tracing: Tracing): Tracing => {
  if (hasWaistEdge(tracing)) return tracing;
  const { waist, hip } = dressLevels(tracing);
  return prickedAtLevels(tracing, [waist, hip]);
};

/** A side dart at the bust level, and a dart in the waist edge below the bust point, where the front has none. */
const withDarts = (tracing: Tracing, bust: Bust): Tracing => {
  const roles = hasWaistEdge(tracing) ? (['side', 'waist'] as const) : (['side'] as const);
  return roles.reduce((t, role) => {
    if (dartTo(t, bust, role)) return t;
    const edge = edgeOn(t, bust, role);
    if (!edge) throw new Bug(`a front with no ${role} edge`);
    const place = placeForDart(t, bust, edge);
    return slit(t, edge.id, place, towards(bust.at, place, role === 'side' ? OFF_POINT_SIDE : OFF_POINT)).tracing;
  }, tracing);
};

interface Lips {
  readonly armhole: string;
  readonly hinge: Point;
  readonly first: Prick;
  readonly second: Prick;
}

/** The hinge pricked twice into the armhole: for the part that stays and the part that swings. */
const withLips = (
  { tracing, places }: { readonly tracing: Tracing; readonly places: readonly Lips[] },
  bust: Bust,
): { readonly tracing: Tracing; readonly places: readonly Lips[] } => {
  const armhole = edgeOn(tracing, bust, 'armhole');
  if (!armhole) throw new Bug('a front with no armhole');
  const hinge = partWay(tracing, armhole.id, bust.side, HINGE);
  const run = edgeRun(tracing, armhole.id);
  const points = pointsOf(tracing, run);
  const k = points.slice(1).findIndex((b, i) => {
    const a = points[i] as Point;
    return distance(a, hinge) + distance(hinge, b) - distance(a, b) < 1e-7;
  });
  if (k < 0) throw new Bug('the hinge is not on the armhole');
  const [i, j] = [run[k] as number, run[k + 1] as number];
  const t = distance(points[k] as Point, hinge) / distance(points[k] as Point, points[k + 1] as Point);
  const lip = (): Prick =>
    pricked(tracing.seam[i] as Prick, tracing.seam[j] as Prick, Math.min(1 - 1e-6, Math.max(1e-6, t)));
  const [first, second] = [lip(), lip()];
  const seam = [...tracing.seam.slice(0, i + 1), first, second, ...tracing.seam.slice(i + 1)];
  return {
    tracing: { ...tracing, seam },
    places: [...places, { armhole: armhole.id, hinge: first.at, first, second }],
  };
};

const cutSide = (tracing: Tracing, bust: Bust, lips: Lips): CutSide => {
  const sideDart = dartTo(tracing, bust, 'side')?.id as string;
  const side = edgeOn(tracing, bust, 'side')?.id as string;
  const [s0, s1] = [mouthIndex(tracing, sideDart, 0), mouthIndex(tracing, sideDart, 1)];
  const [h0, h1] = [tracing.seam.indexOf(lips.first), tracing.seam.indexOf(lips.second)];
  const { take, outer, inner } = waistTake(tracing, bust, side);
  const common = { bust, hinge: lips.hinge, armhole: lips.armhole, side, sideDart, take };
  // The seam runs anticlockwise: from the waist up the side where that lies towards +x, down it on the other.
  return bust.side > 0
    ? {
        ...common,
        upper: cutOut(tracing, s1, h0, [bust.at]),
        lower: cutOut(tracing, outer, s0, [bust.at, ...inner]),
        lips: { stays: h1, moves: h0 },
        sense: 1,
      }
    : {
        ...common,
        upper: cutOut(tracing, h1, s0, [bust.at]),
        lower: cutOut(tracing, s1, outer, [...inner, bust.at]),
        lips: { stays: h0, moves: h1 },
        sense: -1,
      };
};

/** What takes the width at the waist, and where the lower part of the side ends there: on the seam, and below the bust point. */
const waistTake = (
  tracing: Tracing,
  bust: Bust,
  side: string,
): { take: WaistTake; outer: number; inner: readonly Point[] } => {
  const dart = dartTo(tracing, bust, 'waist');
  if (dart?.edge !== undefined) {
    const [w0, w1] = [mouthIndex(tracing, dart.id, 0), mouthIndex(tracing, dart.id, 1)];
    const [innerMouth, outer] = bust.side > 0 ? [w0, w1] : [w1, w0];
    return { take: { kind: 'edge', dart: dart.id, edge: dart.edge, innerMouth }, outer, inner: [] };
  }
  const { waist, hip } = dressLevels(tracing);
  const away = (i: number): number => Math.abs(at(tracing, i).y - waist);
  const onSide = edgeRun(tracing, side).reduce((best, i) => (away(i) < away(best) ? i : best));
  const inside = insideDartTo(tracing, bust);
  return {
    take: { kind: 'level', waist, hip, onSide, ...(inside === undefined ? {} : { dart: inside }) },
    outer: onSide,
    inner: [{ x: bust.at.x, y: waist }],
  };
};

/** The part below the slash from the centre: to the waist dart, or on a whole piece from dart to dart; of a dress all of it. */
const cutCentre = (tracing: Tracing, sides: readonly CutSide[]): { centre: CutPart; height: number } => {
  const bustPoint = (sides[0] as CutSide).bust.at;
  const waist = Math.min(
    ...sides.map(({ take }) => (take.kind === 'edge' ? at(tracing, take.innerMouth).y : take.waist)),
  );
  const height = bustPoint.y + (waist - bustPoint.y) * CENTRE_SLASH;
  const right = sides.find((s) => s.bust.side > 0);
  const left = sides.find((s) => s.bust.side < 0);
  // From where the lower part of the side begins, up below the bust point, to the level of the slash.
  const up = ({ bust, take }: CutSide): Point[] => [
    ...(take.kind === 'level' ? [{ x: bust.at.x, y: take.waist }] : []),
    { x: bust.at.x, y: height },
  ];
  const n = tracing.seam.length;
  const last = ({ take, bust }: CutSide): number =>
    take.kind === 'edge' ? take.innerMouth : (take.onSide - bust.side + n) % n;
  if (right && left) {
    return { centre: cutOut(tracing, last(left), last(right), [...up(right), ...up(left).reverse()]), height };
  }
  const only = (right ?? left) as CutSide;
  const edge = tracing.piece.edges.find((e) => isCentre(e.role));
  if (!edge) throw new Bug('half a front with no centre');
  const below = edgeRun(tracing, edge.id).filter((i) => at(tracing, i).y < height);
  const end = { x: centreLine(tracing), y: height };
  const centre = right
    ? cutOut(tracing, below[0] as number, last(only), [...up(only), end])
    : cutOut(tracing, last(only), below.at(-1) as number, [end, ...up(only).reverse()]);
  return { centre, height };
};
