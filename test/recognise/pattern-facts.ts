import { distance, type Point } from '../../src/geometry/point.ts';
import { lengthBetween, lengthOf } from '../../src/geometry/segment.ts';
import { edgeLength, edgeSpans } from '../../src/pattern/edges.ts';
import type { Mates, Pattern, SewnEdge } from '../../src/pattern/pattern.ts';
import { pieceCalled } from '../../src/pattern/pattern.ts';
import type { Notch, Piece } from '../../src/pattern/piece.ts';
import { acrossOf, heightOf } from '../../src/pattern/upright.ts';

/*
 * Two patterns compared by what does not depend on where and how pieces lie, nor on what edges and pieces are called:
 * the pattern that was drafted, and the one that was read. mm.
 */

/** `what` → value; values of one kind are sorted, so that order does not matter. */
type Facts = ReadonlyMap<string, readonly number[]>;

const add = (facts: Map<string, number[]>, what: string, value: number): void => {
  facts.set(
    what,
    [...(facts.get(what) ?? []), value].sort((a, b) => a - b),
  );
};

/** From the notch to the nearer end of its edge, along the seam line. */
const toEnd = (piece: Piece, notch: Notch): number => {
  const edge = piece.edges.find((e) => e.id === notch.edge);
  if (!edge) return Number.NaN;
  const lengths = edgeSpans(piece, edge).map((i) => ({ i, length: spanLength(piece, i) }));
  const at = lengths.findIndex((l) => l.i === notch.at.span);
  const segment = piece.seamLine.spans[notch.at.span]?.segments[0];
  const into = segment ? lengthBetween(segment, 0, notch.at.t) : 0;
  const before = lengths.slice(0, at).reduce((sum, l) => sum + l.length, 0) + into;
  const whole = lengths.reduce((sum, l) => sum + l.length, 0);
  return Math.min(before, whole - before);
};
const spanLength = (piece: Piece, i: number): number =>
  (piece.seamLine.spans[i]?.segments ?? []).reduce((sum, s) => sum + lengthOf(s), 0);

/** Angle between grainline and upright, 0 to 90 degrees. */
const lean = (piece: Piece): number | undefined => {
  const g = piece.grainline;
  if (!g) return undefined;
  const d = { x: g.to.x - g.from.x, y: g.to.y - g.from.y };
  const { up } = piece.upright;
  const angle = (Math.abs(Math.atan2(d.x * up.y - d.y * up.x, d.x * up.x + d.y * up.y)) * 180) / Math.PI;
  return Math.min(angle, 180 - angle);
};

/** Heights count only on parts that stand on the body. */
const stands = (piece: Piece): boolean =>
  !['collar', 'cuff', 'waistband'].includes(piece.part) && !piece.part.endsWith('facing');

const factsOf = (piece: Piece): Facts => {
  const facts = new Map<string, number[]>();
  const roleOf = (id: string | undefined): string => piece.edges.find((e) => e.id === id)?.role ?? 'inside';
  const height = (p: Point): number => heightOf(piece.upright, p);
  add(facts, 'half', piece.half ? 1 : 0);
  add(facts, 'cut', piece.cut.count);
  for (const e of piece.edges) {
    add(facts, `${e.role} length`, edgeLength(piece, e));
    add(facts, `${e.role} allowance`, e.allowance);
  }
  for (const d of piece.darts) {
    const where = `dart ${roleOf(d.edge)}`;
    add(facts, `${where} mouth`, distance(...d.mouth));
    add(facts, `${where} leg`, distance(d.mouth[0], d.tip));
    if (d.otherTip) add(facts, `${where} lower leg`, distance(d.mouth[1], d.otherTip));
  }
  for (const n of piece.notches) add(facts, `notch ${n.count} on ${roleOf(n.edge)}`, toEnd(piece, n));
  const g = lean(piece);
  if (g !== undefined) add(facts, 'grain', g);
  if (!stands(piece)) return facts;
  for (const l of piece.levels) if (l.name !== 'hem') add(facts, `level ${l.name}`, l.height);
  for (const a of piece.adjustmentLines) add(facts, 'adjustment', a.height);
  for (const l of piece.landmarks) {
    add(facts, `${l.name} height`, height(l.at));
    add(facts, `${l.name} across`, Math.abs(acrossOf(piece.upright, l.at)));
  }
  return facts;
};

