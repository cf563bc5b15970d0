import { add, type Point, subtract, turn } from '../geometry/point.ts';
import type { Edge, EdgeRole } from '../pattern/piece.ts';
import { type Carrier, carrierOf, type SeamRun } from './carry.ts';
import type { Part, Seat } from './follow-seat.ts';
import { type Row, rowOf } from './lay-on.ts';
import { paperRuns } from './runs.ts';
import type { Tracing } from './tracing.ts';

/*
 * What lies under a piece that follows, as it was and as it is, in the piece's own frame. The stretches of the sewn row
 * are laid together again after the alteration: each begins where the one before it ends, turned so that the row is as
 * fair at their joint as it was. So front and back are laid together at the shoulder, and a dart is closed.
 */

/** A piece that is faced, as it was traced and as the verbs left it. */
export interface Faced {
  readonly before: Tracing;
  readonly now: Tracing;
}

/** A row of places as it was and as it is, and how far it is turned at each of them, radians. */
export interface RowNow {
  readonly was: Row;
  readonly is: Row;
  readonly turned: readonly number[];
}

/** An edge of a piece under the one that follows. */
export interface RowUnder extends RowNow {
  readonly role: EdgeRole;
  /** The stretch of the sewn row with which it lies there, as it was. */
  readonly with: Row;
}

export interface Under {
  /** The whole row that the piece is sewn to. */
  readonly sewn: RowNow;
  /** The other edges of the pieces under it, each as it lies with each of their stretches. */
  readonly others: readonly RowUnder[];
}

/**
 * @param anchor the stretch that stays where it lies; the others are laid to it
 */
export const rowsUnder = (seat: Seat, faced: ReadonlyMap<string, Faced>, anchor: number): Under => {
  const carriers = new Map([...faced].map(([id, f]) => [id, carried(f)]));
  const carrierAt = (part: Part): Carrier => carriers.get(part.piece) as Carrier;
  const loose = seat.parts.map((part) => underPart(part, stretchOf(carrierAt(part), part.edge, part.run)));
  const moves = laidTogether(loose, anchor);
  const rows = loose.map((row, k) => movedRow(row, moves[k] as Move));
  const others = seat.parts.flatMap((part, k) =>
    edgesOf(faced, part.piece)
      .filter((edge) => edge.id !== part.edge)
      .flatMap((edge): RowUnder[] => {
        const whole = wholeEdge(carrierAt(part), edge.id);
        return whole
          ? [{ role: edge.role, with: (rows[k] as RowNow).was, ...movedRow(underPart(part, whole), moves[k] as Move) }]
          : [];
      }),
  );
  return { sewn: inOne(rows), others };
};

const edgesOf = (faced: ReadonlyMap<string, Faced>, piece: string): readonly Edge[] =>
  faced.get(piece)?.before.piece.edges ?? [];

const carried = ({ before, now }: Faced): Carrier =>
  carrierOf(
    before,
    before.piece.edges.flatMap((e) => paperRuns(before, e.id)),
    now,
  );

/** Places with where they have gone and how far they are turned, in some frame. */
interface Gone {
  readonly was: readonly Point[];
  readonly is: readonly Point[];
  readonly turned: readonly number[];
}

const goneOf = ({ was, by, turned }: SeamRun): Gone => ({
  was,
  is: was.map((p, k) => add(p, by[k] as Point)),
  turned,
});

const stretchOf = (carrier: Carrier, edge: string, run: number): Gone =>
  goneOf(carrier.runs.filter((r) => r.edge === edge && !r.mouth)[run] as SeamRun);

const wholeEdge = (carrier: Carrier, edge: string): Gone | undefined => {
  const runs = carrier.runs.filter((r) => r.edge === edge && !r.mouth).map(goneOf);
  const all = { was: runs.flatMap((r) => r.was), is: runs.flatMap((r) => r.is), turned: runs.flatMap((r) => r.turned) };
  return all.was.length > 1 ? all : undefined;
};

/** As it lies under the piece; from the other side it is walked the other way and turns the other way. */
const underPart = ({ laid }: Part, { was, is, turned }: Gone): Gone => {
  const row = { was: was.map(laid.back), is: is.map(laid.back), turned: turned.map((t) => (laid.mirrored ? -t : t)) };
  return laid.mirrored ? { was: row.was.toReversed(), is: row.is.toReversed(), turned: row.turned.toReversed() } : row;
};

/** A stiff move: turned by an angle about a point, which goes to another. */
interface Move {
  readonly angle: number;
  readonly about: Point;
  readonly to: Point;
}
const STAY: Move = { angle: 0, about: { x: 0, y: 0 }, to: { x: 0, y: 0 } };

const moved = ({ angle, about, to }: Move, p: Point): Point => add(to, turn(subtract(p, about), angle));

/** How each stretch has to be moved to lie with the one beside it, from the anchor both ways. */
const laidTogether = (rows: readonly Gone[], anchor: number): readonly Move[] => {
  const moves = rows.map(() => STAY);
  for (let k = anchor + 1; k < rows.length; k++) {
    const [held, next] = [rows[k - 1], rows[k]] as [Gone, Gone];
    moves[k] = joinedTo(end(held), moves[k - 1] as Move, start(next));
  }
  for (let k = anchor - 1; k >= 0; k--) {
    const [held, next] = [rows[k + 1], rows[k]] as [Gone, Gone];
    moves[k] = joinedTo(start(held), moves[k + 1] as Move, end(next));
  }
  return moves;
};

interface RowEnd {
  readonly was: Point;
  readonly is: Point;
  readonly turned: number;
}
const start = ({ was, is, turned }: Gone): RowEnd => ({
  was: was[0] as Point,
  is: is[0] as Point,
  turned: turned[0] as number,
});
const end = ({ was, is, turned }: Gone): RowEnd => ({
  was: was.at(-1) as Point,
  is: is.at(-1) as Point,
  turned: turned.at(-1) as number,
});

const joinedTo = (held: RowEnd, move: Move, own: RowEnd): Move => {
  const angle = move.angle + held.turned - own.turned;
  // What lay between the two ends as drafted (they are sewn to each other, but drawn apart) stays between them.
  const gap = turn(subtract(own.was, held.was), move.angle + held.turned);
  return { angle, about: own.is, to: add(moved(move, held.is), gap) };
};

const movedRow = ({ was, is, turned }: Gone, move: Move): RowNow => ({
  was: rowOf(was),
  is: rowOf(is.map((p) => moved(move, p))),
  turned: turned.map((t) => t + move.angle),
});

const inOne = (rows: readonly RowNow[]): RowNow => ({
  was: rowOf(rows.flatMap((r) => r.was.points)),
  is: rowOf(rows.flatMap((r) => r.is.points)),
  turned: rows.flatMap((r) => r.turned),
});
