import { describe, expect, it } from 'vitest';
import { draftDress, SAMPLE_DRESS_BODY } from '../../fixtures/blocks/draft/dress.ts';
import { hip } from '../../src/alterations/hip.ts';
import { waist } from '../../src/alterations/waist.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';

const drafted = patternOf(draftDress(SAMPLE_DRESS_BODY, {}));
const unmarked: Pattern = {
  ...drafted,
  pieces: drafted.pieces.map((p) => ({ ...p, levels: p.levels.filter((l) => l.name !== 'waist') })),
};

describe('a dress in one piece whose waist is not known', () => {
  it.each([waist, hip])('is refused, not altered at some other height', (alteration) => {
    const options = Object.fromEntries(alteration.card.options.map((o) => [o.name, o.default]));
    const request = { amount: 20, options, beyondLimits: false, show: 'mm' as const };
    const codes = (pattern: Pattern) => alteration.divide({ ...request, pattern }).findings.map((f) => f.code);
    expect(codes(drafted)).toEqual([]);
    expect(codes(unmarked)).toEqual(['plan-missing-piece', 'plan-missing-piece']);
  });
});
