import type { Plan } from '../../alterations/contract.ts';
import type { Finding } from '../../finding.ts';
import { Bug } from '../../finding.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import type { Piece } from '../../pattern/piece.ts';
import { handOf, isPair } from '../../pattern/wearer-side.ts';
import { recognise } from '../../recognise/index.ts';
import type { PatternSheet, SheetPiece } from '../../recognise/sheet/types.ts';
import { normalise } from '../../recognise/vocabulary.ts';
import type { Bench } from '../fitting.ts';
import { measure } from '../measures.ts';
import type { PatternFile } from '../patternfile.ts';
import { layOutView } from '../view.ts';
import { unfoldedNote, unfolding } from './unfold.ts';

/** Half pieces, and pieces cut as a pair, that a plan cannot alter on one side as they lie. */
export const piecesToUnfold = (file: PatternFile, plan: Plan): readonly Piece[] => {
  const named = new Set(plan.findings.filter((f) => f.code === 'plan-needs-unfolding').map((f) => f.where.piece));
  return file.pattern.pieces.filter((p) => (p.half || isPair(p)) && named.has(p.id));
};

/**
 * A bench on which the given half pieces lie open to their full width, and pairs as a left and a right piece: the drawing
 * is unfolded, written and read again, so that what is altered is what a file says. Made once for each set of pieces.
 */
export const withUnfolded = (
  bench: Bench,
  pieces: readonly Piece[],
): { bench: Bench; findings: readonly Finding[] } => {
  const key = pieces.map((p) => p.id).join('\n');
  const known = made.get(bench) ?? new Map<string, Bench>();
  made.set(bench, known);
  const opened = known.get(key) ?? benchOf(bench, pieces);
  known.set(key, opened);
  return { bench: opened, findings: pieces.map(unfoldedNote) };
};

const made = new WeakMap<Bench, Map<string, Bench>>();

const benchOf = (bench: Bench, pieces: readonly Piece[]): Bench => {
  const file = openedFile(bench.file, pieces);
  return { ...bench, file, before: measure(file.pattern) };
};

const openedFile = (file: PatternFile, pieces: readonly Piece[]): PatternFile => {
  const patched = file.format.patch(file.drawing, unfolding(file.drawing, pieces));
  const { drawing } = file.format.read(patched.bytes, {
    fileName: file.fileName,
    ...(file.units ? { units: file.units } : {}),
  });
  if (!drawing) throw new Bug('the unfolded drawing cannot be read');
  const sheet = file.sheet && unfoldedSheet(file.sheet.sheet, pieces);
  const { pattern } = recognise(drawing, sheet ? { sheet } : {});
  const laid = layOutView(pattern, file.view?.name);
  const closed = pieces.filter((p) => laid.pattern.pieces.some((q) => q.id === p.id && (q.half || isPair(q))));
  if (closed.length > 0) throw new Bug(`${closed.map((p) => p.id).join(', ')} did not open out`);
  return { ...file, drawing, pattern: { ...withHands(laid.pattern), draftedFor: file.pattern.draftedFor } };
};

/** What the sheet says of the pieces, but for the fold that they no longer have. */
const unfoldedSheet = (sheet: PatternSheet, pieces: readonly Piece[]): PatternSheet => {
  const named = new Set(pieces.flatMap((p) => [normalise(p.id), normalise(p.name)]));
  const opened = (p: SheetPiece): SheetPiece =>
    named.has(normalise(p.key)) || (p.name !== undefined && named.has(normalise(p.name))) ? openedEntry(p, pieces) : p;
  return { ...sheet, pieces: sheet.pieces.map(opened) };
};

const openedEntry = (entry: SheetPiece, pieces: readonly Piece[]): SheetPiece => {
  const called = (p: Piece): boolean => [p.id, p.name].some((n) => normalise(n) === normalise(entry.key));
  return pieces.find(called)?.half === false
    ? { ...entry, cut: 1, mirrored: false }
    : { ...entry, onFold: false, edges: entry.edges.filter((e) => e.role !== 'fold') };
};

/** Left and right pieces by the name that is written on them: a drawing may have no other for the mirror image. */
const withHands = (pattern: Pattern): Pattern => ({
  ...pattern,
  pieces: pattern.pieces.map((piece) => {
    const hand = handOf(piece);
    const name = hand && piece.texts.map((t) => t.text).find((t) => t.endsWith(` ${hand}`));
    return name === undefined || piece.name.endsWith(` ${hand}`) ? piece : { ...piece, name };
  }),
});
