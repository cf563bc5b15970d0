import { partAtElbow } from '../pattern/taking/sleeve.ts';
import { askedBy, type Change, type Chosen, chosen } from './asked.ts';
import type { PlanOptions } from './contract.ts';
import type { Family } from './lengths-asked.ts';

/**
 * Upper arm and elbow. A change at the biceps runs out evenly down the sleeve seams, to nothing at the wrist, and gives
 * the elbow its part on the way. Where the elbow was measured too, as much of it runs to the wrist as the elbow needs,
 * and the rest runs out at the elbow.
 */
export const armGirths: Family = {
  measurements: ['upper-arm girth', 'elbow girth'],
  choose: (changes, pattern, options) => {
    const arm = changes.get('upper-arm girth');
    const elbow = changes.get('elbow girth');
    const part = elbow && partAtElbow(pattern);
    if (elbow && part !== undefined && !isChosen(options)) return bothAsked(arm, elbow, part);
    return arm ? chosen([askedBy(arm, 'upper arm', { net: arm.needed })], arm) : chosen([]);
  },
};

/** What the elbow gets on the way to the wrist is right when it is so near, mm at the biceps: 1/32 in. */
const ALIKE = 25.4 / 32;

const bothAsked = (arm: Change | undefined, elbow: Change, part: number): Chosen => {
  if (arm && Math.abs(arm.needed - elbow.needed / part) < ALIKE) {
    return chosen([askedBy(arm, 'upper arm', { net: arm.needed, options: { to: 'wrist' } })], arm, elbow);
  }
  const down = elbow.amount / part;
  const rest = (arm?.amount ?? 0) - down;
  // Both are done at the biceps, and together they come to what the arm needs there.
  const net = Math.abs(arm?.needed ?? 0) > Math.abs(elbow.needed) ? (arm as Change).needed : elbow.needed;
  return chosen(
    [
      askedBy(elbow, 'upper arm', {
        amount: down,
        part: 1 / part,
        net,
        options: { to: 'wrist' },
        why: 'which runs down to the wrist and gives the elbow its part on the way',
      }),
      askedBy(arm ?? elbow, 'upper arm', {
        amount: rest,
        part: arm ? 1 : 0,
        net,
        options: { to: 'elbow' },
        why: arm ? 'the rest of it, to nothing at the elbow' : 'so that the upper arm stays',
      }),
    ],
    arm,
    elbow,
  );
};

/** Whoever chooses how the upper arm is done decides what becomes of the elbow. */
const isChosen = ({ choices }: PlanOptions): boolean =>
  choices['upper arm']?.to !== undefined || choices['upper arm']?.method === 'underarm seam';
