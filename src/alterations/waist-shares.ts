import { edgeWithRole } from '../pattern/edges.ts';
import { type Round, type Tier, timesRound } from '../pattern/round.ts';
import type { Request } from './alteration.ts';
import type { Share } from './contract.ts';
import {
  counted,
  dartShare,
  edgeShare,
  MOST_AT_DART,
  MOST_AT_EDGE,
  NEGLIGIBLE,
  sideEdges,
  type WaistDart,
  waistDarts,
} from './shares.ts';

/* How a change of the waist is shared out over the seams and darts of each round of pieces. */

/** What one side edge is called that takes the change, by what it belongs to. */
const SIDE: Readonly<Record<Tier, string>> = {
  skirt: 'side edge at the waist',
  trousers: 'side edge at the waist',
  bodice: 'side edge at the waist of the bodice',
  dress: 'side edge at the waist of the dress',
};

/** Where the change has come to nothing, as the trade says it. */
export const nothingAt = (place: string): string =>
  place === SIDE.bodice ? 'the bust' : place === SIDE.dress ? 'the hip and the bust' : 'the hip';

/** One round of pieces: the places named first are filled to their most, then the others; what is left goes to the first. */
export const divideRound = ({ amount, options }: Request, round: Round): Share[] => {
  const { cloth } = round;
  const edges = sideEdges(round);
  const darts = waistDarts(round.pieces);
  if (options.take === 'new dart' || options.take === 'tucks') return newIntake(round, amount, options);
  const edgeRoom = MOST_AT_EDGE * counted(edges);
  const dartRoom =
    options.take === 'side edges only' ? 0 : darts.reduce((sum, d) => sum + roomInDart(d, amount) * d.counted, 0);
  const seamsFirst = options.take !== 'darts';
  const first = seamsFirst ? edgeRoom : dartRoom;
  const second = seamsFirst ? dartRoom : edgeRoom;
  const whole = Math.abs(amount);
  const toSecond = Math.min(second, Math.max(0, whole - first));
  const leftOver = Math.max(0, whole - first - second);
  const sign = Math.sign(amount);
  const seams = seamsFirst ? Math.min(whole, first) + leftOver : toSecond + leftOver;
  const toDarts = whole - seams;
  return [
    ...(seams > NEGLIGIBLE || darts.length === 0
      ? edges.map((e) => edgeShare(e, SIDE[round.tier], (sign * seams) / counted(edges), cloth))
      : []),
    ...(toDarts > NEGLIGIBLE
      ? darts.map((d) => dartShare(d, (sign * toDarts * roomInDart(d, amount)) / dartRoom, cloth))
      : []),
  ];
};

/** What a dart can give or take, mm: it can become no narrower than nothing. */
const roomInDart = ({ dart }: WaistDart, amount: number): number => {
  const [a, b] = dart.mouth;
  const wide = Math.hypot(b.x - a.x, b.y - a.y);
  return amount > 0 ? Math.min(MOST_AT_DART, Math.max(0, wide - 1)) : MOST_AT_DART;
};

/** A smaller waist taken up by one more dart, or by tucks, in every piece alike. */
const newIntake = (round: Round, amount: number, options: Request['options']): Share[] => {
  const tucks = options.take === 'tucks' ? Math.max(1, Math.round(Number(options.tucks))) : 1;
  const pieces = round.pieces.flatMap((piece) =>
    edgeWithRole(piece, 'waist').map((edge) => ({ piece, edge, counted: timesRound(piece) })),
  );
  return pieces.map((p) => ({
    ...edgeShare(p, tucks > 1 ? `set of ${tucks} tucks` : 'new waist dart', amount / counted(pieces), round.cloth),
    most: MOST_AT_DART * (tucks > 1 ? tucks / 2 : 1),
  }));
};
