import type { Pattern } from '../pattern/pattern.ts';
import { takeMeasurement } from '../pattern/taking/index.ts';
import { type Asked, askedBy, type Change, type Changes, type Chosen, chosen } from './asked.ts';
import type { PlanOptions } from './contract.ts';

/*
 * Lengths hang together: what is above the elbow is part of the arm, what lies above the knee of the leg; front and back
 * of a bodice share their side seam.
 */

/** Lengths that hang together, and what they call for. */
export interface Family {
  readonly measurements: readonly string[];
  readonly choose: (changes: Changes, pattern: Pattern, options: PlanOptions) => Chosen;
}

/** Front and back waist length: what they have in common goes across whole pieces, what one has over it is a wedge. */
export const waistLengths: Family = {
  measurements: ['front waist length', 'back neck to waist'],
  choose: (changes) => {
    const front = changes.get('front waist length');
    const back = changes.get('back neck to waist');
    const [f, b] = [front?.amount, back?.amount ?? 0];
    // A back measured alone is a longer (shorter) body: the front goes with it.
    const common =
      f === undefined ? b : Math.sign(f) === Math.sign(b) ? Math.sign(f) * Math.min(Math.abs(f), Math.abs(b)) : 0;
    const along = { options: { 'side seam': 'with it' } };
    const alone = { options: { 'side seam': 'keep' } };
    const lead = front ?? back;
    const asked: Asked[] = [];
    if (lead && back && common !== 0) {
      const why = front ? 'what front and back have in common, across the whole piece' : 'front and back alike';
      // The front that only goes along shows nothing of the back's length.
      asked.push(askedBy(lead, 'front waist length', { ...along, amount: common, why, part: front ? 1 : 0 }));
      asked.push(askedBy(back, 'back waist length', { ...along, amount: common, why }));
    }
    const rest = 'what it needs over the other, to nothing at the side';
    if (front && f !== common) {
      asked.push(
        askedBy(front, 'front waist length', {
          ...alone,
          amount: front.amount - common,
          net: front.needed - common,
          why: rest,
        }),
      );
    }
    if (back && b !== common) {
      asked.push(
        askedBy(back, 'back waist length', { ...alone, amount: b - common, net: back.needed - common, why: rest }),
      );
    }
    return chosen(asked, front, back);
  },
};

/** The arm: above the elbow what is measured there, the rest below it; in proportion where only the whole is measured. */
export const armLengths: Family = {
  measurements: ['shoulder to elbow', 'outer arm length', 'back neck to wrist'],
  choose: (changes, pattern) => {
    const upper = changes.get('shoulder to elbow');
    const whole = changes.get('outer arm length') ?? changes.get('back neck to wrist');
    const above = upper?.amount ?? (whole?.amount ?? 0) * partAbove(pattern, 'shoulder to elbow', 'outer arm length');
    const why = 'its part above the elbow';
    return chosen(
      [
        ...(upper ? [askedBy(upper, 'length above the elbow')] : []),
        ...(whole && !upper ? [askedBy(whole, 'length above the elbow', { amount: above, why })] : []),
        ...(whole
          ? [
              askedBy(whole, 'length below the elbow', {
                amount: whole.amount - above,
                why: 'the rest of it below the elbow',
              }),
            ]
          : []),
      ],
      upper,
      whole,
    );
  },
};

/** How much of a length lies above the joint that the other ends at; 0 where the joint is not marked. */
const partAbove = (pattern: Pattern, toJoint: string, whole: string): number => {
  const [above] = takeMeasurement(pattern, toJoint).takings;
  const [all] = takeMeasurement(pattern, whole).takings;
  return above && all && all.mm > 0 ? Math.min(1, above.mm / all.mm) : 0;
};

/** The crotch seam, and the legs below it. What the depth gives a length is not given it twice. */
export const trouserLengths: Family = {
  measurements: [
    ...['crotch depth', 'front crotch length', 'back crotch length', 'crotch length'],
    ...['waist to knee', 'inside leg length', 'outside leg length'],
  ],
  choose: (changes, pattern) => {
    const depth = changes.get('crotch depth');
    const deeper = depth?.amount ?? 0;
    const seams = crotchSeams(changes, deeper);
    const legs = legLengths(changes, deeper, pattern);
    return {
      asked: [...(depth ? [askedBy(depth, 'crotch depth')] : []), ...seams.asked, ...legs.asked],
      decided: [...(depth ? [depth.measurement] : []), ...seams.decided, ...legs.decided],
    };
  },
};

const crotchSeams = (changes: Changes, deeper: number): Chosen => {
  const front = changes.get('front crotch length');
  const back = changes.get('back crotch length');
  const total = front && back ? undefined : changes.get('crotch length');
  const why = deeper === 0 ? 'its part of the whole seam' : 'what the crotch depth does not give it';
  const rest = (total?.amount ?? 0) - (front?.amount ?? 0) - (back?.amount ?? 0);
  const forFront = front?.amount ?? (back ? rest : rest / 2);
  const forBack = back?.amount ?? (front ? rest : rest / 2);
  const by = (own: Change | undefined, alteration: string, amount: number): Asked[] => {
    const change = own ?? total;
    return change ? [askedBy(change, alteration, { amount: amount - deeper, why })] : [];
  };
  return chosen(
    [...by(front, 'front crotch length', forFront), ...by(back, 'back crotch length', forBack)],
    front,
    back,
    total,
  );
};

const legLengths = (changes: Changes, deeper: number, pattern: Pattern): Chosen => {
  const knee = changes.get('waist to knee');
  const inside = changes.get('inside leg length');
  const outside = inside ? undefined : changes.get('outside leg length');
  const whole = inside ?? outside;
  const leg = inside?.amount ?? (outside ? outside.amount - deeper : 0);
  if (!knee && !whole) return chosen([]);
  const shaped = takeMeasurement(pattern, 'waist to knee').takings.length > 0;
  if (whole && !shaped)
    return chosen([askedBy(whole, 'length at the hem', { amount: leg, why: 'all of it at the hem' })], whole);
  const above = knee ? knee.amount - deeper : leg * kneePart(pattern);
  const why = knee ? 'what the crotch depth does not give it' : 'its part above the knee';
  return chosen(
    [
      ...(knee || whole ? [askedBy((knee ?? whole) as Change, 'length above the knee', { amount: above, why })] : []),
      ...(whole
        ? [askedBy(whole, 'length below the knee', { amount: leg - above, why: 'the rest of it below the knee' })]
        : []),
    ],
    knee,
    whole,
  );
};

/** How much of the leg lies above the knee. */
const kneePart = (pattern: Pattern): number => {
  const of = (m: string): number => takeMeasurement(pattern, m).takings[0]?.mm ?? 0;
  const [depth, knee, inside] = [of('crotch depth'), of('waist to knee'), of('inside leg length')];
  return inside > 0 ? Math.min(1, Math.max(0, (knee - depth) / inside)) : 0;
};
