import type { MeasurementName } from '../terms.ts';
import { asWritten, type Body, type Doubt, OR_CHECKED } from './body.ts';

/** Pairs of which the first is smaller on nearly every body. Common practice with no source. */
const SMALLER_FIRST: readonly (readonly [MeasurementName, MeasurementName])[] = [
  ['neck girth', 'neck base girth'],
  ['under-bust girth', 'bust girth'],
  ['waist girth', 'top hip girth'],
  ['wrist girth', 'elbow girth'],
  ['wrist girth', 'upper-arm girth'],
  ['knee girth', 'thigh girth'],
  ['ankle girth', 'knee girth'],
  ['shoulder length', 'across back shoulder'],
  ['bust height', 'front waist length'],
  ['armhole depth', 'back neck to waist'],
  ['shoulder to elbow', 'outer arm length'],
  ['outer arm length', 'back neck to wrist'],
  ['waist to hip', 'waist to knee'],
  ['crotch depth', 'waist to knee'],
  ['front crotch length', 'back crotch length'],
  ['back crotch length', 'crotch length'],
  ['inside leg length', 'outside leg length'],
];

/** Measurements that contradict each other by their order. */
export const orderDoubts = (body: Body, asked: ReadonlySet<string>): readonly Doubt[] => [
  ...waistOverHip(body, asked),
  ...SMALLER_FIRST.flatMap(([small, large]): Doubt[] => {
    const [a, b] = [body.measurements[small], body.measurements[large]];
    if (a === undefined || b === undefined || a <= b || asked.has(small) || asked.has(large)) return [];
    return [
      {
        about: [small, large],
        finding: {
          code: 'measure-levels-disagree',
          level: 'warning',
          where: body.where(small),
          message: `The ${small} (${asWritten(body, small, a)}) is larger than the ${large} (${asWritten(body, large, b)}), which is rare.`,
          try: `Were the two exchanged? Measure again. ${OR_CHECKED}`,
        },
      },
    ];
  }),
];

const waistOverHip = (body: Body, asked: ReadonlySet<string>): readonly Doubt[] => {
  const { 'waist girth': waist, 'hip girth': hip } = body.measurements;
  if (waist === undefined || hip === undefined || waist <= hip) return [];
  if (asked.has('waist girth') || asked.has('hip girth')) return [];
  return [
    {
      about: ['waist girth', 'hip girth'],
      finding: {
        code: 'measure-waist-over-hip',
        level: 'warning',
        where: body.where('waist girth'),
        message: `The waist (${asWritten(body, 'waist girth', waist)}) is larger than the hip (${asWritten(body, 'hip girth', hip)}).`,
        try: `If the two were exchanged, put them right: waist ${asWritten(body, 'waist girth', hip)}, hip ${asWritten(body, 'hip girth', waist)}. ${OR_CHECKED}`,
      },
    },
  ];
};
