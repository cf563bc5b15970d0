import { EMPTY_BOUNDS, heightOfBounds, unionBounds, widthOf } from '../../geometry/bounds.ts';
import { angleOf, size } from '../../geometry/point.ts';
import { boundsOf, isFiniteSegment, type Segment } from '../../geometry/segment.ts';
import { apply, applyToVector, determinant, transformSegment } from '../../geometry/transform.ts';
import type { Drawable, Drawing, LineStyle, ReadOptions, ReadResult } from '../drawing.ts';
import { report } from './codes.ts';
import type { Handle, SvgDocument } from './document.ts';
import { attribute, type Element } from './elements.ts';
import { labelsOf } from './labels.ts';
import { startLog } from './log.ts';
import { pageOf, reportUnstated } from './page.ts';
import { outlinesOf } from './shapes.ts';
import { openSource, type Source, whereIs } from './source.ts';
import { spotsOf } from './text.ts';
import { growTree } from './tree.ts';
import { type Placed, walk } from './walk.ts';

/** Beyond this no number is a measure: ten kilometres, in mm. */
const LARGEST = 1e7;

/** Bytes to Drawing: the only way. */
export const read = (bytes: Uint8Array, options: ReadOptions): ReadResult => {
  const opened = openSource(bytes, options.fileName);
  if (opened.source === undefined) return { findings: opened.findings };
  const { source } = opened;
  const tree = growTree(source);
  const log = startLog([...opened.findings, ...tree.findings]);
  if (tree.root === undefined) return { findings: log.all() };
  const page = pageOf(source, tree.root, options, log);
  const gathered = new Gathering(source, log);
  const containers = walk(source, tree.root, page, log, (placed) => gathered.take(placed));
  const { drawables, handles, placements } = gathered;
  if (drawables.length === 0) {
    const message = 'There are no lines in this drawing.';
    log.add(
      report('svg-no-lines', whereIs(source, tree.root.start, 'svg'), message, 'Check that the right file was saved.'),
    );
  }
  if (page.units.statedBy === 'unstated') reportUnstated(source, tree.root, page, extentOf(drawables), log);
  const document: SvgDocument = { source, handles, placements, fileName: options.fileName };
  const drawing: Drawing = {
    format: 'svg',
    fileName: options.fileName,
    units: page.units,
    containers,
    drawables,
    document,
  };
  return { drawing, findings: log.all() };
};

const extentOf = (drawables: readonly Drawable[]): { width: number; height: number } => {
  const segments = drawables.flatMap((d) => (d.kind === 'path' ? d.path.segments : []));
  const bounds = segments.reduce((all, s) => unionBounds(all, boundsOf(s)), EMPTY_BOUNDS);
  return { width: widthOf(bounds), height: heightOfBounds(bounds) };
};

/** Turns placed elements into drawables, each with its handle. */
class Gathering {
  readonly drawables: Drawable[] = [];
  readonly handles = new Map<string, Handle>();
  readonly placements = new Map<string, string[]>();
  private readonly source: Source;
  private readonly log: ReturnType<typeof startLog>;

  constructor(source: Source, log: ReturnType<typeof startLog>) {
    this.source = source;
    this.log = log;
  }

  take(placed: Placed): void {
    if (placed.element.local === 'text') this.texts(placed);
    else this.lines(placed);
  }

  private lines(placed: Placed): void {
    const { element, toMm, around } = placed;
    const outlines = outlinesOf(element, around, (code, name, at, what) =>
      this.complain(code, element, name, at, what),
    );
    for (const [part, outline] of outlines.entries()) {
      const single = outlines.length === 1;
      const base = this.base(placed, single ? '' : `.${part}`);
      const common = { element, definition: base.definition, toMm, around, part };
      if (outline.dot !== undefined) {
        this.keep({ ...base, kind: 'point', at: apply(toMm, outline.dot) }, { ...common, kind: 'dot' });
        continue;
      }
      const groups = outline.segments.map((s) => transformSegment(toMm, s));
      const segments: Segment[] = groups.flat();
      if (segments.length === 0) continue;
      if (!segments.every(withinReach)) {
        const message = 'A line runs beyond ten kilometres; it is left out.';
        this.log.add(
          report('svg-number-range', whereIs(this.source, element.start, element.local), message, 'Check its numbers.'),
        );
        continue;
      }
      const path = { segments, closed: outline.closed };
      const counts = groups.map((g) => g.length);
      this.keep({ ...base, kind: 'path', path }, { ...common, kind: 'path', local: outline.segments, counts, path });
    }
  }

