import { abdomen } from './abdomen.ts';
import type { Alteration } from './alteration.ts';
import type { AlterationCard } from './contract.ts';
import { hip } from './hip.ts';
import { hipSlope } from './hip-slope.ts';
import { lengthAtHem } from './length-at-hem.ts';
import { lengthAtLine } from './length-at-line.ts';
import { seat } from './seat.ts';
import { swayBack } from './sway-back.ts';
import { unevenLength } from './uneven-length.ts';
import { waist } from './waist.ts';
import { waistToHip } from './waist-to-hip.ts';

export { alterationCodes } from './codes.ts';

/** Every alteration, in the order of the trade: lengths, widths, shape. */
export const alterations: readonly Alteration[] = [
  waistToHip,
  lengthAtLine,
  lengthAtHem,
  unevenLength,
  waist,
  hip,
  abdomen,
  seat,
  swayBack,
  hipSlope,
];

export const catalogue: readonly AlterationCard[] = alterations.map((a) => a.card);

export const alterationCalled = (name: string): Alteration | undefined => alterations.find((a) => a.card.name === name);

/** Every name under which an amount can be given, with the sign it stands for: 'flat abdomen' is a negative abdomen. */
export const alterationColumns = (): readonly { name: string; canonical: string; sign: 1 | -1 }[] =>
  catalogue.flatMap((card) => [
    { name: card.name, canonical: card.name, sign: 1 as const },
    ...card.synonyms.map((s) => ({ name: s.name, canonical: card.name, sign: s.sign })),
  ]);
