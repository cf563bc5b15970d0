import type { BodiceOptions } from '../../fixtures/blocks/draft/bodice.ts';
import { draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { BodiceBody } from '../../fixtures/blocks/draft/bodice-body.ts';
import type { Body, Draft } from '../../fixtures/blocks/draft/draft.ts';
import type { DressBody, DressOptions } from '../../fixtures/blocks/draft/dress.ts';
import { draftDress, draftTieredDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { draftSkirt, SAMPLE_BODY, type SkirtOptions } from '../../fixtures/blocks/draft/skirt.ts';
import {
  draftTrousers,
  SAMPLE_TROUSER_BODY,
  type TrouserBody,
  type TrouserOptions,
} from '../../fixtures/blocks/draft/trousers.ts';

/* The garments that alterations are tried on: what each is drafted from, and with which choices. */

/** A garment drafted for a body, with its choices, in one value. */
export type Drafted =
  | { readonly garment: 'skirt'; readonly body: Body; readonly block: SkirtOptions }
  | { readonly garment: 'bodice'; readonly body: BodiceBody; readonly block: BodiceOptions }
  | { readonly garment: 'trousers'; readonly body: TrouserBody; readonly block: TrouserOptions }
  | { readonly garment: 'dress'; readonly body: DressBody; readonly block: DressOptions }
  | { readonly garment: 'dress in two tiers'; readonly body: DressBody; readonly block: DressOptions };

export type GarmentName = Drafted['garment'];

export const draftOf = (drafted: Drafted): Draft => {
  switch (drafted.garment) {
    case 'skirt':
      return draftSkirt(drafted.body, drafted.block);
    case 'bodice':
      return draftBodice(drafted.body, drafted.block);
    case 'trousers':
      return draftTrousers(drafted.body, drafted.block);
    case 'dress':
      return draftDress(drafted.body, drafted.block);
    case 'dress in two tiers':
      return draftTieredDress(drafted.body, drafted.block);
  }
};

/** The sample body in each of these, with the choices given. */
export const skirt = (block: SkirtOptions = {}): Drafted => ({ garment: 'skirt', body: SAMPLE_BODY, block });
export const bodice = (block: BodiceOptions = {}): Drafted => ({ garment: 'bodice', body: SAMPLE_BODICE_BODY, block });
export const trousers = (block: TrouserOptions = {}): Drafted => ({
  garment: 'trousers',
  body: SAMPLE_TROUSER_BODY,
  block,
});
export const dress = (block: DressOptions = {}): Drafted => ({ garment: 'dress', body: SAMPLE_DRESS_BODY, block });
export const tieredDress = (block: DressOptions = {}): Drafted => ({
  garment: 'dress in two tiers',
  body: SAMPLE_DRESS_BODY,
  block,
});

/** One block of each kind that alterations treat in their own way, so that together they can take every alteration. */
export const oneOfEach: readonly (readonly [string, Drafted])[] = [
  ['skirt', skirt({ flare: 30 })],
  ['skirt drawn whole', skirt({ whole: true })],
  ['bodice', bodice()],
  ['bodice, darts in the outline, back seam', bodice({ darts: 'outline', back: 'centre seam', elbowDart: 20 })],
  ['bodice with panels and a sleeve in two pieces', bodice({ panels: true, sleeve: 'two pieces' })],
  ['trousers', trousers()],
  ['dress', dress()],
];
