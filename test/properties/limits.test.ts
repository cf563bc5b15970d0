import { describe, expect, it } from 'vitest';
import { alterations } from '../../src/alterations/index.ts';
import { hasErrors } from '../../src/finding.ts';
import { signedArea } from '../../src/geometry/path.ts';
import { closedPath } from './comparing.ts';
import { oneOfEach } from './garments.ts';
import { alterOnly, deeds, planDeed, takesAnyOf } from './laying.ts';
import { layOnce, sampleFrom, sampleOf } from './samples.ts';

/* What is past the customary most is refused, unless it is asked for in so many words; then it is done and told. */

const samples = [
  sampleOf({ flare: 50, darts: 'outline', back: 'centre seam' }),
  ...oneOfEach.map(([, drafted]) => sampleFrom(drafted)),
];
/** What a tape does not tell from the most is within it, mm: 1/64 in. */
const ROUNDING = 25.4 / 64 + 0.01;
const amounts = [5, 15, 30, 60, 110, 220].flatMap((a) => [a, -a]);

describe.each(deeds.map((d) => [d.says, d] as const))('%s', (_, deed) => {
  it('is refused past its limit, and done and told with --beyond-limits', () => {
    for (const { pattern } of samples.map(layOnce)) {
      for (const amount of amounts) {
        const plan = planDeed(pattern, deed, amount);
        const shares = plan.steps.flatMap((s) => s.shares);
        const over = shares.filter((s) => Math.abs(s.amount) > s.most + ROUNDING);
        const refused = plan.findings.filter((f) => f.level === 'error');
        if (over.length > 0) expect(refused.map((f) => f.code)).toContain('plan-past-limit');
        for (const f of refused) expect(f.try, f.code).not.toBe('');
        if (over.length === 0) continue;
        const beyond = planDeed(pattern, deed, amount, true);
        if (hasErrors(beyond.findings)) continue;
        expect(beyond.findings.map((f) => f.code)).toContain('plan-beyond-limit');
      }
    }
  });
});

describe.each(alterations.filter((a) => a.card.limits.length > 0).map((a) => [a.card.name, a] as const))(
  '%s',
  (_, alteration) => {
    it('goes a tenth past its limit when told to', () => {
      const deed = deeds.find((d) => d.alteration === alteration && Object.keys(d.choices).length === 0);
      if (!deed) throw new Error('no deed');
      const pattern = samples
        .map((s) => layOnce(s).pattern)
        .find((p) => takesAnyOf(p, deed, 1) || takesAnyOf(p, deed, -1));
      if (!pattern) throw new Error('no garment takes it');
      const whole = [1, -1].flatMap((sign) => {
        const [share] = planDeed(pattern, deed, sign, true).steps.flatMap((s) => s.shares);
        return share ? [((sign * share.most) / Math.abs(share.amount)) * 1.1] : [];
      });
      for (const amount of whole) {
        const altered = alterOnly(pattern, deed, amount, true);
        const errors = altered.findings.filter((f) => f.level === 'error');
        // What no paper has room for (a dart narrower than nothing) stays undone, and is told.
        expect(errors.filter((f) => f.code !== 'alter-no-room')).toEqual([]);
        expect(altered.steps).toHaveLength(1 - errors.length);
        if (errors.length > 0) continue;
        for (const p of altered.pattern.pieces) expect(signedArea(closedPath(p.seamLine))).toBeGreaterThan(0);
        expect(altered.pattern).not.toEqual(pattern);
      }
    });
  },
);
