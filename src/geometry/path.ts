import type { Segment } from './segment.ts';

/** Segments end to end: each starts exactly where the one before ends; closed when the last ends where the first starts. */
export interface Path {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
}