  private texts(placed: Placed): void {
    const { element, toMm, around, style } = placed;
    const spots = spotsOf(element, style, around, placed.inner);
    for (const [part, spot] of spots.entries()) {
      const whole = spots.length === 1;
      const base = this.base(placed, whole ? '' : `.${part}`);
      const along = applyToVector(toMm, { x: 1, y: 0 });
      const height = spot.fontSize * size(applyToVector(toMm, { x: 0, y: 1 }));
      const onPath = spot.path !== undefined;
      const at = apply(toMm, onPath ? (this.pathStart(placed, spot.path) ?? spot.at) : spot.at);
      if (!Number.isFinite(at.x + at.y) || Math.max(Math.abs(at.x), Math.abs(at.y)) > LARGEST) continue;
      const mirrored = determinant(toMm) > 0;
      const handle: Handle = {
        kind: 'text',
        element,
        definition: base.definition,
        toMm,
        around,
        placed: spot.placed,
        at: spot.at,
        whole,
        onPath,
        turnable: placed.ownTransform === attribute(element, 'transform'),
      };
      this.keep({ ...base, kind: 'text', text: spot.text, at, angle: angleOf(along), height, mirrored }, handle);
    }
  }

  private pathStart(placed: Placed, href: string | undefined): Segment['from'] | undefined {
    const line = placed.find(href ?? '');
    return line === undefined ? undefined : outlinesOf(line, placed.around, () => {})[0]?.segments[0]?.from;
  }

  private base(placed: Placed, suffix: string): Omit<Drawable, 'kind' | 'path' | 'at' | 'text'> & { style: LineStyle } {
    const { element, style, toMm } = placed;
    const scale = Math.sqrt(Math.abs(determinant(toMm)));
    return {
      id: `${placed.prefix}e${element.index}${suffix}`,
      definition: `e${element.index}${suffix}`,
      layer: placed.layer,
      container: placed.container,
      entity: element.local,
      line: element.line,
      labels: labelsOf(element),
      style: {
        width: (style.strokeWidth ?? 0) * scale,
        dashed: style.dashed,
        filled: style.filled,
        arrowStart: style.markerStart,
        arrowEnd: style.markerEnd,
      },
    };
  }

  private keep(drawable: Drawable, handle: Handle): void {
    this.drawables.push(drawable);
    this.handles.set(drawable.id, handle);
    const shared = this.placements.get(drawable.definition);
    if (shared === undefined) this.placements.set(drawable.definition, [drawable.id]);
    else shared.push(drawable.id);
  }

  private readonly told = new Set<string>();

  /** Once for each place, however often the shape is placed. */
  private complain(code: string, element: Element, name: string, at: number, what: string): void {
    const found = element.attributes.get(name);
    const offset = found === undefined ? element.start : Math.min(found.valueEnd, found.valueStart + at);
    const key = `${code} ${offset}`;
    if (this.told.has(key)) return;
    this.told.add(key);
    const kind =
      code === 'svg-path-broken' || code === 'svg-points-broken'
        ? 'The line is read only up to here'
        : 'The shape is left out';
    const message = `${kind}: ${what}.`;
    this.log.add(
      report(code, whereIs(this.source, offset, element.local), message, 'Draw this line anew, or mend its numbers.'),
    );
  }
}

const withinReach = (s: Segment): boolean => {
  if (!isFiniteSegment(s)) return false;
  const points = s.kind === 'cubic' ? [s.from, s.control1, s.control2, s.to] : [s.from, s.to];
  return points.every((p) => Math.abs(p.x) < LARGEST && Math.abs(p.y) < LARGEST);
};
