import type { Finding } from '../../finding.ts';
import { EMPTY_BOUNDS, include } from '../../geometry/bounds.ts';
import { angleOf, distance, same, size } from '../../geometry/point.ts';
import { isDegenerate, isFiniteSegment, type Segment, withEnds } from '../../geometry/segment.ts';
import { type Affine, apply, applyToVector, compose, determinant, transformSegment } from '../../geometry/transform.ts';
import type { Drawable, DrawableBase, Drawing, LineStyle, ReadOptions, ReadResult } from '../drawing.ts';
import { openBytes } from './bytes.ts';
import type { DxfDocument, Placement, Source } from './document.ts';
import type { PathShape, ReadContext, TextShape } from './entities/shape.ts';
import { fieldsOf } from './fields.ts';
import { type Header, readHeader } from './header.ts';
import { TURNED_ROUND } from './make.ts';
import { type Placed, placeAll } from './place.ts';
import { type Sources, sourcesOf } from './sources.ts';
import { type Report, reporter, type Tags, textAt, whereOf } from './tags.ts';
import { decodeText, paragraphText } from './text.ts';
import { reportUnstated, statesUnits, type UnitsText, unitsOf } from './units.ts';
import { type Entity, type Structure, walk } from './walk.ts';

/** Reads a DXF file of any version from R12 to R2018, ASCII or binary, into a Drawing in millimetres. */
export const readDxf = (bytes: Uint8Array, options: ReadOptions): ReadResult => {
  const findings: Finding[] = [];
  const report = reporter(options.fileName, findings);
  const scan = openBytes(bytes, report);
  if (scan === undefined) return { findings };
  const { tags } = scan;
  const header = readHeader(tags, report);
  const structure = walk(tags, scan.cutShort, report);
  const units = unitsOf(tags, header, unitsTexts(tags, structure, header), options.units, report);
  const context: ReadContext = {
    millimetresPerUnit: units.millimetresPerUnit,
    report,
    modern: isModern(header, structure),
    fieldsOf: (entity) => fieldsOf(tags, entity, header.encoding),
  };
  const { containers, placed, tooMany } = placeAll(
    tags,
    structure,
    context,
    header.encoding,
    units.millimetresPerUnit,
    report,
  );
  if (tooMany) return { findings };
  const sources = sourcesOf(tags, context, report);
  const { drawables, placements, timesDrawn, outOfReach } = drawAll(placed, sources, header, tags, report);
  if (outOfReach) return { findings };
  tellUnread(sources, report);
  if (units.statedBy === 'unstated' && drawables.length > 0) tellUnstated(drawables, header, report);
  if (drawables.length === 0) {
    report(
      'dxf-nothing-drawn',
      'error',
      {},
      'There is nothing in the file that a pattern could be: no lines, points or texts.',
      'Check that this is the right file, and that the drawing is in its model space.',
    );
  }
  const document: DxfDocument = { kind: 'dxf', tags, header, units, context, placements, timesDrawn };
  const drawing: Drawing = { format: 'dxf', fileName: options.fileName, units, containers, drawables, document };
  return { drawing, findings };
};

/** Splines and light polylines came with R13 and R14; a file without version has them when it uses them. */
const isModern = (header: Header, structure: Structure): boolean => {
  if (header.version !== '') return header.version >= 'AC1014';
  const uses = (entities: readonly Entity[]): boolean =>
    entities.some((e) => e.type === 'LWPOLYLINE' || e.type === 'SPLINE');
  return uses(structure.entities) || structure.blocks.some((b) => uses(b.entities));
};

const unitsTexts = (tags: Tags, structure: Structure, header: Header): UnitsText[] => {
  const texts: UnitsText[] = [];
  const look = (entity: Entity): void => {
    if (['TEXT', 'MTEXT', 'ATTRIB'].includes(entity.type)) {
      for (let i = entity.start + 1; i < entity.end; i++) {
        if (tags.code[i] !== 1) continue;
        const text = paragraphText(decodeText(textAt(tags, i), header.encoding));
        for (const part of text.split('\n')) if (statesUnits(part)) texts.push({ text: part, tag: i });
      }
    }
    for (const part of entity.parts) look(part);
  };
  for (const entity of structure.entities) look(entity);
  for (const block of structure.blocks) for (const entity of block.entities) look(entity);
  return texts;
};

