import type { Finding } from '../../../src/finding.ts';
import type { Drawable, Drawing, DrawingChanges, PathChange, PathDrawable } from '../../../src/formats/drawing.ts';
import { dxf } from '../../../src/formats/dxf/index.ts';
import { line, type Segment } from '../../../src/geometry/segment.ts';
import { type Affine, transformSegment } from '../../../src/geometry/transform.ts';

/** Text of a DXF from codes and values; the common sections around it. */
export const tagText = (...tags: readonly (string | number)[]): string => {
  let out = '';
  for (let i = 0; i < tags.length; i += 2) out += `${String(tags[i]).padStart(3)}\n${tags[i + 1]}\n`;
  return out;
};

export interface FileParts {
  readonly version?: string;
  readonly header?: string;
  readonly blocks?: string;
  readonly entities: string;
}

export const dxfText = ({ version = 'AC1015', header, blocks = '', entities }: FileParts): string => {
  const variables = header ?? tagText(9, '$INSUNITS', 70, 4);
  return [
    tagText(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, version),
    variables,
    tagText(0, 'ENDSEC'),
    blocks === '' ? '' : tagText(0, 'SECTION', 2, 'BLOCKS') + blocks + tagText(0, 'ENDSEC'),
    tagText(0, 'SECTION', 2, 'ENTITIES'),
    entities,
    tagText(0, 'ENDSEC', 0, 'EOF'),
  ].join('');
};

export const bytesOf = (text: string): Uint8Array => new Uint8Array(Buffer.from(text, 'latin1'));
export const textOf = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

export const read = (text: string | Uint8Array): { drawing: Drawing; findings: readonly Finding[] } => {
  const result = dxf.read(typeof text === 'string' ? bytesOf(text) : text, { fileName: 'test.dxf' });
  if (result.drawing === undefined) throw new Error(`not read: ${JSON.stringify(result.findings)}`);
  return { drawing: result.drawing, findings: result.findings };
};

export const NOTHING: DrawingChanges = { paths: new Map(), texts: new Map(), points: new Map(), additions: [] };

export const pathsOf = (drawing: Drawing): PathDrawable[] =>
  drawing.drawables.filter((d): d is PathDrawable => d.kind === 'path');

export const the = <K extends Drawable['kind']>(
  drawing: Drawing,
  kind: K,
  index = 0,
): Extract<Drawable, { kind: K }> => {
  const found = drawing.drawables.filter((d) => d.kind === kind)[index];
  if (found === undefined) throw new Error(`no ${kind} ${index}`);
  return found as Extract<Drawable, { kind: K }>;
};

/** The path with every segment taken through a map. */
export const moved = (path: PathDrawable, m: Affine): PathChange => ({
  segments: path.path.segments.map((s) => transformSegment(m, s)),
});

/** A path whose vertex `index` is pulled to another place, with lines to its neighbours. */
export const pulled = (path: PathDrawable, index: number, dx: number, dy: number): PathChange => {
  const { segments, closed } = path.path;
  const to = segments[index]?.from;
  if (to === undefined) throw new Error(`no vertex ${index}`);
  const place = { x: to.x + dx, y: to.y + dy };
  const before = index > 0 ? index - 1 : closed ? segments.length - 1 : -1;
  return {
    segments: segments.map((s, i) => {
      if (i === index) return [line(place, s.to)];
      return i === before ? [line(s.from, place)] : [s];
    }),
  };
};

export const unchanged = (path: PathDrawable): (readonly Segment[])[] => path.path.segments.map((s) => [s]);

export const codes = (findings: readonly Finding[]): string[] => findings.map((f) => f.code);

/** Lines of the two texts that differ, as pairs, when both have the same number of lines. */
export const differingLines = (a: string, b: string): [string, string][] => {
  const [p, q] = [a.split('\n'), b.split('\n')];
  if (p.length !== q.length) throw new Error(`${p.length} lines became ${q.length}`);
  return p.flatMap((l, i): [string, string][] => (l === q[i] ? [] : [[l, q[i] ?? '']]));
};
