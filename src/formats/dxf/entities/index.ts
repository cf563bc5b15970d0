import { arcKind, circleKind } from './arc.ts';
import { ellipseKind } from './ellipse.ts';
import { lineKind } from './line.ts';
import { pointKind } from './point.ts';
import { lwpolylineKind, polylineKind } from './polyline.ts';
import type { EntityKind } from './shape.ts';
import { splineKind } from './spline.ts';
import { mtextKind, textKind } from './text.ts';

const KINDS: readonly EntityKind[] = [
  lineKind,
  arcKind,
  circleKind,
  ellipseKind,
  splineKind,
  polylineKind,
  lwpolylineKind,
  pointKind,
  textKind,
  mtextKind,
];

const byType = new Map(KINDS.flatMap((kind) => kind.types.map((type) => [type, kind] as const)));

/** What is known of a type of entity; undefined for those that stay in the file untouched and unread. */
export const kindOf = (type: string): EntityKind | undefined => byType.get(type);
