import type { Judged } from '../pattern/evidence.ts';
import type { Edge, EdgeRole } from '../pattern/piece.ts';
import type { Beside } from './allowances.ts';
import type { RoleReading } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';

/** Neighbouring stretches of one role are one edge when the line between them turns by less than this. */
const ONE_EDGE = (45 * Math.PI) / 180;

/** An edge to be: the stretches it covers, in outline order. */
export interface EdgePlan extends Judged {
  readonly role: EdgeRole;
  readonly id?: string;
  readonly stretches: readonly number[];
}

/** Stretches gathered into edges: those of one role that follow one another without a real corner. */
export const planEdges = (shape: Shape, roles: RoleReading['roles'], stated: readonly EdgePlan[]): EdgePlan[] => {
  const n = shape.stretches.length;
  const owner = new Map<number, EdgePlan>();
  for (const plan of stated) for (const i of plan.stretches) owner.set(i, plan);
  const starts = shape.stretches.flatMap((_, i) => (joins(shape, roles, owner, (i + n - 1) % n, i) ? [] : [i]));
  if (starts.length === 0) starts.push(0);
  const plans: EdgePlan[] = [];
  starts.forEach((start, k) => {
    const end = starts[(k + 1) % starts.length] as number;
    const stretches = [start];
    for (let i = (start + 1) % n; i !== end; i = (i + 1) % n) stretches.push(i);
    const given = owner.get(start);
    plans.push(given ? { ...given, stretches } : { ...(roles[start] as RoleReading['roles'][number]), stretches });
  });
  return plans;
};

const joins = (
  shape: Shape,
  roles: RoleReading['roles'],
  owner: ReadonlyMap<number, EdgePlan>,
  before: number,
  after: number,
): boolean => {
  if (before === after) return false;
  const [a, b] = [owner.get(before), owner.get(after)];
  if (a || b) return a === b;
  const same = roles[before]?.role === roles[after]?.role && roles[before]?.role !== 'unknown';
  return same && Math.abs((shape.stretches[after] as Stretch).startTurn) < ONE_EDGE;
};

/** Ids by role, numbered anticlockwise from the waist: 'side', 'side-2'. */
export const idsFor = (plans: readonly EdgePlan[]): Map<EdgePlan, string> => {
  const ids = new Map<EdgePlan, string>();
  const taken = new Set(plans.flatMap((p) => (p.id === undefined ? [] : [p.id])));
  const first = Math.max(
    0,
    plans.findIndex((p) => p.role === 'waist' || p.role === 'band seam'),
  );
  for (let k = 0; k < plans.length; k++) {
    const plan = plans[(first + k) % plans.length] as EdgePlan;
    const id = plan.id ?? freeId(plan.role === 'unknown' ? 'edge' : plan.role, taken);
    taken.add(id);
    ids.set(plan, id);
  }
  return ids;
};

const freeId = (base: string, taken: ReadonlySet<string>): string => {
  if (!taken.has(base)) return base;
  for (let n = 2; ; n++) if (!taken.has(`${base}-${n}`)) return `${base}-${n}`;
};

/** Edges of the seam line, with the cutting line's spans beside them. */
export const makeEdges = (
  shape: Shape,
  plans: readonly EdgePlan[],
  beside: readonly (Beside | undefined)[] | undefined,
): Edge[] => {
  const ids = idsFor(plans);
  return plans.map((plan): Edge => {
    const first = shape.stretches[plan.stretches[0] as number] as Stretch;
    const last = shape.stretches[plan.stretches[plan.stretches.length - 1] as number] as Stretch;
    const runs = plan.stretches.flatMap((i) => beside?.[i] ?? []);
    const whole = plan.stretches.reduce(
      (sum, i) => sum + (beside?.[i] ? (shape.stretches[i] as Stretch).length : 0),
      0,
    );
    const allowance = plan.stretches.reduce(
      (sum, i) =>
        sum + (beside?.[i] ? ((beside[i] as Beside).allowance * (shape.stretches[i] as Stretch).length) / whole : 0),
      0,
    );
    return {
      id: ids.get(plan) as string,
      role: plan.role,
      first: first.first,
      last: last.last,
      allowance,
      ...(runs.length > 0
        ? { cuttingFirst: (runs[0] as Beside).first, cuttingLast: (runs[runs.length - 1] as Beside).last }
        : {}),
      evidence: plan.evidence,
      confidence: plan.confidence,
    };
  });
};
