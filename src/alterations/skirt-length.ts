import type { Finding } from '../finding.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { goesRound } from '../pattern/round.ts';
import { type Asked, notDraftedFor } from './asked.ts';
import type { Needs, PlanOptions } from './contract.ts';

/** Lengths to the hem, measured at one seam each. */
const PLACES = {
  'skirt length at front': 'front',
  'skirt length at side': 'side',
  'skirt length at back': 'back',
} as const;

/**
 * What lengths to the hem call for: a change that is the same all round at the adjustment line (at the hem where no
 * piece has one), and what one seam has over it as uneven length. Where only single seams are measured, the least
 * change among them is the same all round.
 */
export const lengthsAsked = (
  pattern: Pattern,
  needs: Needs,
  options: PlanOptions,
): { asked: Asked[]; findings: Finding[]; used: ReadonlySet<string> } => {
  const used = new Set<string>();
  const asked: Asked[] = [];
  const findings: Finding[] = [];
  const names = ['skirt length', ...Object.keys(PLACES)].filter((n) => needs.measurements[n] !== undefined);
  for (const n of names) used.add(n);
  const missing = names.filter((n) => pattern.draftedFor[n] === undefined);
  findings.push(...missing.map(notDraftedFor));
  const changes = names
    .filter((n) => !missing.includes(n))
    .map((n) => {
      const wearer = needs.measurements[n] as number;
      const draftedFor = pattern.draftedFor[n] as number;
      return {
        name: n,
        change: wearer - draftedFor,
        origin: { kind: 'measurement', measurement: n, wearer, draftedFor } as const,
      };
    });
  if (changes.length === 0) return { asked, findings, used };
  const least = changes.reduce((a, b) => (Math.abs(b.change) < Math.abs(a.change) ? b : a));
  const round = changes.find((c) => c.name === 'skirt length') ?? least;
  asked.push({ alteration: roundAlteration(pattern, options), amount: round.change, origin: round.origin });
  for (const c of changes) {
    if (c === round || !(c.name in PLACES)) continue;
    asked.push({
      alteration: 'uneven length',
      amount: c.change - round.change,
      origin: c.origin,
      options: { at: PLACES[c.name as keyof typeof PLACES] },
    });
  }
  return { asked, findings, used };
};

/** At the line where there is one, which keeps the sweep; else at the hem. */
const roundAlteration = (pattern: Pattern, options: PlanOptions): string => {
  const lined = pattern.pieces.filter(goesRound).some((p) => p.adjustmentLines.length > 0);
  return lined && options.choices['length at the hem'] === undefined
    ? 'length at the adjustment line'
    : 'length at the hem';
};
