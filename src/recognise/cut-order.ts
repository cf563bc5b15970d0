import type { CutOrder, Edge, PartName } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import { judge, stated } from './judging.ts';
import { readCloth } from './parts.ts';
import type { ReadPiece } from './piece-reading.ts';
import { statedOf } from './piece-roles.ts';

/** How often the paper is cut: as stated, else as is usual for such a piece. */
export const cutOf = (read: ReadPiece, edges: readonly Edge[], context: Context): CutOrder => {
  const half = read.sheet?.onFold ?? edges.some((e) => e.role === 'fold');
  const seamed = !half && edges.some((e) => e.role === 'centre');
  const limb = !half && isOnLimb(read.part.part, edges) && !SIDE_WORDS.test(read.name);
  const facts = statedOf(read);
  const cloth =
    read.sheet?.cloth ??
    readCloth([read.name, ...read.drawn.texts.map((t) => t.text)], context.vocabulary) ??
    partCloth(read.part.part);
  const mirrored = read.sheet?.mirrored ?? ((facts.count ?? 2) > 1 && (seamed || limb || facts.pair === true));
  if (facts.count !== undefined) {
    const says = read.sheet?.cut !== undefined ? 'the pattern sheet says so' : `“${read.cut.counts[0]?.text}”`;
    return { count: facts.count, mirrored, cloth, ...stated(says) };
  }
  const distinct = [...new Set(read.cut.counts.map((c) => c.count))];
  const count = distinct.length > 1 ? Math.max(...distinct) : seamed || limb ? 2 : 1;
  const usual = seamed
    ? 'a half piece with a centre seam is cut as a pair'
    : half
      ? 'a piece on the fold is cut once'
      : limb
        ? 'there are two arms and two legs'
        : 'a whole piece is cut once';
  const where = { file: context.drawing.fileName, piece: read.id };
  if (distinct.length > 1) {
    context.tell({
      code: 'recognise-cut-count-doubtful',
      level: 'warning',
      where,
      message: `${read.id} states different cut counts: ${read.cut.counts.map((c) => `“${c.text}”`).join(', ')}. ${count} is taken.`,
      try: `In the pattern sheet, under ${read.id}, write “cut: ${count}” or the right number.`,
    });
  } else {
    context.tell({
      code: 'recognise-cut-count-assumed',
      level: 'note',
      where,
      message: `Nothing says how often ${read.id} is cut; ${count} is taken, as ${usual}.`,
      try: `If that is wrong, write “cut: …” under ${read.id} in the pattern sheet.`,
    });
  }
  return { count, mirrored: seamed || limb, cloth, ...judge([{ says: usual, weight: 0.6 }]) };
};

/** Words by which the paper is for one side of the body alone. */
const SIDE_WORDS =
  /\b(left|right|links|rechts|linke|rechte|gauche|droite?|izquierd[oa]|derech[oa]|sinistr[oa]|destr[oa])/iu;

/** A piece of one arm or leg. */
const isOnLimb = (part: PartName, edges: readonly Edge[]): boolean =>
  part.endsWith('sleeve') || (part.startsWith('trouser') && edges.some((e) => e.role === 'inseam'));

const partCloth = (part: PartName): CutOrder['cloth'] =>
  part === 'lining' ? 'lining' : part.endsWith('facing') ? 'facing' : 'shell';
