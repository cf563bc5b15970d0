import type { Finding } from '../finding.ts';
import type { Drawable, PathDrawable } from '../formats/drawing.ts';
import { distance } from '../geometry/point.ts';
import { lengthOf } from '../geometry/segment.ts';
import type { OpenChain } from './loops.ts';
import { chainsOf, withoutDoubles } from './loops.ts';
import type { Gathered } from './pieces.ts';

const lengthOfChain = (c: OpenChain): number =>
  c.spans.reduce((sum, s) => sum + s.segments.reduce((l, g) => l + lengthOf(g), 0), 0);

/** A line this long (mm) whose ends come this near to one another, for its length, was meant to close. */
const LONG = 400;
const NEARLY = 0.2;

const isPath = (d: Drawable): d is PathDrawable => d.kind === 'path' && !d.path.closed;

/** Lines on no piece that run nearly round, and where they are open. */
export const openOutlines = (gathered: Gathered, file: string): Finding[] =>
  chainsOf(withoutDoubles(gathered.loose.filter(isPath)))
    .map((chain) => ({ chain, length: lengthOfChain(chain), gap: distance(chain.from, chain.to) }))
    .filter(({ length, gap }) => length >= LONG && gap <= NEARLY * length)
    .map(({ chain, gap }) => ({
      code: 'recognise-outline-open',
      level: 'error',
      where: { file, line: chain.drawables[0]?.line ?? 0, entity: chain.drawables[0]?.entity ?? '' },
      message: `A line runs nearly round but is open by ${gap.toFixed(1)} mm, between (${chain.from.x.toFixed(1)}, ${chain.from.y.toFixed(1)}) and (${chain.to.x.toFixed(1)}, ${chain.to.y.toFixed(1)}) mm.`,
      try: 'Close the outline there; then it can be read as a piece.',
    }));