/** Levels that no line draws and nothing on the piece tells of. */
const untold: ReadonlySet<string> = new Set([
  'level bust',
  'level chest',
  'level blade',
  'level underarm',
  'level hip',
]);

const wrongIn = (truth: Piece, found: Piece, within: number): string[] => {
  const [want, got] = [factsOf(truth), factsOf(found)];
  const wrong: string[] = [];
  for (const what of new Set([...want.keys(), ...got.keys()])) {
    const [a, b] = [want.get(what) ?? [], got.get(what) ?? []];
    if (b.length === 0 && untold.has(what)) continue;
    // What the draft does not name but the shape tells: the crotch level of trousers, the biceps of a sleeve.
    if (a.length === 0 && what.startsWith('level ')) continue;
    // A side panel does not say where its waist lies below the garment's: its corner is taken.
    const loose = truth.part.includes(' side ') && /level|adjustment/.test(what) ? 0.5 : 0;
    const tolerance = what === 'grain' ? 0.2 : what.endsWith('allowance') ? 0.15 : within + loose;
    if (a.length !== b.length || a.some((v, i) => !(Math.abs(v - (b[i] as number)) <= tolerance)))
      wrong.push(`${what}: ${b.map((v) => v.toFixed(2)).join(' ')} for ${a.map((v) => v.toFixed(2)).join(' ')}`);
  }
  return wrong;
};

/** Mates as words that do not depend on ids: `bodice front side ×1 ~ bodice back side ×1`. */
const mateWords = (pattern: Pattern, m: Mates): string => {
  const row = (sewn: readonly SewnEdge[]): string =>
    sewn
      .map((s) => {
        const piece = pieceCalled(pattern, s.piece);
        const role = piece?.edges.find((e) => e.id === s.edge)?.role;
        return `${piece?.part} ${piece?.cut.cloth === 'lining' ? 'lining ' : ''}${role} ×${s.times}`;
      })
      .sort()
      .join(' + ');
  return [row(m.one), row(m.other)].sort().join(' ~ ');
};

/** A piece sewn to its own mirror image is not in a draft's list of seams. */
const isToItself = (m: Mates): boolean =>
  m.one.length === 1 &&
  m.other.length === 1 &&
  m.one[0]?.edge === m.other[0]?.edge &&
  m.one[0]?.piece === m.other[0]?.piece;

const wrongMates = (truth: Pattern, found: Pattern): string[] => {
  const left = found.mates.filter((m) => !isToItself(m)).map((m) => mateWords(found, m));
  const wrong: string[] = [];
  for (const words of truth.mates.map((m) => mateWords(truth, m))) {
    const at = left.indexOf(words);
    if (at < 0) wrong.push(`not sewn: ${words}`);
    else left.splice(at, 1);
  }
  return [...wrong, ...left.map((words) => `sewn: ${words}`)];
};

/** What was read otherwise than it was drafted, in words. */
export const readOtherwise = (truth: Pattern, found: Pattern, within: number, allowances = true): string[] => {
  const wrong: string[] = [];
  const free = [...found.pieces];
  const isLining = (p: Piece): boolean => p.cut.cloth === 'lining';
  for (const piece of truth.pieces) {
    const at = free.findIndex((p) => p.part === piece.part && isLining(p) === isLining(piece));
    const own = free[at];
    if (!own) {
      wrong.push(`no ${piece.part} among ${free.map((p) => `${p.id} (${p.part})`).join()}`);
      continue;
    }
    free.splice(at, 1);
    const bare = (p: Piece): Piece => (allowances ? p : { ...p, edges: p.edges.map((e) => ({ ...e, allowance: 0 })) });
    wrong.push(...wrongIn(bare(piece), bare(own), within).map((w) => `${own.id} ${w}`));
  }
  if (free.length > 0) wrong.push(`too many: ${free.map((p) => p.id).join()}`);
  return [...wrong, ...wrongMates(truth, found)];
};
