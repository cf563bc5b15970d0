import { expect } from 'vitest';
import { hasErrors } from '../../src/finding.ts';
import { readBack } from '../../src/job/readback.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { type Done, type Laid, readAgain } from './laying.ts';

/** The written file measured: its lines as they are in it. What an alteration drew anew is known from the pattern only. */
export const written = (laid: Laid, done: Done): Pattern => {
  const again = readAgain(laid.format, done.bytes, laid.fileName);
  const back = readBack(done.altered.pattern, laid.drawing, again.drawing);
  expect(hasErrors(back.findings), back.findings.map((f) => f.message).join(' ')).toBe(false);
  // Where nothing was drawn anew, the file is recognised from the beginning, as a stranger would.
  return done.changes.additions.length === 0 ? again.pattern : back.pattern;
};

/** Chords that stand for a curve lose by their sag, and lose otherwise when the curve has changed: on each edge, mm. */
export const chordLoss = (laid: Laid): number =>
  ['apparel', 'polylines'].includes(laid.sample.write.variant) ? 0.05 : 0;
