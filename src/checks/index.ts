import type { Finding } from '../finding.ts';
import { type Pattern, pieceCalled, type SewnEdge } from '../pattern/pattern.ts';
import { allowanceFindings, fairnessFindings, grainFindings, outlineFindings } from './piece-checks.ts';
import { type MateWalk, walkMates } from './walk.ts';

export { checkCodes } from './codes.ts';
export { faultFindings } from './faults.ts';
export { type LevelGirth, measureGirths } from './girths.ts';
export { type EdgeLength, edgeLengths } from './lengths.ts';
export { type MateWalk, walkMates } from './walk.ts';

/** What mates may come to differ by, and notches to lie apart, mm. */
const MATES = 0.5;
/** What two corners that met in a straight line may come off it, radians. */
const CORNERS = Math.PI / 180;

/** Edges that are longer than their mates on purpose, more than they were, mm; by 'piece/edge'. */
export type Eased = ReadonlyMap<string, number>;

/** Everything that must hold after an alteration, checked against the pattern as it was. */
export const checkPattern = (before: Pattern, after: Pattern, eased: Eased = new Map()): readonly Finding[] => [
  ...after.pieces.flatMap((piece) => {
    const was = pieceCalled(before, piece.id);
    if (!was || was === piece) return [];
    return [outlineFindings, fairnessFindings, grainFindings, allowanceFindings].flatMap((check) => check(was, piece));
  }),
  ...mateFindings(before, after, eased),
];

const walked = new WeakMap<Pattern, ReadonlyMap<string, MateWalk>>();

/** The mates of the pattern as it was, which is the same for all fittings. */
const walkedBefore = (pattern: Pattern): ReadonlyMap<string, MateWalk> => {
  const known = walked.get(pattern) ?? new Map(walkMates(pattern).map((w) => [w.mates, w]));
  walked.set(pattern, known);
  return known;
};

const mateFindings = (before: Pattern, after: Pattern, eased: Eased): Finding[] => {
  const was = walkedBefore(before);
  return walkMates(after).flatMap((is) => {
    const old = was.get(is.mates);
    return old
      ? [
          ...differenceFinding(old, is, meantEase(after, is, eased)),
          ...notchFinding(old, is),
          ...cornerFinding(old, is),
        ]
      : [];
  });
};

/** How much longer the one row is meant to have come out than the other. */
const meantEase = ({ mates }: Pattern, walk: MateWalk, eased: Eased): number => {
  const sewn = mates.find((m) => m.id === walk.mates);
  const row = (edges: readonly SewnEdge[] = []): number =>
    edges.reduce((sum, s) => sum + s.times * (eased.get(`${s.piece}/${s.edge}`) ?? 0), 0);
  return row(sewn?.one) - row(sewn?.other);
};

const differenceFinding = (was: MateWalk, is: MateWalk, meant: number): Finding[] => {
  const change = is.difference - was.difference - meant;
  // Seams that came uneven and are even now were mended.
  const mended = is.angles.length > 0 && Math.abs(is.difference) <= MATES;
  if (Math.abs(change) <= MATES || mended) return [];
  return [
    {
      code: 'check-mates-apart',
      level: 'error',
      where: { edge: is.mates },
      message: `${is.mates}: the difference was ${was.difference.toFixed(1)} mm and is ${is.difference.toFixed(1)} mm.`,
      try: `Change the second of them by ${change.toFixed(1)} mm, or leave its piece out in the pattern sheet.`,
    },
  ];
};

const notchFinding = (was: MateWalk, is: MateWalk): Finding[] => {
  const apart = is.notches.filter((n, i) => n.apart - (was.notches[i]?.apart ?? 0) > MATES);
  if (apart.length === 0) return [];
  return [
    {
      code: 'check-notches-apart',
      level: 'warning',
      where: { edge: is.mates },
      message: `${is.mates}: notches that met lie ${Math.max(...apart.map((n) => n.apart)).toFixed(1)} mm apart.`,
      try: 'Move the notch of one piece before cutting.',
    },
  ];
};

const cornerFinding = (was: MateWalk, is: MateWalk): Finding[] => {
  const [off] = is.angles.filter((a, i) => Math.abs(a) - Math.abs(was.angles[i] ?? 0) > CORNERS);
  if (off === undefined) return [];
  const degrees = `${Math.abs((off * 180) / Math.PI).toFixed(1)}°`;
  return [
    {
      code: 'check-corner-turned',
      level: 'warning',
      where: { edge: is.mates },
      message: is.laidOn
        ? `${is.mates}: a corner of the facing is off the corner it lies on, by an angle of ${degrees}.`
        : `${is.mates}: the corners that meet there make ${off > 0 ? 'a point' : 'a hollow'} of ${degrees}.`,
      try: is.laidOn
        ? 'Lay the facing on its piece and draw it anew.'
        : 'Lay the pieces together at the seam and redraw the edge across it.',
    },
  ];
};
