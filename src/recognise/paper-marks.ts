import type { InnerLine, InnerLineKind, Landmark, PaperPoint } from '../pattern/piece.ts';
import type { Context } from './context.ts';
import { judge } from './judging.ts';
import type { Adjustment } from './levels.ts';
import { spansOf } from './loops.ts';
import type { ReadPiece } from './piece-reading.ts';
import type { Seam } from './seam.ts';
import type { Stroke } from './strokes.ts';

/** Every path on the paper that is no outline, with what it is. */
export const linesOf = (read: ReadPiece, seam: Seam, adjustments: readonly Adjustment[]): InnerLine[] => {
  const kinds = new Map<Stroke, { kind: InnerLineKind; evidence: InnerLine['evidence']; confidence: number }>();
  const mark = (
    strokes: readonly Stroke[],
    kind: InnerLineKind,
    judged: { evidence: InnerLine['evidence']; confidence: number },
  ): void => {
    for (const s of strokes)
      if (!kinds.has(s)) kinds.set(s, { kind, evidence: judged.evidence, confidence: judged.confidence });
  };
  if (read.grain) mark(read.grain.strokes, 'grain', read.grain);
  for (const d of seam.darts) if (d.drawn.as === 'lines') mark(d.drawn.strokes, 'dart', d);
  const byId = new Map(read.strokes.map((s) => [s.drawable.id, s]));
  for (const n of seam.notches)
    mark(
      n.marks.flatMap((id) => byId.get(id) ?? []),
      'notch',
      n,
    );
  for (const a of adjustments) mark(a.strokes, 'adjustment', judge(a.evidence));
  mark([...read.foldMarks], 'fold mark', judge([{ says: 'it marks the fold', weight: 0.8 }]));
  for (const d of read.drills)
    mark(
      [byId.get(d.id)].flatMap((s) => s ?? []),
      'drill',
      judge([{ says: 'it marks a drill hole', weight: 0.7 }]),
    );
  for (const c of read.claims.lines) {
    const isCentre = c.meaning.startsWith('centre') || c.meaning === 'fold line';
    mark([c.stroke], isCentre ? 'centre' : 'level', judge([c.evidence]));
  }
  return read.strokes.map((s): InnerLine => {
    const known = kinds.get(s);
    const own = { id: s.drawable.id, closed: s.drawable.path.closed, spans: spansOf(s.drawable) };
    return known ? { ...own, ...known } : { ...own, kind: 'internal', evidence: [], confidence: 0 };
  });
};

/** Every point on the paper, with what it marks. */
export const pointsOf = (
  read: ReadPiece,
  seam: Seam,
  landmarks: readonly Landmark[],
  context: Context,
): PaperPoint[] => {
  const notches = new Set(seam.notches.flatMap((n) => n.marks));
  return read.drawn.points.map((p): PaperPoint => {
    const hint = (['notch', 'drill', 'turn point', 'curve point'] as const)
      .map((m) => ({ m, says: context.hints.says(p, m) }))
      .find((h) => h.says);
    const kind = notches.has(p.id)
      ? 'notch'
      : landmarks.some((l) => l.marks.includes(p.id))
        ? 'landmark'
        : hint?.m === 'drill'
          ? 'drill'
          : hint?.m === 'turn point'
            ? 'turn'
            : hint?.m === 'curve point'
              ? 'curve'
              : 'point';
    return {
      id: p.id,
      kind,
      at: p.at,
      ...(p.angle === undefined ? {} : { angle: p.angle }),
      ...judge(hint?.says ? [hint.says] : []),
    };
  });
};
