import type { Point } from '../geometry/point.ts';
import { add, between, cross, ORIGIN, subtract, turn } from '../geometry/point.ts';
import { isCentre } from '../pattern/edges.ts';
import { runAlong } from './armhole.ts';
import { type Half, meetings } from './back-halves.ts';
import { centreLine } from './bust-point.ts';
import { drawnOut } from './hang-dress.ts';
import { at, edgeRun } from './runs.ts';
import { stiffMove, tapedAcross } from './slash.ts';
import { moved, type Prick, type Tracing } from './tracing.ts';

/* A back parted at the shoulder blades: the outer part swung, the inner one lifted, with all that lies on them. */

type Part = 'inner' | 'outer';

/** Both parts moved, with all that lies on them; the gap at the centre drawn through. */
export const swing = (tracing: Tracing, halves: readonly Half[], level: number, by: number): Tracing => {
  const parts = new Map(halves.flatMap((half) => [...partsOnSeam(tracing, halves, half, level)]));
  const top = Math.max(...tracing.seam.map((p) => p.at.y));
  const over = Math.min(drawnOut(by), 0.8 * (top - level));
  const lift = (p: Point): Point => add(p, { x: 0, y: by });
  const outer = (half: Half, p: Point): Point => (half.swing === 0 ? p : turn(p, half.swing, half.hinge));
  const onSeam = (p: Prick, i: number): Point => {
    const part = parts.get(i);
    if (!part) return ORIGIN;
    if (part.of === 'outer') return subtract(outer(part.half, p.at), p.at);
    // Up the centre line the opening is drawn through, the overlap folded away, over a stretch above the slash.
    return part.centre ? { x: 0, y: by * Math.min(1, (p.at.y - level) / over) } : { x: 0, y: by };
  };
  const shifted = (p: Point): Point => {
    const part = partOf(tracing, halves, level, p);
    return part === undefined ? p : part.of === 'outer' ? outer(part.half, p) : lift(p);
  };
  const placed = <M extends { readonly at: Point }>(m: M): M => {
    const to = shifted(m.at);
    return to === m.at ? m : { ...m, at: to };
  };
  const kept = new Set(tracing.piece.lines.filter((l) => l.kind === 'grain').map((l) => l.id));
  const lineOf = (line: readonly Prick[]): readonly Prick[] => {
    const stiff = stiffMove(line, shifted);
    if (stiff) return line.map((p) => moved(p, stiff));
    return tapedAcross(line, shifted, (p) => partOf(tracing, halves, level, p)?.key);
  };
  return {
    ...tracing,
    seam: tracing.seam.map((p, i) => moved(p, onSeam(p, i))),
    lines: new Map([...tracing.lines].map(([id, l]) => [id, kept.has(id) ? l : lineOf(l)])),
    marks: new Map(
      [...tracing.marks].map(([id, m]) => {
        const part = partOf(tracing, halves, level, m.at);
        return [id, part?.of === 'outer' ? { ...placed(m), turned: m.turned + part.half.swing } : placed(m)];
      }),
    ),
    tips: new Map([...tracing.tips].map(([id, t]) => [id, placed(t)])),
    landmarks: new Map([...tracing.landmarks].map(([name, l]) => [name, placed(l)])),
    levels: new Map([...tracing.levels].map(([name, y]) => [name, y > level ? y + by : y])),
    drawn: tracing.drawn.map((d) => ({ ...d, points: d.points.map(shifted) })),
  };
};

/** Which pricks of the seam lie on which part of one half. */
const partsOnSeam = (tracing: Tracing, halves: readonly Half[], half: Half, level: number) => {
  const { seam } = tracing;
  const parts = new Map<number, { of: Part; half: Half; centre: boolean }>();
  const up = half.armhole.from === 'end' ? 1 : -1;
  const armhole = runAlong(tracing, half.armhole);
  const hinge = armhole.find((i) => at(tracing, i) === half.hinge || same(at(tracing, i), half.hinge)) as number;
  const [outerEnd, innerEnd] = meetings(tracing, half);
  const others = new Set(halves.filter((h) => h !== half).map((h) => meetings(tracing, h)[1]));
  const centres = new Set(
    tracing.piece.edges.filter((e) => isCentre(e.role)).flatMap((e) => [...edgeRun(tracing, e.id)]),
  );
  const next = (i: number): number => (i + up + seam.length) % seam.length;
  for (let i = next(hinge); ; i = next(i)) {
    parts.set(i, { of: 'outer', half, centre: false });
    if (i === outerEnd) break;
  }
  for (let i = innerEnd; ; i = next(i)) {
    const centre = centres.has(i);
    if (centre && at(tracing, i).y <= level) break;
    parts.set(i, { of: 'inner', half, centre });
    if (others.has(i)) break;
  }
  return parts;
};

const same = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

/** The part on which a place lies: above the slash, and on which side of the line from where the parts meet to the edge. */
const partOf = (tracing: Tracing, halves: readonly Half[], level: number, p: Point) => {
  const middle = centreLine(tracing);
  const half = halves.find((h) => (p.x - middle) * h.armhole.outward >= 0) ?? halves[0];
  if (!half) return undefined;
  const { meets, hinge, armhole } = half;
  const from = (p.x - meets.x) * armhole.outward < 0 ? { x: middle, y: level } : hinge;
  const u = from.x === meets.x ? 0 : Math.min(1, Math.max(0, (p.x - meets.x) / (from.x - meets.x)));
  if (p.y <= meets.y + (from.y - meets.y) * u) return undefined;
  const [a, b] = meetings(tracing, half).map((i) => at(tracing, i)) as [Point, Point];
  const aim = half.dart === undefined ? b : between(a, b, 0.5);
  const outside = cross(subtract(aim, meets), subtract(p, meets)) * armhole.outward < 0;
  return outside
    ? { of: 'outer' as const, half, key: `outer ${armhole.edge}` }
    : { of: 'inner' as const, half, key: 'inner' };
};