interface Drawn {
  readonly drawables: Drawable[];
  readonly placements: Map<string, Placement>;
  readonly timesDrawn: Map<string, number>;
  readonly outOfReach: boolean;
}

/** Segments of all placed paths together; beyond it memory would run out. */
const MOST_SEGMENTS = 4_000_000;

const drawAll = (placed: readonly Placed[], sources: Sources, header: Header, tags: Tags, report: Report): Drawn => {
  const drawables: Drawable[] = [];
  const placements = new Map<string, Placement>();
  const timesDrawn = new Map<string, number>();
  const tally = { segments: 0, noLength: 0, byAHair: 0 };
  for (const one of placed) {
    const source = sources.sourceOf(one.entity);
    if (source === undefined) continue;
    const own = source.kind.ownPlane && source.facing === 'back' ? TURNED_ROUND : undefined;
    const toDrawing = own === undefined ? one.toDrawing : compose(one.toDrawing, own);
    const drawn = draw(source, one, toDrawing, header, tags, tally, report);
    if (drawn === undefined) continue;
    drawables.push(drawn.drawable);
    placements.set(drawn.drawable.id, { source, toDrawing, ...drawn });
    timesDrawn.set(source.key, (timesDrawn.get(source.key) ?? 0) + 1);
    if (tally.segments > MOST_SEGMENTS) {
      report(
        'dxf-too-many',
        'error',
        {},
        `The drawing unfolds into more than ${MOST_SEGMENTS.toLocaleString('en')} stretches of line; that is no pattern.`,
        'Look for arrays of blocks within blocks, and take them out.',
      );
      return { drawables, placements, timesDrawn, outOfReach: true };
    }
  }
  if (tally.noLength > 0) {
    report(
      'dxf-no-length',
      'note',
      {},
      `${tally.noLength} stretch${tally.noLength === 1 ? '' : 'es'} of line without any length ${tally.noLength === 1 ? 'is' : 'are'} passed over.`,
      'Nothing needs doing; the file keeps them.',
    );
  }
  if (tally.byAHair > 0) {
    report(
      'dxf-open-by-a-hair',
      'note',
      {},
      `${tally.byAHair} outline${tally.byAHair === 1 ? ' is' : 's are'} open by less than ${HAIR} mm and taken as closed.`,
      'Nothing needs doing.',
    );
  }
  return { drawables, placements, timesDrawn, outOfReach: false };
};

interface Tally {
  segments: number;
  noLength: number;
  byAHair: number;
}

interface DrawnOne {
  readonly drawable: Drawable;
  readonly stretchOf: readonly number[];
}

const draw = (
  source: Source,
  placed: Placed,
  toDrawing: Affine,
  header: Header,
  tags: Tags,
  tally: Tally,
  report: Report,
): DrawnOne | undefined => {
  const base = baseOf(source, placed, toDrawing, header, tags);
  const { shape } = source;
  if (shape.kind === 'path') return drawPath(base, shape, toDrawing, tally, report, source, tags);
  const at = apply(toDrawing, shape.at);
  if (!Number.isFinite(at.x + at.y)) return tellOutOfReach(source, tags, report);
  if (shape.kind === 'text') {
    if (shape.text.trim() === '') return undefined;
    return { drawable: { ...base, kind: 'text', at, ...textLie(shape, toDrawing) }, stretchOf: [] };
  }
  const angle = shape.angle === undefined ? {} : { angle: turnedAngle(shape.angle, toDrawing) };
  return { drawable: { ...base, kind: 'point', at, ...angle }, stretchOf: [] };
};

const tellOutOfReach = (source: Source, tags: Tags, report: Report): undefined => {
  report(
    'dxf-bad-number',
    'error',
    whereOf(tags, source.entity.start),
    `A ${source.entity.type} has numbers too large to be drawn and is left out.`,
    'Put the right numbers there, or export the drawing again.',
  );
  return undefined;
};

const turnedAngle = (angle: number, m: Affine): number =>
  angleOf(applyToVector(m, { x: Math.cos(angle), y: Math.sin(angle) }));

