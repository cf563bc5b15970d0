import type { Pattern } from '../pattern.ts';
import * as bodice from './bodice.ts';
import * as girths from './girths.ts';
import * as skirt from './skirt.ts';
import * as sleeve from './sleeve.ts';
import { NOTHING_TAKEN, type Taken } from './taken.ts';
import * as trousers from './trousers.ts';

export type { Counted, Lack, Taken, Taking } from './taken.ts';

/**
 * How each body measurement is taken on the pieces, by its canonical name. What comes out is the garment's measure: the
 * body's and the ease of the design.
 */
const table: Readonly<Record<string, (pattern: Pattern) => Taken>> = {
  'bust girth': girths.bustGirth,
  'waist girth': girths.waistGirth,
  'hip girth': girths.hipGirth,
  'neck base girth': girths.neckGirth,
  'neck girth': girths.neckGirth,
  'chest width': girths.chestWidth,
  'back width': girths.backWidth,
  'upper-arm girth': sleeve.upperArmGirth,
  'elbow girth': sleeve.elbowGirth,
  'wrist girth': sleeve.wristGirth,
  'thigh girth': trousers.thighGirth,
  'knee girth': trousers.kneeGirth,
  'shoulder length': bodice.shoulderLength,
  'shoulder drop': bodice.shoulderDrop,
  'armhole depth': bodice.armholeDepth,
  'back neck to waist': bodice.backNeckToWaist,
  'front waist length': bodice.frontWaistLength,
  'bust height': bodice.bustHeight,
  'bust span': bodice.bustSpan,
  'across back shoulder': bodice.acrossBackShoulder,
  'back neck to wrist': sleeve.backNeckToWrist,
  'shoulder to elbow': sleeve.shoulderToElbow,
  'outer arm length': sleeve.outerArmLength,
  'waist to hip': skirt.waistToHip,
  'skirt length': skirt.skirtLength,
  'skirt length at front': skirt.skirtLengthAtFront,
  'skirt length at side': skirt.skirtLengthAtSide,
  'skirt length at back': skirt.skirtLengthAtBack,
  'crotch depth': trousers.crotchDepth,
  'front crotch length': trousers.frontCrotchLength,
  'back crotch length': trousers.backCrotchLength,
  'crotch length': trousers.crotchLength,
  'waist to knee': trousers.waistToKnee,
  'inside leg length': trousers.insideLegLength,
  'outside leg length': trousers.outsideLegLength,
};

/** Measurements that can be taken on pieces. */
export const takenOnPieces: readonly string[] = Object.keys(table);

/** A body measurement taken on the pieces: once for each part of the garment that shows it, mm. */
export const takeMeasurement = (pattern: Pattern, measurement: string): Taken =>
  table[measurement]?.(pattern) ?? NOTHING_TAKEN;
