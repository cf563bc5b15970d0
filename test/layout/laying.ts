import { join } from 'node:path';
import { boundsOfPoints } from '../../src/geometry/bounds.ts';
import { areaOf, intersectionArea } from '../../src/geometry/clip.ts';
import { flatten } from '../../src/geometry/flatten.ts';
import type { Point } from '../../src/geometry/point.ts';
import { transformPath } from '../../src/geometry/transform.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import type { ArrangeOptions, PlacedPiece } from '../../src/layout/arrange.ts';
import { placing } from '../../src/layout/draw.ts';
import type { LayOutOptions } from '../../src/layout/lay-out.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';

export const BLOCKS = join(import.meta.dirname, '../../fixtures/blocks');

export const patternOf = async (name: string): Promise<Pattern> => {
  const { file } = await readPatternFile(join(BLOCKS, name), {});
  if (!file) throw new Error(`${name} cannot be read`);
  return file.pattern;
};

export const ARRANGE: ArrangeOptions = { lay: 'paper', nap: false, height: 900, gap: 5, effort: 150, seed: 1 };

export const LAY_OUT: LayOutOptions = {
  ...{ title: 'Test', words: ['one', 'two'], lay: 'paper', line: 'cutting', counting: 'as cut', nap: false, gap: 5 },
  ...{ margins: { left: 5, right: 5, top: 5, bottom: 5 }, effort: 150, seed: 1, guides: true, overlap: 15 },
  clothWidth: 1500,
};

/** The outline where it lies, as a ring of chords. */
export const ringOf = (piece: PlacedPiece): Point[] =>
  flatten(transformPath(placing(piece), piece.template.outline), 0.1);

/** Greatest area two pieces have in common, as a share of the smaller: looked at pair by pair. */
export const worstOverlap = (rings: readonly (readonly Point[])[]): number => {
  let worst = 0;
  rings.forEach((a, i) => {
    for (const b of rings.slice(i + 1)) {
      const [p, q] = [boundsOfPoints(a), boundsOfPoints(b)];
      if (p.maxX < q.minX || q.maxX < p.minX || p.maxY < q.minY || q.maxY < p.minY) continue;
      const [one, other] = [a, b].map((r) => (areaOf([r]) < 0 ? r.toReversed() : r)) as [Point[], Point[]];
      const common = Math.abs(areaOf(intersectionArea([one], [other])));
      worst = Math.max(worst, common / Math.min(areaOf([one]), areaOf([other])));
    }
  });
  return worst;
};
