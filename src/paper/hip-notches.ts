import { edgeWithRole } from '../pattern/edges.ts';
import { type Garment, onPiece, seamMates, tracingOf } from './garment.ts';
import { along, edgeRun, pointsOf } from './runs.ts';
import { prickedAtLevels } from './slash.ts';
import { proportionally, slideAlong } from './slide.ts';
import { type Tracing, trace } from './tracing.ts';
import { legHeights } from './trouser-lines.ts';

/** Smaller differences are left, mm. */
const MEETS = 0.01;

/**
 * On trousers front and back slant differently between knee and hip, and a change at the hip makes one side seam longer
 * there than the other. Both hip notches slide along their seams by half of the difference, so that they meet as before.
 */
export const hipNotchesMeet = (garment: Garment, touched: ReadonlySet<string>): Garment =>
  seamMates(garment.pattern).reduce((now, mates) => {
    const sewn = [mates.one[0], mates.other[0]].flatMap((s) => (s ? [s] : []));
    const sides = sewn.filter((s) => touched.has(s.piece) && isTrouserSide(tracingOf(now, s.piece), s.edge));
    const [a, b] = sides;
    if (!a || !b) return now;
    const gains = [a, b].map((s) => {
      const tracing = tracingOf(now, s.piece);
      return kneeToHip(tracing, s.edge).length - kneeToHip(trace(tracing.piece), s.edge).length;
    }) as [number, number];
    const off = (gains[0] - gains[1]) / 2;
    if (Math.abs(off) < MEETS) return now;
    return onPiece(
      onPiece(now, a.piece, (t) => hipSlid(t, a.edge, -off)),
      b.piece,
      (t) => hipSlid(t, b.edge, off),
    );
  }, garment);

const isTrouserSide = (tracing: Tracing, edge: string): boolean =>
  legHeights(tracing) !== undefined && edgeWithRole(tracing.piece, 'side').some((e) => e.id === edge);

interface Ways {
  readonly knee: number;
  readonly hip: number;
  readonly whole: number;
  readonly length: number;
}

/** Ways along a side seam to where knee and hip are notched, as they lie now, mm. */
const kneeToHip = (tracing: Tracing, edge: string): Ways => {
  const source = trace(tracing.piece);
  const { knee, hip } = legHeights(source) ?? { knee: 0, hip: tracing.levels.get('hip') ?? 0 };
  const way = along(pointsOf(tracing, edgeRun(tracing, edge)));
  const at = (height: number): number => {
    const was = edgeRun(tracing, edge).map((i) => tracing.seam[i]?.was.y ?? 0);
    const k = was.findIndex((y, i) => i > 0 && ((was[i - 1] as number) - height) * (y - height) <= 0);
    if (k < 1) return 0;
    const [from, to] = [was[k - 1] as number, was[k] as number];
    const part = from === to ? 0 : (height - from) / (to - from);
    return (way[k - 1] as number) + ((way[k] as number) - (way[k - 1] as number)) * part;
  };
  const [low, high] = [at(knee), at(hip)];
  return { knee: low, hip: high, whole: way.at(-1) as number, length: Math.abs(high - low) };
};

/** What stands at the hip slides along the side seam by `up`, away from the knee. */
const hipSlid = (tracing: Tracing, edge: string, up: number): Tracing => {
  const pricks = prickedAtLevels(tracing, [tracing.levels.get('hip') ?? 0]);
  const { knee, hip, whole } = kneeToHip(pricks, edge);
  const still = [0, knee, whole].map((w) => ({ from: w, to: w }));
  const slid = { from: hip, to: hip + (hip > knee ? up : -up) };
  return slideAlong(pricks, edgeRun(pricks, edge), proportionally([...still, slid]));
};
