import type { Pattern } from '../pattern/pattern.ts';
import { armGirths } from './arm-girths.ts';
import { type Asked, askedBy, type Change, type Changes, type Chosen, chosen } from './asked.ts';
import type { PlanOptions } from './contract.ts';
import { armLengths, type Family, trouserLengths, waistLengths } from './lengths-asked.ts';
import { lengthsAsked, SKIRT_LENGTHS } from './skirt-length.ts';

/* Which measurement calls for which alteration. Most call for one each; lengths that hang together are shared out. */

/**
 * Measurements that call for one alteration each, by the part of the change that it takes. What the measurement changes
 * by is what the place changes by, whatever others give or take there.
 */
const ALONE: Readonly<Record<string, readonly [alteration: string, part: number]>> = {
  'waist girth': ['waist', 1],
  'hip girth': ['hip', 1],
  'bust height': ['bust height', 1],
  // A shoulder that drops further is more sloping, which is a smaller slope upwards.
  'shoulder drop': ['shoulder slope', -1],
  'armhole depth': ['armhole depth', 1],
  'chest width': ['chest width', 1],
  'back width': ['back width', 1],
  'wrist girth': ['wrist', 1],
  'thigh girth': ['thigh', 1],
};

/** Of several that call for the same, the first that is given decides. */
const EITHER: readonly (readonly [alteration: string, ...by: (readonly [measurement: string, part: number])[]])[] = [
  ['neck', ['neck base girth', 1], ['neck girth', 1]],
  ['shoulder width', ['shoulder length', 1], ['across back shoulder', 1 / 2]],
];

/**
 * The bust. Where the high bust was measured too, the body differs all round by what that differs, and only what the
 * full bust has over it is a fuller (smaller) bust (Texas extension bulletin E-372 tells the two apart so).
 */
const bust: Family = {
  measurements: ['bust girth', 'high bust girth'],
  choose: (changes) => {
    const full = changes.get('bust girth');
    const high = changes.get('high bust girth');
    if (!full) return chosen([]);
    if (!high) return chosen([askedBy(full, 'bust', { net: reached(full, full.amount) })], full);
    const [round, front] = [high.needed, full.amount - high.needed];
    return chosen(
      [
        askedBy(full, 'bust', { amount: round, options: { share: 'all round' }, why: 'as the high bust differs' }),
        askedBy(full, 'bust', {
          amount: front,
          net: front + reached(full, full.amount) - full.amount,
          options: { share: 'front' },
          why: 'what the bust needs over that',
        }),
      ],
      full,
    );
  },
};

/** What of an amount is seen where the bust is measured: a dart that opens gives a little less than its cut is spread. */
const reached = ({ amount, effects }: Change, part: number): number =>
  effects && amount !== 0 ? (part * effects.own) / amount : part;

const families: readonly Family[] = [
  bust,
  { measurements: SKIRT_LENGTHS, choose: lengthsAsked },
  waistLengths,
  armLengths,
  armGirths,
  trouserLengths,
  {
    measurements: ['waist to hip'],
    choose: (changes) => {
      const hip = changes.get('waist to hip');
      if (!hip) return chosen([]);
      // Where depth and leg were measured too, the whole length is theirs to decide.
      const measured = ['crotch depth', 'inside leg length', 'outside leg length'].some((m) => changes.has(m));
      return chosen([askedBy(hip, 'waist to hip', measured ? { options: { 'whole length': 'change' } } : {})], hip);
    },
  },
];

const alone = (change: Change, alteration: string, part: number): Asked =>
  askedBy(change, alteration, {
    amount: change.amount * part,
    part,
    ...(ROUND.has(alteration) ? {} : { net: change.needed * part }),
  });

/** Shared out round the body, where others give to it at places of their own: what these take, its own make up for. */
const ROUND: ReadonlySet<string> = new Set(['waist']);

/** Whether a measurement can call for an alteration. */
export const drives = (measurement: string): boolean =>
  measurement in ALONE ||
  EITHER.some(([, ...by]) => by.some(([m]) => m === measurement)) ||
  families.some((f) => f.measurements.includes(measurement));

/** The alterations that changes call for, all together. */
export const chooseAlterations = (all: readonly Change[], pattern: Pattern, options: PlanOptions): Chosen => {
  const changes: Changes = new Map(all.map((c) => [c.measurement, c]));
  const of = (m: string): Change[] => [changes.get(m)].filter((c) => c !== undefined);
  const parts: Chosen[] = [
    ...families.map((f) => f.choose(changes, pattern, options)),
    ...Object.entries(ALONE).flatMap(([m, [alteration, part]]) =>
      of(m).map((c) => chosen([alone(c, alteration, part)], c)),
    ),
    ...EITHER.flatMap(([alteration, ...by]) =>
      by.flatMap(([m, part]) => of(m).map((c) => chosen([alone(c, alteration, part)], c))).slice(0, 1),
    ),
  ];
  return { asked: parts.flatMap((p) => p.asked), decided: parts.flatMap((p) => p.decided) };
};
