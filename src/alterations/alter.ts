import { Bug, type Finding } from '../finding.ts';
import { followBands } from '../paper/follow-band.ts';
import { type Garment, layOut, settle, tapeAll } from '../paper/garment.ts';
import { fullGrain } from '../paper/grain.ts';
import { mend } from '../paper/mend.ts';
import { NoRoom } from '../paper/no-room.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { goesRound } from '../pattern/round.ts';
import type { Alteration } from './alteration.ts';
import type { Altered, AlterOptions, LengthShown, Plan, PlannedStep, StepRecord } from './contract.ts';
import { alterationCalled } from './index.ts';
import { inches } from './shares.ts';

/** Usual depth of the hip below the waist where nothing says it: 8 in, with 7 to 9 as the span (sources differ). */
const HIP_DEPTH = inches(8);

/**
 * Carries out a plan: each step on paper, its seams settled with their mates, then bands that follow the waist. The
 * pattern that comes back shares every part that did not change with the one that went in.
 * @throws Bug when the plan names an alteration that does not exist
 */
export const alterPattern = (pattern: Pattern, plan: Plan, options: AlterOptions): Altered => {
  const depth = pattern.draftedFor['waist to hip'] ?? HIP_DEPTH;
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
  if (options.true) onPaper('mending', mend);
  if (plan.steps.some((s) => s.alteration !== 'length at the hem')) findings.push(...hipNotes(pattern, depth));
  for (const step of plan.steps) {
    const alteration = alterationCalled(step.alteration);
    if (!alteration) throw new Bug(`the plan names ${step.alteration}`);
    const touched = new Set(step.shares.map((s) => s.piece));
    if (onPaper(step.alteration, (g) => settle(alteration.alter(g, step), touched, alteration.evenAt))) {
      steps.push({ step, did: whatWasDone(pattern, alteration, step, options.show ?? 'mm') });
    }
  }
  const taped = tapeAll(garment);
  const followed = roomFor('waistband', () => followBands(pattern, taped));
  const banded = 'code' in followed ? { pattern: taped, findings: [followed] } : followed;
  findings.push(...banded.findings, ...hiddenFindings(garment));
  return { pattern: options.fullGrainline ? fullGrain(banded.pattern) : banded.pattern, steps, findings };
};

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

/** Marks that lay in a tuck. */
const hiddenFindings = (garment: Garment): Finding[] =>
  [...new Set(garment.hidden.map((h) => h.piece))].map((piece) => ({
    code: 'alter-hidden-in-tuck',
    level: 'warning',
    where: { piece },
    message: `${garment.hidden.filter((h) => h.piece === piece).length} mark(s) or texts lay where the tuck is folded; they lie on the fold now.`,
    try: 'Look at the place and set the marks again, or shorten at the hem.',
  }));

/** Where a hip level had to be established, and how. */
const hipNotes = (pattern: Pattern, depth: number): Finding[] =>
  pattern.pieces
    .filter((p) => goesRound(p) && !p.levels.some((l) => l.name === 'hip'))
    .map((p) => ({
      code: 'plan-hip-level',
      level: 'note',
      where: { piece: p.id },
      message: `${p.name || p.id}: no hip line is marked; it was taken ${depth.toFixed(0)} mm down the side seam.`,
      try: 'Draw the hip line, or give "levels: hip" in the pattern sheet.',
    }));

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
