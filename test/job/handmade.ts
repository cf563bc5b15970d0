import type { Drawing, PathDrawable, TextDrawable } from '../../src/formats/drawing.ts';
import type { Point } from '../../src/geometry/point.ts';
import type { Segment } from '../../src/geometry/segment.ts';
import { reversed } from '../../src/geometry/segment.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { InnerLine, PaperText, Piece, Span } from '../../src/pattern/piece.ts';

/** Small drawings and patterns made by hand, for what must hold whatever a pattern looks like. */

const style = { width: 0, dashed: false, filled: false, arrowStart: false, arrowEnd: false };
const sure = { evidence: [], confidence: 1 };

export const pathDrawable = (id: string, segments: readonly Segment[], closed = false): PathDrawable => ({
  ...{
    kind: 'path',
    id,
    layer: '1',
    container: 'root',
    entity: 'LWPOLYLINE',
    definition: id,
    line: 1,
    labels: [],
    style,
  },
  path: { segments, closed },
});

export const textDrawable = (id: string, text: string, at: Point): TextDrawable => ({
  ...{ kind: 'text', id, layer: '1', container: 'root', entity: 'TEXT', definition: id, line: 1, labels: [], style },
  ...{ text, at, angle: 0, height: 5, mirrored: false },
});

export const drawingOf = (drawables: Drawing['drawables']): Drawing => ({
  format: 'dxf',
  fileName: 'hand.dxf',
  units: { millimetresPerUnit: 1, statedBy: 'file', name: 'mm' },
  containers: [{ id: 'root', kind: 'root', name: '', label: '', definition: 'root' }],
  drawables,
  document: undefined,
});

/** Spans of a whole drawable, against its direction when `against`. */
export const spansOf = (drawable: PathDrawable, against = false): Span[] => {
  const spans = drawable.path.segments.map(
    (s, index): Span => ({
      source: { drawable: drawable.id, index, reversed: against },
      segments: [against ? reversed(s) : s],
    }),
  );
  return against ? spans.reverse() : spans;
};

export const innerLine = (id: string, spans: readonly Span[]): InnerLine => ({
  ...{ id, kind: 'internal', closed: false, spans, ...sure },
});

export const pieceOf = (
  spans: readonly Span[],
  parts: { id?: string; lines?: readonly InnerLine[]; texts?: readonly PaperText[] } = {},
): Piece => ({
  id: parts.id ?? 'front',
  name: 'Front',
  part: 'skirt front',
  partJudged: sure,
  upright: { origin: { x: 0, y: 0 }, up: { x: 0, y: 1 }, ...sure },
  half: false,
  cut: { count: 1, mirrored: false, cloth: 'shell', ...sure },
  seamLine: { spans },
  seamLineFrom: 'drawn',
  edges: [],
  levels: [],
  darts: [],
  notches: [],
  lines: parts.lines ?? [],
  points: [],
  texts: parts.texts ?? [],
  landmarks: [],
  adjustmentLines: [],
});

export const patternOf = (...pieces: readonly Piece[]): Pattern => ({
  fileName: 'hand.dxf',
  style: '',
  size: '',
  pieces,
  mates: [],
  draftedFor: {},
  loose: [],
  repeats: new Map(),
  doubts: [],
  views: [],
});
