import type { Finding } from '../../finding.ts';
import { Bug } from '../../finding.ts';
import { distance } from '../../geometry/point.ts';
import type { Segment } from '../../geometry/segment.ts';
import { apply, inverse, stretches, transformSegment } from '../../geometry/transform.ts';
import type { Drawable, Drawing, DrawingChanges, PathChange, PlaceChange, WriteResult } from '../drawing.ts';
import { addElement } from './additions.ts';
import { report } from './codes.ts';
import type { Handle, PathHandle, SvgDocument } from './document.ts';
import { applyEdits, type Edit } from './edits.ts';
import type { Element } from './elements.ts';
import { growPage } from './grow-page.ts';
import { alike } from './pathdata/splice.ts';
import { removeElements } from './remove.ts';
import { type PartTarget, reshape } from './reshape.ts';
import { retext } from './retext.ts';
import { closeSource, whereIs } from './source.ts';

/** New segments may miss each other by rounding only, mm. */
const JOINED = 1e-4;
/** Changes to two placements of one shape that differ by less are the same, mm. */
const AGREEING = 0.001;

/** The source with only what changed spliced in; without changes, the very bytes. */
export const patch = (drawing: Drawing, changes: DrawingChanges): WriteResult => {
  const document = documentOf(drawing);
  const { source } = document;
  const removals = changes.removals ?? new Set<string>();
  const sizes = [changes.paths.size, changes.texts.size, changes.points.size, changes.additions.length, removals.size];
  const nothing = sizes.every((n) => n === 0);
  if (nothing) return { bytes: source.bytes, findings: [], addedVertices: new Map() };
  const job = new PatchJob(drawing, document);
  for (const [id, change] of changes.paths) job.path(id, change);
  for (const [id, change] of changes.points) job.dot(id, change);
  for (const [id, change] of changes.texts) job.text(id, change);
  const edits = job.edits();
  for (const addition of changes.additions) {
    const handle = document.handles.get(addition.like);
    if (handle === undefined) {
      const message = 'Something new was to be drawn beside a line that is not in the drawing; it is missing.';
      job.findings.push(report('svg-like-missing', { file: document.fileName }, message, 'Report this with the file.'));
      continue;
    }
    job.tellFollowers(handle);
    edits.push(addElement(source, handle, addition));
  }
  edits.push(...growPage(document, changes, job.findings));
  edits.push(...removeElements(document, removals, job.findings));
  const bytes = edits.length === 0 ? source.bytes : closeSource(source, applyEdits(source.text, edits));
  return { bytes, findings: job.findings, addedVertices: job.addedVertices };
};

const documentOf = (drawing: Drawing): SvgDocument => {
  const document = drawing.document as SvgDocument | undefined;
  if (drawing.format !== 'svg' || document?.handles === undefined)
    throw new Bug('an SVG can only be patched from its own drawing');
  return document;
};

interface Wanted<Change> {
  readonly id: string;
  readonly handle: Handle;
  readonly change: Change;
}

/** Gathers what is wanted of each source element, then edits each element once. */
class PatchJob {
  readonly findings: Finding[] = [];
  readonly addedVertices = new Map<string, number>();
  private readonly parts = new Map<Element, { first: Handle; parts: Map<number, PartTarget> }>();
  private readonly shared = new Map<string, Wanted<PartTarget>[]>();
  private readonly textEdits = new Map<string, Wanted<PlaceChange>[]>();
  private readonly drawables: ReadonlyMap<string, Drawable>;
  private readonly document: SvgDocument;

  constructor(drawing: Drawing, document: SvgDocument) {
    this.drawables = new Map(drawing.drawables.map((d) => [d.id, d]));
    this.document = document;
  }

  path(id: string, change: PathChange): void {
    const handle = this.handle(id);
    if (handle.kind !== 'path') throw new Bug(`${id} is no line`);
    const target = localTarget(id, handle, change);
    if (target === undefined) return;
    this.addedVertices.set(id, change.segments.flat().length - handle.path.segments.length);
    this.want(this.shared, { id, handle, change: target });
  }

  dot(id: string, change: PlaceChange): void {
    const handle = this.handle(id);
    if (handle.kind !== 'dot') throw new Bug(`${id} is no point`);
    const back = inverse(handle.toMm);
    if (back !== undefined) this.want(this.shared, { id, handle, change: { kind: 'dot', at: apply(back, change.at) } });
  }

  text(id: string, change: PlaceChange): void {
    this.want(this.textEdits, { id, handle: this.handle(id), change });
  }

  edits(): Edit[] {
    const edits: Edit[] = [];
    for (const [definition, wanted] of this.shared) {
      const agreed = this.agreed(definition, wanted, sameTarget);
      if (agreed === undefined || agreed.handle.kind === 'text') continue;
      const { element, part } = agreed.handle;
      const entry = this.parts.get(element) ?? { first: agreed.handle, parts: new Map() };
      entry.parts.set(part, agreed.change);
      this.parts.set(element, entry);
    }
    const { source } = this.document;
    let moreDecimals = false;
    for (const [element, { first, parts }] of this.parts) {
      const reshaped = reshape(source.text, element, parts, first.toMm, first.around);
      edits.push(...reshaped.edits);
      moreDecimals ||= reshaped.moreDecimals;
      if (!reshaped.becamePath) continue;
      const message = `The ${element.local} could not stay one in its new form and is now a path. A style for every "${element.local}" no longer applies to it.`;
      this.findings.push(
        report('svg-shape-became-path', whereIs(source, element.start, element.local), message, 'Nothing to do.'),
      );
    }
    for (const [definition, wanted] of this.textEdits) {
      const agreed = this.agreed(definition, wanted, samePlace);
      if (agreed !== undefined) edits.push(...this.textEdit(agreed));
    }
    if (moreDecimals) {
      const message = 'Changed numbers have more decimals than the file had, so that they hold 0.001 mm.';
      this.findings.push(report('svg-more-decimals', { file: this.document.fileName }, message, 'Nothing to do.'));
    }
    return edits;
  }

