import { edgeWithRole } from '../edges.ts';
import { layersOf, timesOnLimb } from '../parts.ts';
import type { Pattern } from '../pattern.ts';
import type { LevelName, Piece } from '../piece.ts';
import { acrossAt } from './across.ts';
import { backNeckToShoulder } from './bodice.ts';
import { hasRole, onEach, sewn } from './on-each.ts';
import { heightOfEdge, highest, levelHeight } from './places.ts';
import {
  addedUp,
  type Counted,
  counted,
  type Lack,
  lacking,
  lacksLevel,
  layerCalled,
  type Taken,
  together,
} from './taken.ts';

/* The sleeve: round the arm, and down it. */

const roundTheArm = (pattern: Pattern, part: (piece: Piece) => Counted | Lack): Taken =>
  together(
    layersOf(pattern, 'sleeve').map((layer) => addedUp(layerCalled('sleeve', layer.cloth), layer.pieces.map(part))),
  );

const roundTheArmAt =
  (level: LevelName) =>
  (pattern: Pattern): Taken =>
    roundTheArm(pattern, (piece) => acrossAt(piece, level, timesOnLimb(piece)));

export const upperArmGirth = roundTheArmAt('biceps');
export const elbowGirth = roundTheArmAt('elbow');

export const wristGirth = (pattern: Pattern): Taken =>
  roundTheArm(pattern, (piece) =>
    edgeWithRole(piece, 'wrist').length === 0
      ? lacking(piece, 'no wrist edge', `Name the lower edge of ${piece.id} “wrist” in the pattern sheet.`)
      : counted(piece, 'along the wrist edge', sewn(piece, 'wrist'), timesOnLimb(piece)),
  );

/** How far up the sleeve from wrist to biceps the elbow lies, 0 to 1; undefined where a sleeve does not show them all. */
export const partAtElbow = (pattern: Pattern): number | undefined =>
  layersOf(pattern, 'sleeve')
    .flatMap(({ pieces }) => pieces)
    .flatMap((piece) => {
      const [biceps, elbow] = [levelHeight(piece, 'biceps'), levelHeight(piece, 'elbow')];
      const wrist = levelHeight(piece, 'wrist') ?? heightOfEdge(piece, 'wrist', 0);
      if (biceps === undefined || elbow === undefined || wrist === undefined) return [];
      return elbow > wrist && elbow < biceps ? [(elbow - wrist) / (biceps - wrist)] : [];
    })[0];

/** The piece that has the top of the cap: a sleeve in one, or the upper sleeve. */
const hasCapTop = (piece: Piece): boolean => piece.part !== 'under sleeve' && hasRole('cap')(piece);

const downTheArm = (pattern: Pattern, level: LevelName, to: (piece: Piece, x: number) => number | undefined): Taken =>
  onEach(pattern, ['sleeve'], hasCapTop, (piece) => {
    const top = highest(piece, 'cap');
    const end = top && to(piece, top.x);
    return top === undefined || end === undefined
      ? lacksLevel(piece, level)
      : counted(piece, `from the top of the cap to the ${level}`, top.y - end);
  });

export const shoulderToElbow = (pattern: Pattern): Taken =>
  downTheArm(pattern, 'elbow', (piece) => levelHeight(piece, 'elbow'));

export const outerArmLength = (pattern: Pattern): Taken =>
  downTheArm(pattern, 'wrist', (piece, x) => levelHeight(piece, 'wrist') ?? heightOfEdge(piece, 'wrist', x));

/** From the neck at centre back over the shoulder point, and down the sleeve. */
export const backNeckToWrist = (pattern: Pattern): Taken => {
  const back = backNeckToShoulder(pattern);
  const arm = outerArmLength(pattern);
  const takings = back.takings.flatMap((b) => {
    const a = arm.takings.find((t) => t.of.replace('sleeve', 'back') === b.of);
    return a ? [{ of: a.of, mm: b.mm + a.mm, counted: [...b.counted, ...a.counted] }] : [];
  });
  return { takings, lacks: arm.takings.length > 0 ? [...back.lacks, ...arm.lacks] : [] };
};