const textLie = (shape: TextShape, m: Affine) => ({
  text: shape.text,
  angle: turnedAngle(shape.angle, m),
  height: shape.height * size(applyToVector(m, { x: -Math.sin(shape.angle), y: Math.cos(shape.angle) })),
  mirrored: determinant(m) < 0 !== shape.backwards,
});

/** An outline whose ends lie this near, mm, is closed: the rest is rounding. */
const HAIR = 0.01;

const drawPath = (
  base: DrawableBase,
  shape: PathShape,
  m: Affine,
  tally: Tally,
  report: Report,
  source: Source,
  tags: Tags,
): DrawnOne | undefined => {
  const segments: Segment[] = [];
  const stretchOf: number[] = [];
  for (const [k, stretch] of shape.stretches.entries()) {
    if (stretch.length === 0) tally.noLength += 1;
    for (const local of stretch) {
      for (const moved of transformSegment(m, local)) {
        if (!isFiniteSegment(moved)) return tellOutOfReach(source, tags, report);
        const before = segments.at(-1);
        const s = before === undefined || same(before.to, moved.from) ? moved : withEnds(moved, before.to, moved.to);
        if (isDegenerate(s)) {
          tally.noLength += 1;
          continue;
        }
        segments.push(s);
        stretchOf.push(k);
      }
    }
  }
  const [first, last] = [segments[0], segments.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const gap = distance(first.from, last.to);
  if (gap > 0 && segments.length > 2 && gap <= HAIR) {
    if (!shape.closed) tally.byAHair += 1;
    segments[segments.length - 1] = withEnds(last, last.from, first.from);
  }
  tally.segments += segments.length;
  const closed = same(first.from, segments.at(-1)?.to ?? first.to);
  return { drawable: { ...base, kind: 'path', path: { segments, closed } }, stretchOf };
};

const baseOf = (source: Source, placed: Placed, m: Affine, header: Header, tags: Tags): DrawableBase => {
  const { fields, entity, shape, key } = source;
  const layer = fields.text(8);
  const inherited = (layer === '0' || layer === '') && placed.insertLayer !== undefined ? placed.insertLayer : layer;
  return {
    id: placed.container === 'root' ? key : `${placed.container}:${key}`,
    layer: inherited,
    container: placed.container,
    entity: entity.type,
    definition: key,
    line: tags.line[entity.start] ?? 0,
    labels: shape.kind === 'text' ? shape.labels : [],
    style: styleOf(source, layer, m, header),
  };
};

const styleOf = (source: Source, layer: string, m: Affine, header: Header): LineStyle => {
  const { fields, shape } = source;
  const onLayer = header.layers.get(layer);
  const weight = fields.number(370, -1);
  const hundredths = weight >= 0 ? weight : (onLayer?.weight ?? -1);
  const drawn = shape.kind === 'path' ? (shape.width ?? 0) * Math.sqrt(Math.abs(determinant(m))) : 0;
  const type = fields.tag(6) === undefined ? 'BYLAYER' : fields.text(6).toUpperCase();
  const lineType = type === 'BYLAYER' ? (onLayer?.lineType ?? '').toUpperCase() : type;
  return {
    width: drawn > 0 ? drawn : Math.max(0, hundredths) / 100,
    dashed: header.dashedTypes.has(lineType),
    filled: false,
    arrowStart: shape.kind === 'path' && shape.arrowStart === true,
    arrowEnd: shape.kind === 'path' && shape.arrowEnd === true,
  };
};

const tellUnread = (sources: Sources, report: Report): void => {
  if (sources.unread.size === 0) return;
  const list = [...sources.unread].sort((a, b) => a[0].localeCompare(b[0], 'en')).map(([type, n]) => `${n} ${type}`);
  report(
    'dxf-not-read',
    'note',
    {},
    `Not read, and kept in the file as they are: ${list.join(', ')}.`,
    'If the pattern needs them, draw them as lines, arcs or polylines.',
  );
};

const tellUnstated = (drawables: readonly Drawable[], header: Header, report: Report): void => {
  let box = EMPTY_BOUNDS;
  for (const d of drawables) {
    if (d.kind === 'path') for (const s of d.path.segments) box = include(include(box, s.from), s.to);
  }
  const reach = (low: number, high: number): number => Math.max(0, high - low);
  reportUnstated(reach(box.minX, box.maxX), reach(box.minY, box.maxY), header, report);
};
