import type { MeasurementName } from '../terms.ts';

/**
 * How girths of grown bodies go together: means and covariances of the natural logarithms of girths in millimetres, over
 * the hundred bodies (fifty of either sex) in fixtures/published/body-dimensions.csv, from which the tests reckon them
 * again. Source: G. Heinz, L. J. Peterson, R. W. Johnson, C. J. Kerk, "Exploring Relationships in Body Dimensions",
 * Journal of Statistics Education 11(2), 2003. The chest of women was taken just above the breast there, the upper arm
 * flexed: both lie well within the spread.
 */
const NAMES = [
  'bust girth',
  'waist girth',
  'hip girth',
  'thigh girth',
  'upper-arm girth',
  'knee girth',
  'ankle girth',
  'wrist girth',
] as const satisfies readonly MeasurementName[];

export const LOG_MEANS: readonly number[] = [6.8158, 6.6121, 6.8629, 6.3404, 5.7249, 5.8845, 5.3876, 5.0783];

/** Lower half, row by row. */
export const LOG_COVARIANCES: readonly (readonly number[])[] = [
  [0.0099],
  [0.01027, 0.01369],
  [0.0042, 0.00601, 0.00439],
  [0.0044, 0.00635, 0.00472, 0.00644],
  [0.01377, 0.01474, 0.00639, 0.00691, 0.0222],
  [0.00528, 0.00642, 0.00364, 0.00369, 0.00808, 0.0052],
  [0.00572, 0.00665, 0.00321, 0.00301, 0.00872, 0.00432, 0.0059],
  [0.00777, 0.00817, 0.00343, 0.00302, 0.01188, 0.00532, 0.00549, 0.00815],
];

/** Bodies that were measured for a study are young and fit; among wearers no pair of girths is held to less than this. */
const LEAST_SPREAD = 0.06;

const indexOf = (name: string): number => (NAMES as readonly string[]).indexOf(name);

export const isRelated = (name: string): boolean => indexOf(name) >= 0;

const covariance = (i: number, j: number): number => LOG_COVARIANCES[Math.max(i, j)]?.[Math.min(i, j)] ?? 0;

/**
 * What one girth leads to expect of another: the regression of logarithms, so that it holds for all sizes alike.
 * @returns the middle, mm, and the spread (a standard deviation) of the logarithm
 */
export const expectedFrom = (
  name: string,
  other: string,
  otherMm: number,
): { readonly middle: number; readonly spread: number } => {
  const [i, j] = [indexOf(name), indexOf(other)];
  const slope = covariance(i, j) / covariance(j, j);
  const middle = Math.exp((LOG_MEANS[i] ?? 0) + slope * (Math.log(otherMm) - (LOG_MEANS[j] ?? 0)));
  const left = covariance(i, i) - slope * covariance(i, j);
  return { middle, spread: Math.max(LEAST_SPREAD, Math.sqrt(Math.max(0, left))) };
};

/** Let be beside what the study leads to expect, as variance of the logarithm: wearers are not all young and fit; ours. */
const LET_BE = 0.0018;

/**
 * How far girths are from going together: the squared Mahalanobis distance of their logarithms, in spreads. Of a single
 * girth it says how far its size is from the usual.
 */
export const girthsOff = (values: ReadonlyMap<string, number>): number => {
  const given = NAMES.flatMap((name, i) => {
    const mm = values.get(name);
    return mm === undefined ? [] : [{ i, off: Math.log(mm) - (LOG_MEANS[i] ?? 0) }];
  });
  const rows = given.map(({ i }) => given.map(({ i: j }) => covariance(i, j) + (i === j ? LET_BE : 0)));
  return squaredDistance(
    rows,
    given.map(({ off }) => off),
  );
};

/** bᵀ A⁻¹ b of a positive definite A, by Cholesky's method: with A = L Lᵀ and L y = b it is y · y. */
const squaredDistance = (a: readonly (readonly number[])[], b: readonly number[]): number => {
  const lower: number[][] = [];
  const y: number[] = [];
  const dot = (u: readonly number[], v: readonly number[], n: number) => {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += (u[k] ?? 0) * (v[k] ?? 0);
    return sum;
  };
  for (const [i, row] of a.entries()) {
    const own: number[] = [];
    for (let j = 0; j < i; j++) own.push(((row[j] ?? 0) - dot(own, lower[j] ?? [], j)) / (lower[j]?.[j] ?? 1));
    own.push(Math.sqrt((row[i] ?? 0) - dot(own, own, i)));
    lower.push(own);
    y.push(((b[i] ?? 0) - dot(own, y, i)) / (own[i] ?? 1));
  }
  return dot(y, y, y.length);
};
