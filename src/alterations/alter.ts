import { Bug, type Finding } from '../finding.ts';
import { distance } from '../geometry/point.ts';
import { showLength } from '../measurements/units.ts';
import { type Garment, layOut, settle, tapeAll } from '../paper/garment.ts';
import { fullGrain } from '../paper/grain.ts';
import { mend } from '../paper/mend.ts';
import { NoRoom } from '../paper/no-room.ts';
import { notchesMeet } from '../paper/notches-meet.ts';
import type { Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { coversHip } from '../pattern/round.ts';
import type { Alteration } from './alteration.ts';
import { companionsFollow } from './companions.ts';
import type { Altered, AlterOptions, FollowRecord, LengthShown, Plan, PlannedStep, StepRecord } from './contract.ts';
import { hiddenFindings } from './hidden-marks.ts';
import { alterationCalled } from './index.ts';
import { narrowDarts } from './narrow-darts.ts';
import { inches } from './shares.ts';
import { sleevesFollow } from './sleeves-follow.ts';

/** Usual depth of the hip below the waist where nothing says it: 8 in, with 7 to 9 as the span (sources differ). */
const HIP_DEPTH = inches(8);

/** How far down the side seam the hip is taken where no line marks it, mm. */
export const hipDepth = (pattern: Pattern): number => pattern.draftedFor['waist to hip'] ?? HIP_DEPTH;

/**
 * Carries out a plan: each step on paper, its seams settled with their mates, then sleeves that follow the armholes and
 * bands and facings that follow the edges they are sewn to. The pattern that comes back shares every part that did not change with the one that
 * went in.
 * @throws Bug when the plan names an alteration that does not exist
 */
export const alterPattern = (pattern: Pattern, plan: Plan, options: AlterOptions): Altered =>
  tapePattern(alterOnPaper(pattern, plan, options), options);

/** Tracings as a plan leaves them, before they are taped and drawn again. */
export interface OnPaper {
  readonly garment: Garment;
  /** The garment as it was before the first step of the plan, and after each. */
  readonly stages: readonly Garment[];
  readonly steps: readonly StepRecord[];
  /** What was done that no step asks for. */
  readonly deeds: readonly FollowRecord[];
  readonly findings: readonly Finding[];
}

/** The steps of a plan, done on paper. */
export const alterOnPaper = (pattern: Pattern, plan: Plan, options: AlterOptions): OnPaper => {
  const depth = hipDepth(pattern);
  const findings: Finding[] = [];
  const steps: StepRecord[] = [];
  let garment = layOut(pattern, depth);
  /** Does something on paper; where there is no room for it, notes why and leaves the garment as it was. */
  const onPaper = (name: string, verb: (g: Garment) => Garment): boolean => {
    const done = roomFor(name, () => verb(garment));
    if ('code' in done) findings.push(done);
    else garment = done;
    return !('code' in done);
  };
  const deeds: FollowRecord[] = [];
  if (options.true) {
    const asItCame = garment;
    if (onPaper('mending', mend)) deeds.push(...mendingTold(asItCame, garment, options.show ?? 'mm'));
  }
  if (plan.steps.some((s) => s.alteration !== 'length at the hem')) findings.push(...hipNotes(pattern, depth));
  const stages = [garment];
  for (const step of plan.steps) {
    const alteration = alterationCalled(step.alteration);
    if (!alteration) throw new Bug(`the plan names ${step.alteration}`);
    const touched = new Set(step.shares.map((s) => s.piece));
    if (
      onPaper(step.alteration, (g) =>
        notchesMeet(settle(alteration.alter(g, step), touched, alteration.evenAt), touched),
      )
    ) {
      steps.push({ step, did: whatWasDone(pattern, alteration, step, options.show ?? 'mm') });
    }
    stages.push(garment);
  }
  const sleeved = roomFor('sleeve', () => sleevesFollow(garment, plan, options.show ?? 'mm'));
  if ('code' in sleeved) findings.push(sleeved);
  else {
    garment = sleeved.garment;
    findings.push(...sleeved.findings);
  }
  return { garment, stages, steps, deeds, findings };
};

/** What was done on paper, drawn again as pieces, with the bands and facings that follow. */
export const tapePattern = ({ garment, steps, deeds, findings: told }: OnPaper, options: AlterOptions): Altered => {
  const findings = [...told];
  const taped = tapeAll(garment);
  const companions = roomFor('what follows', () => companionsFollow(garment, taped, options.show ?? 'mm'));
  const after = 'code' in companions ? { pattern: taped, followed: [], findings: [companions] } : companions;
  findings.push(
    ...after.findings,
    ...hiddenFindings(garment, options.show ?? 'mm'),
    ...narrowDarts(garment.pattern, after.pattern, options.show ?? 'mm'),
  );
  const pattern = options.fullGrainline ? fullGrain(after.pattern) : after.pattern;
  return {
    pattern,
    steps,
    followed: [...deeds, ...after.followed, ...grainTold(after.pattern, pattern)],
    findings,
    eased: garment.eased,
  };
};

/** Pieces whose faults were mended, and how far their seam lines went for it. */
const mendingTold = (before: Garment, after: Garment, show: LengthShown): FollowRecord[] =>
  [...after.tracings].flatMap(([id, { piece, seam }]) => {
    const was = before.tracings.get(id)?.seam ?? [];
    // A dart that gets its cap gets points that were not there before.
    const isCapped = seam.length !== was.length;
    const furthest = isCapped ? 0 : Math.max(0, ...seam.map((prick, i) => distance(prick.at, was[i]?.at ?? prick.at)));
    if (!isCapped && furthest < WORTH_TELLING) return [];
    const far = isCapped ? 'darts capped' : `seam line moved by at most ${showLength(furthest, show).text}`;
    return [{ piece: id, did: `${piece.name || id}: faults it came with mended, ${far}` }];
  });

/** A seam line that moved by less was as good as true, mm. */
const WORTH_TELLING = 0.05;

const grainTold = (before: Pattern, after: Pattern): FollowRecord[] =>
  after.pieces
    .filter((piece, i) => piece !== before.pieces[i])
    .map((piece) => ({ piece: piece.id, did: `${piece.name || piece.id}: grainline run through the whole piece` }));

/** What comes of a verb; or, where the paper has no room for it, the finding that says so. */
const roomFor = <T extends object>(alteration: string, verb: () => T): T | Finding => {
  try {
    return verb();
  } catch (fault) {
    if (!(fault instanceof NoRoom)) throw fault;
    return {
      code: 'alter-no-room',
      level: 'error',
      where: { alteration },
      message: `${alteration}: ${fault.message}.`,
      try: 'Ask for less, share the change over more places, or take another size.',
    };
  }
};

/** Where a hip level had to be established, and how. */
const hipNotes = (pattern: Pattern, depth: number): Finding[] =>
  pattern.pieces
    .filter((p) => coversHip(p) && !isMarked(p))
    .map((p) => ({
      code: 'plan-hip-level',
      level: 'note',
      where: { piece: p.id },
      message: `${p.name || p.id}: no hip line is marked; it was taken ${depth.toFixed(0)} mm down the side seam.`,
      try: 'Draw the hip line, or give "levels: hip" in the pattern sheet.',
    }));

/** A hip level that was taken down the side seam says so in its evidence, and has no line. */
const isMarked = (piece: Piece): boolean =>
  piece.levels.some((l) => l.name === 'hip' && (l.line !== undefined || l.confidence > 0.5));

/** What was done, pieces that were altered alike in one line. */
const whatWasDone = (pattern: Pattern, alteration: Alteration, step: PlannedStep, show: LengthShown): string[] => {
  const byDeed = new Map<string, Set<string>>();
  for (const share of step.shares) {
    const deed = alteration.says(share, step, show);
    const name = pattern.pieces.find((p) => p.id === share.piece)?.name || share.piece;
    byDeed.set(deed, (byDeed.get(deed) ?? new Set()).add(name));
  }
  return [...byDeed].map(([deed, pieces]) => `${[...pieces].join(', ')}: ${deed}`);
};
