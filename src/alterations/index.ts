import { abdomen } from './abdomen.ts';
import type { Alteration } from './alteration.ts';
import { armholeDepth } from './armhole-depth.ts';
import { armholeGape } from './armhole-gape.ts';
import { backCrotchLength } from './back-crotch-length.ts';
import { backWaistLength } from './back-waist-length.ts';
import { backWidth } from './back-width.ts';
import { bodiceSwayBack } from './bodice-sway-back.ts';
import { bust } from './bust.ts';
import { bustHeight } from './bust-height.ts';
import { capHeight } from './cap-height.ts';
import { chestWidth } from './chest-width.ts';
import type { AlterationCard } from './contract.ts';
import { crotchDepth } from './crotch-depth.ts';
import { dartMerge } from './dart-merge.ts';
import { dartMove } from './dart-move.ts';
import { elbow } from './elbow.ts';
import { frontCrotchLength } from './front-crotch-length.ts';
import { frontWaistLength } from './front-waist-length.ts';
import { hip } from './hip.ts';
import { hipSlope } from './hip-slope.ts';
import { legTilt } from './leg-tilt.ts';
import { lengthAboveElbow } from './length-above-elbow.ts';
import { lengthAboveKnee } from './length-above-knee.ts';
import { lengthAtHem } from './length-at-hem.ts';
import { lengthAtLine } from './length-at-line.ts';
import { lengthBelowElbow } from './length-below-elbow.ts';
import { lengthBelowKnee } from './length-below-knee.ts';
import { neck } from './neck.ts';
import { necklineGape } from './neckline-gape.ts';
import { oneHighHip } from './one-high-hip.ts';
import { oneLargerHip } from './one-larger-hip.ts';
import { roundBack } from './round-back.ts';
import { seat } from './seat.ts';
import { shoulderSlope } from './shoulder-slope.ts';
import { shoulderWidth } from './shoulder-width.ts';
import { swayBack } from './sway-back.ts';
import { thigh } from './thigh.ts';
import { unevenLength } from './uneven-length.ts';
import { upperArm } from './upper-arm.ts';
import { waist } from './waist.ts';
import { waistToHip } from './waist-to-hip.ts';
import { wrist } from './wrist.ts';

export { alterationCodes } from './codes.ts';

/** Every alteration, in the order of the trade: lengths, widths, shape. */
export const alterations: readonly Alteration[] = [
  frontWaistLength,
  backWaistLength,
  waistToHip,
  lengthAtLine,
  lengthAtHem,
  unevenLength,
  crotchDepth,
  lengthAboveKnee,
  lengthBelowKnee,
  lengthAboveElbow,
  lengthBelowElbow,
  waist,
  hip,
  oneLargerHip,
  bust,
  backWidth,
  chestWidth,
  shoulderWidth,
  neck,
  thigh,
  upperArm,
  wrist,
  abdomen,
  seat,
  swayBack,
  hipSlope,
  oneHighHip,
  capHeight,
  elbow,
  bustHeight,
  shoulderSlope,
  armholeDepth,
  frontCrotchLength,
  backCrotchLength,
  legTilt,
  roundBack,
  bodiceSwayBack,
  necklineGape,
  armholeGape,
  dartMove,
  dartMerge,
];

export const catalogue: readonly AlterationCard[] = alterations.map((a) => a.card);

export const alterationCalled = (name: string): Alteration | undefined => alterations.find((a) => a.card.name === name);

/** Every name under which an amount can be given, with the sign it stands for: 'flat abdomen' is a negative abdomen. */
export const alterationColumns = (): readonly { name: string; canonical: string; sign: 1 | -1 }[] =>
  catalogue.flatMap((card) => [
    { name: card.name, canonical: card.name, sign: 1 as const },
    ...card.synonyms.map((s) => ({ name: s.name, canonical: card.name, sign: s.sign })),
  ]);
