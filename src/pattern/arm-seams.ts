import { edgeWithRole } from './edges.ts';
import { layersOf, timesOnLimb } from './parts.ts';
import { type Mates, type Pattern, pieceCalled, type SewnEdge } from './pattern.ts';
import type { Cloth, EdgeRole } from './piece.ts';

/** Where a sleeve is set in: its cap (the caps of its two pieces), and the armholes it is sewn to. */
export interface ArmSeam {
  readonly caps: readonly SewnEdge[];
  /** One row for an armhole; two where the right and the left one are drawn apart. None when the pattern has none. */
  readonly rows: readonly (readonly SewnEdge[])[];
}

/**
 * The arm seams of a pattern: as its mates say; where they say nothing, the armholes and the sleeve of one layer of
 * cloth belong together.
 */
export const armSeams = (pattern: Pattern): readonly ArmSeam[] => {
  const stated = byCaps(pattern.mates.flatMap((m) => armSeamOf(pattern, m)));
  const known = new Set(stated.flatMap((s) => s.caps.map((c) => c.piece)));
  const rest = layersOf(pattern, 'sleeve').flatMap(({ cloth, pieces }): ArmSeam[] => {
    const row = armholesIn(pattern, cloth);
    const caps = pieces
      .filter((p) => !known.has(p.id))
      .flatMap((p) => edgeWithRole(p, 'cap').map((e) => ({ piece: p.id, edge: e.id, times: timesOnLimb(p) })));
    const whole = caps.filter((c) => pieceCalled(pattern, c.piece)?.part === 'sleeve');
    const parts = caps.filter((c) => !whole.includes(c));
    return [...whole.map((c) => [c]), ...(parts.length > 0 ? [parts] : [])].map((group) => ({
      caps: group,
      rows: row.length > 0 ? [row] : [],
    }));
  });
  return [...stated, ...rest];
};

/** The armholes of one layer of cloth, as they come round one arm or both. */
export const armholesIn = (pattern: Pattern, cloth: Cloth): SewnEdge[] =>
  [...layersOf(pattern, 'front'), ...layersOf(pattern, 'back')]
    .filter((layer) => layer.cloth === cloth)
    .flatMap(({ pieces }) =>
      pieces.flatMap((p) => edgeWithRole(p, 'armhole').map((e) => ({ piece: p.id, edge: e.id, times: 1 }))),
    );

const armSeamOf = (pattern: Pattern, { one, other }: Mates): ArmSeam[] => {
  const are = (row: readonly SewnEdge[], role: EdgeRole): boolean =>
    row.length > 0 &&
    row.every((s) => pieceCalled(pattern, s.piece)?.edges.find((e) => e.id === s.edge)?.role === role);
  if (are(one, 'armhole') && are(other, 'cap')) return [{ caps: other, rows: [one] }];
  return are(one, 'cap') && are(other, 'armhole') ? [{ caps: one, rows: [other] }] : [];
};

/** One sleeve that is set into a right and a left armhole has both as rows. */
const byCaps = (seams: readonly ArmSeam[]): ArmSeam[] => {
  const key = (s: ArmSeam): string => s.caps.map((c) => `${c.piece}/${c.edge}`).join();
  return [...new Set(seams.map(key))].map((k) => {
    const same = seams.filter((s) => key(s) === k);
    return { caps: (same[0] as ArmSeam).caps, rows: same.flatMap((s) => s.rows) };
  });
};
