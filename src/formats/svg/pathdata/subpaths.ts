import type { Segment } from '../../../geometry/segment.ts';
import { withEnds } from '../../../geometry/segment.ts';
import { draw, nearlySame, type Pen, RESTING } from './draw.ts';
import type { Command } from './tokens.ts';

/** One stretch of path data from a move to the next; in the axes and units of the data. */
export interface Subpath {
  /** Range of its commands: first, and one past the last. */
  readonly first: number;
  readonly past: number;
  readonly segments: readonly Segment[];
  /** For each segment, the command that drew it. */
  readonly owners: readonly number[];
  readonly closed: boolean;
}

/** Splits commands at each M, and after each Z. */
export const subpathsOf = (commands: readonly Command[]): Subpath[] => {
  const found: Subpath[] = [];
  let pen: Pen = RESTING;
  let first = 0;
  let segments: Segment[] = [];
  let owners: number[] = [];
  const finish = (past: number, byZ: boolean): void => {
    if (past > first) found.push(closedIfMet({ first, past, segments, owners, closed: byZ }));
    first = past;
    segments = [];
    owners = [];
  };
  for (const [i, command] of commands.entries()) {
    if (command.letter === 'm' || command.letter === 'M') finish(i, false);
    const drawn = draw(
      command.letter,
      command.args.map((a) => a.value),
      pen,
    );
    pen = drawn.pen;
    for (const segment of drawn.segments) {
      segments.push(segment);
      owners.push(i);
    }
    if (command.letter === 'z' || command.letter === 'Z') finish(i + 1, true);
  }
  finish(commands.length, false);
  return found;
};

/** Lets the last segment end exactly where the first begins when only rounding keeps them apart. */
const closedIfMet = (subpath: Subpath): Subpath => {
  const begin = subpath.segments[0]?.from;
  const last = subpath.segments.at(-1);
  if (begin === undefined || last === undefined || !nearlySame(last.to, begin)) return { ...subpath, closed: false };
  if (subpath.segments.length === 1 && last.kind === 'line') return { ...subpath, closed: false };
  const segments = [...subpath.segments.slice(0, -1), withEnds(last, last.from, begin)];
  return { ...subpath, segments, closed: true };
};
