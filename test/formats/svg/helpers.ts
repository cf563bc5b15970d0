import type { Drawing, DrawingChanges, PathDrawable, TextDrawable, WriteResult } from '../../../src/formats/drawing.ts';
import { svg } from '../../../src/formats/svg/index.ts';
import { boundsOf, pointAt, type Segment } from '../../../src/geometry/segment.ts';
import { type Affine, transformPath } from '../../../src/geometry/transform.ts';

export const NO_CHANGES: DrawingChanges = { paths: new Map(), texts: new Map(), points: new Map(), additions: [] };

export const bytesOf = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, 'utf8'));
export const textOf = (bytes: Uint8Array): string => Buffer.from(bytes).toString('utf8');

/** An svg of 200 × 200 mm in millimetres round `content`. */
export const sheet = (content: string, attributes = 'width="200mm" height="200mm" viewBox="0 0 200 200"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${content}</svg>`;

/** The drawing and the codes of its findings. */
export const readText = (text: string): { drawing: Drawing; codes: string[] } => {
  const { drawing, findings } = svg.read(bytesOf(text), { fileName: 'costume.svg' });
  if (drawing === undefined) throw new Error(findings.map((f) => f.message).join('\n'));
  return { drawing, codes: findings.map((f) => f.code) };
};

export const codesOf = (text: string): string[] =>
  svg.read(bytesOf(text), { fileName: 'costume.svg' }).findings.map((f) => f.code);

export const pathsOf = (drawing: Drawing): PathDrawable[] => drawing.drawables.filter((d) => d.kind === 'path');
export const textsOf = (drawing: Drawing): TextDrawable[] => drawing.drawables.filter((d) => d.kind === 'text');

export const patched = (drawing: Drawing, changes: Partial<DrawingChanges>): WriteResult & { text: string } => {
  const result = svg.patch(drawing, { ...NO_CHANGES, ...changes });
  return { ...result, text: textOf(result.bytes) };
};

/** All of a path moved by a map, each segment for itself. */
export const movedWhole = (drawable: PathDrawable, by: Affine): Segment[][] =>
  drawable.path.segments.map((s) => [...transformPath(by, { segments: [s], closed: false }).segments]);

/** Greatest distance between points at the same parameters; infinite when kinds or counts differ. */
export const apart = (a: readonly Segment[], b: readonly Segment[]): number => {
  if (a.length !== b.length) return Number.POSITIVE_INFINITY;
  let most = 0;
  for (const [i, s] of a.entries()) {
    const t = b[i];
    if (t === undefined || s.kind !== t.kind) return Number.POSITIVE_INFINITY;
    for (const at of [0, 0.25, 0.5, 0.75, 1]) {
      const [p, q] = [pointAt(s, at), pointAt(t, at)];
      most = Math.max(most, Math.hypot(p.x - q.x, p.y - q.y));
    }
  }
  return most;
};

export const boxOf = (drawable: PathDrawable): [number, number, number, number] => {
  const boxes = drawable.path.segments.map(boundsOf);
  return [
    Math.min(...boxes.map((b) => b.minX)),
    Math.min(...boxes.map((b) => b.minY)),
    Math.max(...boxes.map((b) => b.maxX)),
    Math.max(...boxes.map((b) => b.maxY)),
  ];
};
