/*
 * Bodies to draft from beside the sample: a size smaller, a size larger, and one of other proportions. Steps of one size
 * in bust, waist and hip as in the misses' body table (2 in, 2 in, 2 in; a secondary copy of a US home-sewing size table);
 * the rest, and the other proportions, are ours.
 */

const INCH = 25.4;

/** A body with some of its measurements changed, mm. */
export const changed = <B extends object>(body: B, by: Readonly<Record<string, number>>, times = 1): B =>
  Object.fromEntries(
    Object.entries(body as Record<string, number>).map(([m, mm]) => [m, mm + times * (by[m] ?? 0)]),
  ) as B;

/** One size of bodice and sleeve. */
const BODICE_SIZE = {
  bust: 2 * INCH,
  waist: 2 * INCH,
  neck: 10,
  backWidth: 12,
  chestWidth: 12,
  shoulder: 3,
  backLength: INCH / 4,
  frontLength: 9,
  bustHeight: 6,
  bustSpan: 8,
  armholeDepth: 5,
  upperArm: 16,
  elbow: 14,
  wrist: 6,
};
/** Tall, with a fuller waist, a flat back and longer arms. */
const TALL_BODICE = {
  waist: 35,
  backWidth: -8,
  chestWidth: 6,
  shoulder: -4,
  backLength: 22,
  frontLength: 20,
  bustHeight: 10,
  armholeDepth: 8,
  upperArm: 10,
  armLength: 30,
  shoulderToElbow: 15,
};

const TROUSER_SIZE = { waist: 2 * INCH, hip: 2 * INCH, crotchDepth: INCH / 4 };
/** Long legs, a fuller waist, a low hip. */
const LONG_TROUSERS = { waist: 40, hip: -10, waistToHip: 12, crotchDepth: 8, waistToFloor: 60 };

const SKIRT_SIZE = { waist: 2 * INCH, hip: 2 * INCH };
const LOW_HIP = { waist: 45, hip: 10, waistToHip: 15, length: 80 };

const threeOf =
  (size: Readonly<Record<string, number>>, other: Readonly<Record<string, number>>) =>
  <B extends object>(sample: B): readonly (readonly [string, B])[] => [
    ['a size smaller', changed(sample, size, -1)],
    ['a size larger', changed(sample, size)],
    ['other proportions', changed(sample, other)],
  ];

export const bodiceBodies = threeOf(BODICE_SIZE, TALL_BODICE);
export const trouserBodies = threeOf(TROUSER_SIZE, LONG_TROUSERS);
export const skirtBodies = threeOf(SKIRT_SIZE, LOW_HIP);
