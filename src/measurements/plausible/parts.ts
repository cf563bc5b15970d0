import type { MeasurementName } from '../terms.ts';

/**
 * What part the first is of the second on nearly every body, children included. Common practice with no source, set wide;
 * the tests hold drafted and published bodies against it.
 */
export const PARTS: readonly (readonly [MeasurementName, MeasurementName, least: number, most: number])[] = [
  ['hip girth', 'bust girth', 0.78, 1.45],
  ['high bust girth', 'bust girth', 0.8, 1.06],
  ['under-bust girth', 'bust girth', 0.68, 1.03],
  ['top hip girth', 'hip girth', 0.72, 1.08],
  ['neck base girth', 'bust girth', 0.28, 0.62],
  ['neck girth', 'bust girth', 0.27, 0.58],
  ['elbow girth', 'upper-arm girth', 0.65, 1.15],
  ['back width', 'bust girth', 0.27, 0.5],
  ['chest width', 'bust girth', 0.25, 0.5],
  ['across back shoulder', 'bust girth', 0.28, 0.62],
  ['back width', 'across back shoulder', 0.7, 1.08],
  ['chest width', 'back width', 0.72, 1.2],
  ['shoulder length', 'across back shoulder', 0.2, 0.45],
  ['front waist length', 'back neck to waist', 0.9, 1.4],
  ['bust height', 'front waist length', 0.42, 0.8],
  ['armhole depth', 'back neck to waist', 0.36, 0.74],
  ['shoulder to elbow', 'outer arm length', 0.5, 0.7],
  ['outer arm length', 'back neck to wrist', 0.62, 0.86],
  ['outer arm length', 'back neck to waist', 1.05, 1.85],
  ['waist to hip', 'waist to knee', 0.2, 0.5],
  ['crotch depth', 'waist to knee', 0.35, 0.65],
  ['waist to hip', 'crotch depth', 0.4, 1.05],
  ['waist to knee', 'back neck to waist', 1.05, 1.8],
  ['front crotch length', 'back crotch length', 0.55, 1],
  ['back neck to waist', 'stature', 0.2, 0.31],
  ['outer arm length', 'stature', 0.28, 0.41],
  ['waist to knee', 'stature', 0.27, 0.42],
  ['crotch depth', 'stature', 0.12, 0.22],
];
