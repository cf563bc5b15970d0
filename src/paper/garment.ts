import { Bug } from '../finding.ts';
import { edgeWithRole, isSeamDown } from '../pattern/edges.ts';
import type { Mates, Pattern } from '../pattern/pattern.ts';
import type { Level } from '../pattern/piece.ts';
import { coversHip } from '../pattern/round.ts';
import { letDown } from './run-out.ts';
import { sewnLength } from './runs.ts';
import { endAt, fitWaist, lengthBefore, lengthenAtWaist, seamsAtWaist, withHip } from './skirt-seams.ts';
import { tape, tapeSeam } from './tape.ts';
import { type Tracing, trace } from './tracing.ts';

/** All pieces of a pattern on tracing paper, with what their waists have to come to. */
export interface Garment {
  readonly pattern: Pattern;
  readonly tracings: ReadonlyMap<string, Tracing>;
  /** Sewn length that each waist edge must come to, mm; by 'piece/edge'. */
  readonly waists: ReadonlyMap<string, number>;
  /** What a seam is meant to have gained over its mate, mm; by 'piece/edge'. Nothing where it is not named. */
  readonly longer: ReadonlyMap<string, number>;
  /** What an edge is longer than its mate on purpose, more than it was: ease over an elbow, in a cap. mm; by 'piece/edge'. */
  readonly eased: ReadonlyMap<string, number>;
  /** Mates are to be equal, whatever they differed by in the pattern (mending). */
  readonly equalMates: boolean;
  /** Marks that lay where a tuck was folded: piece and mark. */
  readonly hidden: readonly { readonly piece: string; readonly mark: string }[];
}

/**
 * Lays out a pattern. Where a piece that covers the hip has no hip level, it is established down the side seam.
 * @param hipDepth mm down the side seam from the waist
 */
export const layOut = (pattern: Pattern, hipDepth: number): Garment => {
  const tracings = new Map<string, Tracing>();
  const waists = new Map<string, number>();
  for (const piece of pattern.pieces) {
    const traced = trace(piece);
    const seam = piece.edges.find((e) => isSeamDown(e.role));
    tracings.set(piece.id, coversHip(piece) && seam ? withHip(traced, seam.id, hipDepth) : traced);
    for (const edge of edgeWithRole(piece, 'waist')) waists.set(`${piece.id}/${edge.id}`, sewnLength(traced, edge.id));
  }
  return { pattern, tracings, waists, longer: new Map(), eased: new Map(), equalMates: false, hidden: [] };
};

/**
 * The pattern with a hip level on every piece that covers the hip; where none is marked it is taken down the side seam.
 * @param hipDepth mm down the side seam from the waist
 */
export const withHipLevels = (pattern: Pattern, hipDepth: number): Pattern => {
  const known = levelled.get(pattern);
  if (known?.hipDepth === hipDepth) return known.pattern;
  const found = hipLevelsSought(pattern, hipDepth);
  levelled.set(pattern, { hipDepth, pattern: found });
  return found;
};

/** The pattern is the same for all fittings, and so are its levels. */
const levelled = new WeakMap<Pattern, { readonly hipDepth: number; readonly pattern: Pattern }>();

const hipLevelsSought = (pattern: Pattern, hipDepth: number): Pattern => {
  const pieces = pattern.pieces.map((piece) => {
    const seam = piece.edges.find((e) => isSeamDown(e.role));
    if (!coversHip(piece) || !seam || piece.levels.some((l) => l.name === 'hip')) return piece;
    const height = withHip(trace(piece), seam.id, hipDepth).levels.get('hip');
    if (height === undefined) return piece;
    const says = `no hip line is marked; taken ${hipDepth.toFixed(0)} mm down the side seam`;
    const level: Level = { name: 'hip', height, evidence: [{ says, weight: 0.5 }], confidence: 0.5 };
    return { ...piece, levels: [...piece.levels, level] };
  });
  return pieces.every((p, i) => p === pattern.pieces[i]) ? pattern : { ...pattern, pieces };
};

export const tracingOf = (garment: Garment, piece: string): Tracing => {
  const tracing = garment.tracings.get(piece);
  if (!tracing) throw new Bug(`no piece ${piece}`);
  return tracing;
};

/** The garment with a verb done on one of its pieces. */
export const onPiece = (garment: Garment, piece: string, verb: (t: Tracing) => Tracing): Garment => ({
  ...garment,
  tracings: new Map([...garment.tracings, [piece, verb(tracingOf(garment, piece))]]),
});

/** A waist edge is to come out longer by `by`. */
export const waistLonger = (garment: Garment, piece: string, edge: string, by: number): Garment => {
  const key = `${piece}/${edge}`;
  return { ...garment, waists: new Map([...garment.waists, [key, (garment.waists.get(key) ?? 0) + by]]) };
};

/** A seam is meant to come out longer by `by` than it was, whatever its mate does: the mate is altered by itself. */
export const seamLonger = (garment: Garment, piece: string, edge: string, by: number): Garment => {
  const key = `${piece}/${edge}`;
  return { ...garment, longer: new Map([...garment.longer, [key, (garment.longer.get(key) ?? 0) + by]]) };
};