  private textEdit({ id, handle, change }: Wanted<PlaceChange>): Edit[] {
    const drawable = this.drawables.get(id);
    if (handle.kind !== 'text' || drawable?.kind !== 'text') throw new Bug(`${id} is no text`);
    const { source } = this.document;
    const where = whereIs(source, handle.element.start, 'text');
    if (handle.onPath) {
      const message = `The text "${drawable.text}" runs along a line and goes where that line goes; it was not moved by itself.`;
      this.findings.push(report('svg-text-on-path', where, message, 'Check where it reads now.'));
      return [];
    }
    const { edits, refused } = retext(source.text, handle, drawable, change);
    if (refused !== undefined) {
      const message = `The text "${drawable.text}" could not be turned: ${refused}.`;
      this.findings.push(report('svg-text-immovable', where, message, 'Put each text in a text element of its own.'));
    }
    return [...edits];
  }

  /** The one change that serves all placements of a shape; undefined (told) when there is none. */
  private agreed<Change>(
    definition: string,
    wanted: readonly Wanted<Change>[],
    same: (a: Wanted<Change>, b: Wanted<Change>) => boolean,
  ): Wanted<Change> | undefined {
    const placements = this.document.placements.get(definition) ?? [];
    const [first] = wanted;
    if (first === undefined || placements.length <= 1) return first;
    const leading = wanted.find((w) => w.id === placements[0]);
    const where = whereIs(this.document.source, first.handle.element.start, first.handle.element.local);
    if (leading === undefined || !wanted.every((w) => same(leading, w))) {
      const message = `This shape is placed ${placements.length} times and would have to change differently in each place; it was left as it is.`;
      const tip = 'Break the link between the copies in a drawing program, so that each is a shape of its own.';
      this.findings.push(report('svg-shared-shape', where, message, tip));
      for (const w of wanted) this.addedVertices.delete(w.id);
      return undefined;
    }
    this.tellFollowers(leading.handle);
    return leading;
  }

  /** What is done to a shape shows wherever it is placed. */
  tellFollowers({ definition, element }: Handle): void {
    const count = this.document.placements.get(definition)?.length ?? 0;
    if (count <= 1) return;
    const message = `This shape is placed ${count} times; it was changed once, and all placements follow.`;
    const tip = 'If only one should change, break the link between the copies first.';
    this.findings.push(
      report('svg-shared-shape-followed', whereIs(this.document.source, element.start, element.local), message, tip),
    );
  }

  private want<Change>(on: Map<string, Wanted<Change>[]>, wanted: Wanted<Change>): void {
    const list = on.get(wanted.handle.definition);
    if (list === undefined) on.set(wanted.handle.definition, [wanted]);
    else list.push(wanted);
  }

  private handle(id: string): Handle {
    const handle = this.document.handles.get(id);
    if (handle === undefined) throw new Bug(`nothing in the drawing has the id ${id}`);
    return handle;
  }
}

/** The change in the element's own axes; undefined when nothing in it moves. */
const localTarget = (id: string, handle: PathHandle, change: PathChange): PartTarget | undefined => {
  const { path, counts, local, toMm } = handle;
  if (change.segments.length !== path.segments.length)
    throw new Bug(`a change for ${id} that does not count its segments`);
  assertJoined(id, change.segments.flat(), path.closed);
  const back = inverse(toMm);
  if (back === undefined) throw new Bug(`${id} was read under a transform that has no inverse`);
  let at = 0;
  let moved = false;
  const targets = local.map((segment, i) => {
    const count = counts[i] ?? 0;
    const range = change.segments.slice(at, at + count);
    const still = range.every((new_, k) => new_.length === 1 && unchanged(new_[0], path.segments[at + k]));
    at += count;
    if (still) return [segment];
    moved = true;
    return range.flat().flatMap((s) => transformSegment(back, s));
  });
  return moved ? { kind: 'path', targets, closed: path.closed } : undefined;
};

const unchanged = (a: Segment | undefined, b: Segment | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && alike([a], [b], 0));

const assertJoined = (id: string, segments: readonly Segment[], closed: boolean): void => {
  for (const [i, segment] of segments.entries()) {
    const next = segments[i + 1] ?? (closed ? segments[0] : undefined);
    if (next === undefined) continue;
    const gap = distance(segment.to, next.from);
    if (!(gap <= JOINED)) throw new Bug(`the changed line ${id} has a gap of ${gap} mm after its segment ${i}`);
  }
};

const sameTarget = (a: Wanted<PartTarget>, b: Wanted<PartTarget>): boolean => {
  const tolerance = AGREEING / stretches(a.handle.toMm)[0];
  if (a.change.kind === 'dot' || b.change.kind === 'dot') {
    return a.change.kind === 'dot' && b.change.kind === 'dot' && distance(a.change.at, b.change.at) <= tolerance;
  }
  return alike(a.change.targets.flat(), b.change.targets.flat(), tolerance);
};

const samePlace = (a: Wanted<PlaceChange>, b: Wanted<PlaceChange>): boolean => {
  const [backA, backB] = [inverse(a.handle.toMm), inverse(b.handle.toMm)];
  if (backA === undefined || backB === undefined) return false;
  const tolerance = AGREEING / stretches(a.handle.toMm)[0];
  const near = distance(apply(backA, a.change.at), apply(backB, b.change.at)) <= tolerance;
  return near && (a.change.angle === undefined) === (b.change.angle === undefined);
};
