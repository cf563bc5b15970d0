import { type WriteOptions, writeDraft } from '../../fixtures/blocks/draft/write.ts';
import { alterPattern } from '../../src/alterations/alter.ts';
import type { Alteration } from '../../src/alterations/alteration.ts';
import type { Altered, Plan } from '../../src/alterations/contract.ts';
import { alterations } from '../../src/alterations/index.ts';
import { planFitting } from '../../src/alterations/plan.ts';
import { hasErrors } from '../../src/finding.ts';
import type { Drawing, DrawingChanges, Format } from '../../src/formats/drawing.ts';
import { dxf } from '../../src/formats/dxf/index.ts';
import { svg } from '../../src/formats/svg/index.ts';
import { changesBetween } from '../../src/job/redraw.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { recognise } from '../../src/recognise/index.ts';
import { type Drafted, draftOf } from './garments.ts';

/* A drafted block written to a file and read again, as a user's file would be, and alterations done on it. */

/** What is drafted, and how the file spells it. */
export interface Sample {
  readonly drafted: Drafted;
  readonly write: WriteOptions;
  /** Only these drafted pieces are in the file; all of them when left out. */
  readonly only?: readonly string[];
}

/** A sample as read from its file. */
export interface Laid {
  readonly sample: Sample;
  readonly format: Format;
  readonly fileName: string;
  readonly bytes: Uint8Array;
  readonly drawing: Drawing;
  readonly pattern: Pattern;
}

const formats = { dxf, svg };

export const lay = (sample: Sample): Laid => {
  const draft = draftOf(sample.drafted);
  const pieces = draft.pieces.filter((p) => sample.only?.includes(p.id) ?? true);
  const { fileName, bytes } = writeDraft({ ...draft, pieces }, sample.write);
  const format = formats[sample.write.format];
  const { drawing, pattern } = readAgain(format, bytes, fileName);
  return { sample, format, fileName, bytes, drawing, pattern: { ...pattern, draftedFor: draft.draftedFor } };
};

/** What a file says, read and recognised afresh: nothing of what was meant is handed on to it. */
export const readAgain = (format: Format, bytes: Uint8Array, fileName: string) => {
  const { drawing, findings } = format.read(bytes, { fileName });
  if (!drawing) throw new Error(`not read: ${findings.map((f) => f.message).join(' ')}`);
  return { drawing, pattern: recognise(drawing).pattern };
};

/** One way of doing an alteration: the alteration with one set of choices. */
export interface Deed {
  readonly alteration: Alteration;
  readonly choices: Readonly<Record<string, string>>;
  readonly says: string;
}

/** Every alteration in the catalogue in every way it offers, one choice away from its defaults at a time. */
export const deeds: readonly Deed[] = alterations.flatMap((alteration) => {
  const { name, options } = alteration.card;
  const others = options.flatMap((o): Record<string, string>[] => {
    if (Array.isArray(o.values)) return o.values.filter((v) => v !== o.default).map((v) => ({ [o.name]: v }));
    // Where three lines or tucks are asked for, a choice that makes use of the count has to go with it.
    return o.values === 'count' && o.default !== '3' ? [{ [o.name]: '3' }] : [];
  });
  return [{}, ...others].map((choices: Readonly<Record<string, string>>) => ({
    alteration,
    choices,
    says: [name, ...Object.entries(choices).map(([k, v]) => `${k}=${v}`)].join(' '),
  }));
});

/** By name, so that a failing run tells which in a word. */
export const deedNames: readonly string[] = deeds.map((d) => d.says);
export const deedCalled = (says: string): Deed => deeds.find((d) => d.says === says) as Deed;

export const planDeed = (pattern: Pattern, deed: Deed, amount: number, beyondLimits = false): Plan =>
  planFitting(
    pattern,
    { fitting: 'Walküre', measurements: {}, direct: { [deed.alteration.card.name]: { amount, column: deed.says } } },
    { beyondLimits, choices: { [deed.alteration.card.name]: deed.choices }, show: 'mm' },
  );

/** The whole amount for which a deed without limits is still tried, mm: 2 in. */
const FAR = 50.8;

const takes = (pattern: Pattern, deed: Deed, amount: number): boolean => {
  const plan = planDeed(pattern, deed, amount);
  return !hasErrors(plan.findings) && plan.steps.some((s) => s.shares.length > 0);
};

/** The least that a deed is tried with, mm. */
const LITTLE = 0.5;

/** Whether a pattern has what a deed needs. */
export const takesAnyOf = (pattern: Pattern, deed: Deed, sign: 1 | -1): boolean => takes(pattern, deed, sign * LITTLE);

/** The greatest whole amount of a sign that the plan takes without a refusal, mm; 0 where it takes none. */
export const greatestAmount = (pattern: Pattern, deed: Deed, sign: 1 | -1): number => {
  const known = foundBefore.get(pattern) ?? new Map<string, number>();
  foundBefore.set(pattern, known);
  const key = `${deed.says} ${sign}`;
  const most = known.get(key) ?? findGreatest(pattern, deed, sign);
  known.set(key, most);
  return most;
};

const foundBefore = new WeakMap<Pattern, Map<string, number>>();

const findGreatest = (pattern: Pattern, deed: Deed, sign: 1 | -1): number => {
  if (!takesAnyOf(pattern, deed, sign)) return 0;
  // A length goes over ever more lines, so its limit is none; past 2 in a short flared skirt runs out of room to stay fair.
  let [low, high] = [LITTLE, deed.alteration.stage === 'length' ? FAR : FAR * 3];
  if (deed.alteration.card.limits.length === 0) return FAR;
  if (takes(pattern, deed, sign * high)) return high;
  // To a twentieth of a millimetre.
  for (let i = 0; i < 12; i++) {
    const middle = (low + high) / 2;
    if (takes(pattern, deed, sign * middle)) low = middle;
    else high = middle;
  }
  return low;
};

/** A deed done on a file, and the file that comes of it. */
export interface Done {
  readonly plan: Plan;
  readonly altered: Altered;
  readonly changes: DrawingChanges;
  readonly bytes: Uint8Array;
}

export const carryOutPlan = (laid: Laid, plan: Plan): Done => {
  const altered = alterPattern(laid.pattern, plan, { true: false, fullGrainline: false });
  const changes = changesBetween(laid.drawing, laid.pattern, altered.pattern);
  const { bytes } = laid.format.patch(laid.drawing, changes);
  return { plan, altered, changes, bytes };
};

export const carryOut = (laid: Laid, deed: Deed, amount: number, beyondLimits = false): Done =>
  carryOutPlan(laid, planDeed(laid.pattern, deed, amount, beyondLimits));

export const alterOnly = (pattern: Pattern, deed: Deed, amount: number, beyondLimits = false): Altered =>
  alterPattern(pattern, planDeed(pattern, deed, amount, beyondLimits), { true: false, fullGrainline: false });