/** An edge is meant to be longer than its mate by `by` more than it was: that is eased in when they are sewn. */
export const seamEased = (garment: Garment, piece: string, edge: string, by: number): Garment => {
  const key = `${piece}/${edge}`;
  return { ...garment, eased: new Map([...garment.eased, [key, (garment.eased.get(key) ?? 0) + by]]) };
};

/** Seams longer or shorter than their mates by less than this are even, mm. */
const EVEN = 0.005;
/** Each round takes out all but a few per cent of what is left. */
const ROUNDS = 8;

/**
 * Trues the seams to each other: the difference of two mates is put back to what the pattern had, half added and half
 * trimmed at the end named, and each waist edge to its target. Only pieces named in `touched` give way; a piece that
 * the alteration left alone stays as it is.
 */
export const settle = (garment: Garment, touched: ReadonlySet<string>, evenAt: 'waist' | 'hem'): Garment => {
  let now = garment;
  for (let round = 0; round < ROUNDS; round++) {
    const evened = seamMates(now.pattern).reduce((g, mates) => evenMates(g, mates, touched, evenAt), now);
    const fitted = [...touched].reduce(fitWaists, evened);
    if (fitted === now) break;
    now = fitted;
  }
  return now;
};

/** Pairs of single seams that run down: from the waist, or from the crotch. */
export const seamMates = (pattern: Pattern): Mates[] =>
  pattern.mates.filter((m) => {
    const [a] = m.one;
    const [b] = m.other;
    if (!a || !b || m.one.length !== 1 || m.other.length !== 1) return false;
    if (a.piece === b.piece && a.edge === b.edge) return false;
    return [a, b].every((s) => {
      const role = pattern.pieces.find((p) => p.id === s.piece)?.edges.find((e) => e.id === s.edge)?.role;
      return role !== undefined && (isSeamDown(role) || role === 'centre' || role === 'inseam');
    });
  });

const evenMates = (garment: Garment, mates: Mates, touched: ReadonlySet<string>, evenAt: 'waist' | 'hem'): Garment => {
  const [a] = mates.one;
  const [b] = mates.other;
  if (!a || !b) return garment;
  const change = (s: typeof a): number => {
    const tracing = tracingOf(garment, s.piece);
    const meant = garment.longer.get(`${s.piece}/${s.edge}`) ?? 0;
    return sewnLength(tracing, s.edge) - meant - (garment.equalMates ? 0 : lengthBefore(tracing, s.edge));
  };
  const uneven = change(a) - change(b);
  const giving = [a, b].filter((s) => touched.has(s.piece));
  if (Math.abs(uneven) <= EVEN || giving.length === 0) return garment;
  return giving.reduce((g, s) => {
    const by = ((s === a ? -1 : 1) * uneven) / giving.length;
    return onPiece(g, s.piece, (t) =>
      evenAt === 'waist' && endAt(t, s.edge, 'waist') ? lengthenAtWaist(t, s.edge, by) : lengthenAtHem(t, s.edge, by),
    );
  }, garment);
};

/** A seam is made longer at the hem, the hem redrawn from its middle to the new end. */
const lengthenAtHem = (tracing: Tracing, edgeId: string, by: number): Tracing => {
  const end = endAt(tracing, edgeId, 'hem');
  const hem = tracing.piece.edges.find((e) => e.role === 'hem');
  if (!end || !hem) return lengthenAtWaist(tracing, edgeId, by);
  // The seam starts where the hem ends when its own start lies at the hem.
  return letDown(tracing, hem.id, end === 'start' ? { start: 0, end: by } : { start: by, end: 0 });
};

const fitWaists = (garment: Garment, piece: string): Garment => {
  const tracing = tracingOf(garment, piece);
  const fitted = edgeWithRole(tracing.piece, 'waist').reduce((t, edge) => {
    const target = garment.waists.get(`${piece}/${edge.id}`);
    return target === undefined ? t : fitWaist(t, edge.id, target, seamsAtWaist(t, edge.id));
  }, tracing);
  return fitted === tracing ? garment : onPiece(garment, piece, () => fitted);
};

/** The pattern with every tracing taped and drawn again. */
export const tapeAll = (garment: Garment): Pattern => ({
  ...garment.pattern,
  pieces: garment.pattern.pieces.map((piece) => {
    const tracing = tracingOf(garment, piece.id);
    return onlyHipAdded(tracing) ? piece : tape(tracing);
  }),
});

/** The pattern as it measures now: seams, levels and darts as the verbs left them, nothing else drawn again. */
export const measuredAll = (garment: Garment): Pattern => ({
  ...garment.pattern,
  pieces: garment.pattern.pieces.map((piece) => {
    const tracing = tracingOf(garment, piece.id);
    return onlyHipAdded(tracing) ? piece : tapeSeam(tracing);
  }),
});

/** A tracing that only learned its hip level has not been altered. */
const onlyHipAdded = (tracing: Tracing): boolean => {
  const before = trace(tracing.piece);
  return (
    tracing.seam === before.seam &&
    [...before.levels].every(([name, height]) => tracing.levels.get(name) === height) &&
    tracing.lines === before.lines &&
    tracing.marks === before.marks &&
    tracing.tips === before.tips &&
    tracing.landmarks === before.landmarks &&
    tracing.drawn === before.drawn
  );
};
