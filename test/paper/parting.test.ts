import { describe, expect, it } from 'vitest';
import { draftSkirt, SAMPLE_BODY } from '../../fixtures/blocks/draft/skirt.ts';
import { distance, type Point, turn } from '../../src/geometry/point.ts';
import { blendKink, closeLips, evenly, priorOf } from '../../src/paper/joining.ts';
import { movePart, partAlong } from '../../src/paper/parting.ts';
import { edgeRun, pointsOf, sewnLength } from '../../src/paper/runs.ts';
import { shiftBy, swingAbout } from '../../src/paper/slash.ts';
import { tape } from '../../src/paper/tape.ts';
import { type Tracing, trace } from '../../src/paper/tracing.ts';
import { patternOf } from '../drafted.ts';

const front = patternOf(draftSkirt(SAMPLE_BODY, {})).pieces.find((p) => p.part === 'skirt front');
if (!front) throw new Error('no front');
const tracing = trace(front);
const ends = (t: Tracing, id: string): Point[] =>
  [pointsOf(t, edgeRun(t, id))[0], pointsOf(t, edgeRun(t, id)).at(-1)] as Point[];
const hem = ends(tracing, 'hem');
const bottom = { x: ((hem[0] as Point).x + (hem[1] as Point).x) / 2, y: (hem[0] as Point).y };
/** From the middle of the hem up to the tip of nothing, and out to the side seam: a part that hinges on the side. */
const path = [bottom, { x: bottom.x, y: -300 }, { x: 1000, y: -300 }];

describe('a slash that runs any way across the piece', () => {
  it('parts the seam into what stays and what moves, with a prick on each lip', () => {
    const parted = partAlong(tracing, path);
    expect(parted.tracing.seam.length).toBe(tracing.seam.length + 4);
    const { from, to } = parted;
    expect(distance(from.at, bottom)).toBeLessThan(0.01);
    expect(from.lips && to.lips).toBeDefined();
    for (const i of parted.part) {
      const p = (parted.tracing.seam[i] as { at: Point }).at;
      expect(p.x).toBeGreaterThan(bottom.x - 1e-6);
      expect(p.y).toBeLessThan(-299);
    }
  });

  it('is a no-op when the part moves by nothing', () => {
    const parted = partAlong(tracing, path);
    const still = closeLips(movePart(parted, shiftBy({ x: 0, y: 0 })), parted, { from: 'open', to: 'open' });
    expect(still.seam.every((p, i) => p === tracing.seam[i])).toBe(true);
  });

  it('moves the part as a stiff body: distances within it are kept', () => {
    const parted = partAlong(tracing, path);
    const swung = movePart(parted, swingAbout(parted.to.at, 0.1));
    for (const i of parted.part) {
      const was = (parted.tracing.seam[i] as { at: Point }).at;
      expect(distance((swung.seam[i] as { at: Point }).at, turn(was, 0.1, parted.to.at))).toBeLessThan(1e-9);
    }
  });

  it('closes up: the hinge on the side is blended, the hem drawn through to its new end, and the piece taped', () => {
    const parted = partAlong(tracing, path);
    const prior = priorOf(parted.tracing);
    const swung = movePart(parted, swingAbout(parted.to.at, 0.03));
    const closed = closeLips(swung, parted, { from: 'open', to: 'hinge' });
    const hemmed = evenly(closed, prior, edgeRun(closed, 'hem'));
    const blended = blendKink(hemmed, prior, 'side', parted.to.at);
    expect(Math.abs(sewnLength(blended, 'side') - sewnLength(tracing, 'side'))).toBeLessThan(0.5);
    const points = pointsOf(blended, edgeRun(blended, 'hem'));
    expect(distance(points.at(-1) as Point, turn(hem[1] as Point, 0.03, parted.to.at))).toBeLessThan(1e-6);
    expect(tape(blended).seamLine.spans.length).toBe(front.seamLine.spans.length);
  });
});
