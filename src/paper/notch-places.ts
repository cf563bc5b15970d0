import type { Notch } from '../pattern/piece.ts';
import { along, edgeRun, pointsOf } from './runs.ts';
import type { Prick, Tracing } from './tracing.ts';

/** A notch, and how far along its edge it stands now, mm from the start of the edge, in seam direction. */
export interface PlacedNotch {
  readonly notch: Notch;
  readonly along: number;
}

/**
 * Where the notches of an edge stand along it, wherever the verbs have brought it. A notch stands between the two
 * pricks that lie on either side of it on the source. For an edge without darts.
 */
export const notchesAlong = (tracing: Tracing, edgeId: string): readonly PlacedNotch[] => {
  const run = edgeRun(tracing, edgeId);
  const way = along(pointsOf(tracing, run));
  return tracing.piece.notches
    .filter((n) => n.edge === edgeId)
    .flatMap((notch) => {
      const { span, t } = notch.at;
      const k = run.findLastIndex((i) => isBefore(tracing.seam[i] as Prick, span, t));
      const [a, b] = [tracing.seam[run[k] ?? -1], tracing.seam[run[k + 1] ?? -1]];
      if (!a) return [];
      const here = way[k] as number;
      if (!b) return [{ notch, along: here }];
      const end = b.span === a.span ? b.t : 1;
      const u = end === a.t ? 0 : Math.min(1, (t - a.t) / (end - a.t));
      return [{ notch, along: here + ((way[k + 1] as number) - here) * u }];
    })
    .sort((a, b) => a.along - b.along);
};

const isBefore = (p: Prick, span: number, t: number): boolean => p.span === span && p.t <= t + 1e-12;
