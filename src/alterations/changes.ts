import type { Finding } from '../finding.ts';
import { crotchDepthEase } from '../measurements/ease.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { rounds } from '../pattern/round.ts';
import { type Taken, takeMeasurement } from '../pattern/taking/index.ts';
import type { Change } from './asked.ts';
import type { Needs, Origin } from './contract.ts';
import { drives } from './driving.ts';
import { SKIRT_LENGTHS } from './skirt-length.ts';
import { onUnknownAllowance } from './unknown-allowance.ts';

/** What the measurements given ask of a pattern, one by one, and which of them say nothing about it. */
export const changesAsked = (
  pattern: Pattern,
  needs: Needs,
): { readonly changes: readonly Change[]; readonly findings: readonly Finding[] } => {
  const read = Object.entries(needs.measurements).map(([measurement, wearer]) =>
    changeOf(pattern, needs, measurement, wearer),
  );
  const stray = Object.keys(needs.ease ?? {}).filter((m) => needs.measurements[m] === undefined);
  return {
    changes: read.filter((r): r is Change => r !== undefined && 'origin' in r),
    findings: [...read.filter((r): r is Finding => r !== undefined && 'code' in r), ...stray.map(easeWithoutBody)],
  };
};

/** Whether a measurement can change this pattern: an alteration answers to it, and the pieces show it. */
export const canUse = (pattern: Pattern, measurement: string): boolean =>
  drives(measurement) && isShown(takeMeasurement(pattern, ALONG_WITH[measurement] ?? measurement));

const changeOf = (
  pattern: Pattern,
  needs: Needs,
  measurement: string,
  wearer: number,
): Change | Finding | undefined => {
  if (measurement === ONLY_FOR_CHECKS) return undefined;
  const along = ALONG_WITH[measurement];
  if (along !== undefined && needs.measurements[along] === undefined) return unused(measurement);
  const taken = takeMeasurement(pattern, along ?? measurement);
  if (!drives(measurement)) return onlyLookedAt(pattern, taken, measurement, wearer);
  if (!isShown(taken) && isKnownGarment(pattern)) return unused(measurement);
  const asked = needs.ease?.[measurement];
  const draftedFor = pattern.draftedFor[measurement];
  if (asked !== undefined) return byEase(pattern, taken, measurement, wearer, asked);
  if (draftedFor !== undefined) {
    return changeFor({ kind: 'measurement', measurement, wearer, draftedFor }, wearer - draftedFor);
  }
  if (FINISHED.has(measurement) && taken.takings.length > 0) return byEase(pattern, taken, measurement, wearer, 0);
  const usual = usualEase(pattern, needs, measurement);
  return usual === undefined
    ? notDraftedFor(measurement, taken)
    : byEase(pattern, taken, measurement, wearer, usual, DEPTH_RULE);
};

/** Known so that a table can be checked by it; no piece shows it, and nobody expects that. */
const ONLY_FOR_CHECKS = 'stature';

/** Measurements that only say how another is shared out. */
const ALONG_WITH: Readonly<Record<string, string>> = { 'high bust girth': 'bust girth' };

/** Lengths of the finished garment have no ease: where nothing says what was drafted, the pieces do. */
const FINISHED: ReadonlySet<string> = new Set([...SKIRT_LENGTHS, 'inside leg length', 'outside leg length']);

/** Nothing is altered for it, but the pieces show whether it is met. */
const onlyLookedAt = (
  pattern: Pattern,
  taken: Taken,
  measurement: string,
  wearer: number,
): Change | Finding | undefined => {
  const draftedFor = pattern.draftedFor[measurement];
  if (taken.takings.length === 0) return unused(measurement);
  if (draftedFor === undefined) return undefined;
  return changeFor({ kind: 'measurement', measurement, wearer, draftedFor }, wearer - draftedFor);
};

const isShown = ({ takings, lacks }: Taken): boolean => takings.length + lacks.length > 0;

/** Where nothing is known of the garment, a measurement is not dropped: the alteration says what it misses. */
const isKnownGarment = (pattern: Pattern): boolean =>
  rounds(pattern).length > 0 || pattern.pieces.some((p) => p.part.includes('sleeve'));

const changeFor = (origin: Exclude<Origin, { kind: 'direct' }>, amount: number): Change => ({
  measurement: origin.measurement,
  amount,
  needed: amount,
  origin,
});

/** Needed change = body + ease − what the pattern measures. */
const byEase = (
  pattern: Pattern,
  taken: Taken,
  measurement: string,
  wearer: number,
  ease: number,
  rule?: string,
): Change | Finding => {
  const [taking] = taken.takings;
  if (!taking) return cannotTake(measurement, taken);
  const unknown = onUnknownAllowance(pattern, measurement, taken);
  if (unknown) return unknown;
  const { mm } = taking;
  const told = rule === undefined ? {} : { rule };
  const origin = { kind: 'ease', measurement, wearer, ease, pattern: mm, ...told } as const;
  return changeFor(origin, wearer + ease - mm);
};

/**
 * Ease that a rule adds where the pattern does not say which body it was drafted for. Only the crotch depth has one
 * (New Mexico State University, Guide C-209): where the pattern does say it, its ease is in it already and is not
 * counted twice.
 */
const usualEase = (pattern: Pattern, needs: Needs, measurement: string): number | undefined => {
  const hip = needs.measurements['hip girth'] ?? pattern.draftedFor['hip girth'];
  return measurement === 'crotch depth' && hip !== undefined ? crotchDepthEase(hip) : undefined;
};

const DEPTH_RULE = 'rule: New Mexico State University, Guide C-209';

const unused = (measurement: string): Finding => ({
  code: 'plan-measurement-unused',
  level: 'note',
  where: { cell: measurement },
  message: `No alteration of this pattern uses the ${measurement}; it was left out.`,
  try: 'retrue catalogue shows which measurement drives which alteration.',
});

const notDraftedFor = (measurement: string, { takings }: Taken): Finding => ({
  code: 'plan-not-drafted-for',
  level: 'error',
  where: { cell: measurement },
  message: `The pattern does not say which ${measurement} it was drafted for.`,
  try: `Give it with --drafted '${measurement}=…', or under "drafted for" in the pattern sheet${takings.length > 0 ? `; or say what ease it is to have: --ease '${measurement}=…'` : ''}.`,
});

const cannotTake = (measurement: string, { lacks }: Taken): Finding => ({
  code: 'plan-cannot-measure',
  level: 'error',
  where: { cell: measurement, ...(lacks[0] ? { piece: lacks[0].piece } : {}) },
  message: `The ${measurement} cannot be taken on the pattern${lacks[0] ? `: ${lacks[0].name} has ${lacks[0].what}` : ''}, so its ease cannot be set.`,
  try: lacks[0]?.remedy ?? `Say what the pattern was drafted for: --drafted '${measurement}=…'.`,
});

const easeWithoutBody = (measurement: string): Finding => ({
  code: 'plan-ease-without-body',
  level: 'warning',
  where: { cell: measurement },
  message: `Ease is asked for at the ${measurement}, and the wearer's own is not given; it was left out.`,
  try: `Give the wearer's ${measurement}.`,
});
