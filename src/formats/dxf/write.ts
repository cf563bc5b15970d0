import TagsManager from 'dxf-writer/src/TagsManager.js';
import type { Finding } from '../../finding.ts';
import { type Bounds, EMPTY_BOUNDS, include, unionBounds } from '../../geometry/bounds.ts';
import { boundsOf } from '../../geometry/segment.ts';
import type { Container, Drawable, Drawing, WriteResult } from '../drawing.ts';
import { drawableTags, entityHead } from './draw.ts';
import type { NewTag } from './edits.ts';
import { integer, PLACES, real, text } from './make.ts';
import { type Handles, type LayerNames, layerNamesOf, newHandles, safeName, uniqueName } from './names.ts';
import { plainNumber } from './numbers.ts';
import { layoutObjects, tableSection } from './skeleton.ts';
import { reporter } from './tags.ts';
import { encodeText } from './text.ts';

/** A block to be written, and what it holds: drawables of its own and blocks placed in it. */
interface NewBlock {
  readonly name: string;
  readonly label: string;
  readonly record: string;
  readonly drawables: Drawable[];
  readonly inner: NewBlock[];
}

/**
 * A whole new file of version AC1015 (R2000) in millimetres. Blocks, and groups that hold lines, become blocks, each
 * placed once; a path of lines and arcs becomes a LINE, ARC, CIRCLE or LWPOLYLINE, one with curves a SPLINE.
 * Texts are ASCII with `\U+` escapes.
 */
export const writeDxf = (drawing: Drawing): WriteResult => {
  const findings: Finding[] = [];
  const report = reporter(drawing.fileName, findings);
  if (drawing.drawables.some((d) => d.style.arrowStart || d.style.arrowEnd || d.style.filled)) {
    report(
      'dxf-style-lost',
      'note',
      {},
      'Arrow heads and filled shapes are written as plain lines.',
      'Nothing needs doing; labels and layers say what the lines are.',
    );
  }
  const body = new TagsManager();
  const put = (tags: readonly NewTag[]): void => {
    for (const tag of tags) pushTag(body, tag);
  };
  const ids = newHandles();
  const modelRecord = ids.next();
  const paperRecord = ids.next();
  const { root, blocks } = blocksOf(drawing, modelRecord, ids);
  const layers = layerNamesOf(drawing);
  const objects = layoutObjects(ids, modelRecord, paperRecord);
  put(
    section(
      'TABLES',
      tableSection(
        ids,
        layers,
        [
          { name: '*Model_Space', record: modelRecord, layout: objects.modelLayout },
          { name: '*Paper_Space', record: paperRecord, layout: objects.paperLayout },
          ...blocks.map((b) => ({ name: b.name, record: b.record, layout: '0' })),
        ],
        objects.plotStyle,
      ),
    ),
  );
  const spaces: NewBlock[] = [
    { name: '*Model_Space', label: '', record: modelRecord, drawables: [], inner: [] },
    { name: '*Paper_Space', label: '', record: paperRecord, drawables: [], inner: [] },
  ];
  put(
    section(
      'BLOCKS',
      [...spaces, ...blocks].flatMap((b) => blockTags(b, ids, layers)),
    ),
  );
  put(section('ENTITIES', contentTags(root, ids, layers)));
  put(section('OBJECTS', objects.tags));
  put([text(0, 'EOF')]);
  const head = new TagsManager();
  for (const tag of section('HEADER', headerTags(drawing, ids))) pushTag(head, tag);
  for (const tag of section('CLASSES', [])) pushTag(head, tag);
  const bytes = new TextEncoder().encode(`${head.toDxfString()}\n${body.toDxfString()}\n`);
  return { bytes, findings, addedVertices: new Map() };
};

const pushTag = (manager: TagsManager, tag: NewTag): void => {
  if ('copy' in tag) return;
  const value =
    'text' in tag ? tag.text : 'integer' in tag ? String(tag.integer) : plainNumber(tag.real, tag.places ?? PLACES);
  manager.push(tag.code, value);
};

const section = (name: string, tags: readonly NewTag[]): NewTag[] => [
  text(0, 'SECTION'),
  text(2, name),
  ...tags,
  text(0, 'ENDSEC'),
];

const headerTags = (drawing: Drawing, ids: Handles): NewTag[] => {
  const box = extent(drawing);
  const corner = (name: string, x: number, y: number): NewTag[] => [
    text(9, name),
    real(10, x),
    real(20, y),
    real(30, 0),
  ];
  return [
    text(9, '$ACADVER'),
    text(1, 'AC1015'),
    text(9, '$DWGCODEPAGE'),
    text(3, 'ANSI_1252'),
    ...corner('$EXTMIN', box.minX, box.minY),
    ...corner('$EXTMAX', box.maxX, box.maxY),
    text(9, '$HANDSEED'),
    text(5, ids.peek()),
    text(9, '$INSUNITS'),
    integer(70, 4),
    text(9, '$MEASUREMENT'),
    integer(70, 1),
  ];
};

const extent = (drawing: Drawing): Bounds => {
  let box = EMPTY_BOUNDS;
  for (const d of drawing.drawables) {
    if (d.kind === 'path') for (const s of d.path.segments) box = unionBounds(box, boundsOf(s));
    else box = include(box, d.at);
  }
  return Number.isFinite(box.minX + box.maxX + box.minY + box.maxY) ? box : { minX: 0, minY: 0, maxX: 0, maxY: 0 };
};

/** Which containers become blocks, and what lies in each; what lies in others goes to the nearest that does. */
const blocksOf = (drawing: Drawing, modelRecord: string, ids: Handles): { root: NewBlock; blocks: NewBlock[] } => {
  const byId = new Map(drawing.containers.map((c) => [c.id, c] as const));
  const withPaths = new Set<string>();
  for (const d of drawing.drawables) {
    if (d.kind !== 'path') continue;
    for (let c = byId.get(d.container); c !== undefined && !withPaths.has(c.id); c = parentOf(c, byId))
      withPaths.add(c.id);
  }
  const rootId = drawing.containers.find((c) => c.kind === 'root')?.id;
  const becomes = (c: Container): boolean =>
    c.kind === 'block' || (c.kind === 'group' && c.parent === rootId && withPaths.has(c.id));
  const root: NewBlock = { name: '', label: '', record: modelRecord, drawables: [], inner: [] };
  const used = new Set<string>();
  const blocks = new Map<string, NewBlock>();
  for (const c of drawing.containers) {
    if (becomes(c))
      blocks.set(c.id, {
        name: uniqueName(safeName(c.name || c.label) || 'piece', used),
        label: c.label,
        record: ids.next(),
        drawables: [],
        inner: [],
      });
  }
  const home = (c: Container | undefined): NewBlock => {
    for (let up = c; up !== undefined; up = parentOf(up, byId)) {
      const block = blocks.get(up.id);
      if (block !== undefined) return block;
    }
    return root;
  };
  for (const d of drawing.drawables) home(byId.get(d.container)).drawables.push(d);
  for (const c of drawing.containers) {
    const block = blocks.get(c.id);
    if (block !== undefined) home(parentOf(c, byId)).inner.push(block);
  }
  return { root, blocks: [...blocks.values()] };
};

const parentOf = (c: Container, byId: ReadonlyMap<string, Container>): Container | undefined =>
  c.parent === undefined ? undefined : byId.get(c.parent);

const blockTags = (block: NewBlock, ids: Handles, layers: LayerNames): NewTag[] => {
  const frame = (type: string, marker: string, rest: readonly NewTag[]): NewTag[] => [
    text(0, type),
    text(5, ids.next()),
    text(330, block.record),
    text(100, 'AcDbEntity'),
    text(8, '0'),
    text(100, marker),
    ...rest,
  ];
  const label = block.label === '' ? [] : [text(4, encodeText(block.label, { name: 'ascii' }))];
  return [
    ...frame('BLOCK', 'AcDbBlockBegin', [
      text(2, block.name),
      integer(70, 0),
      real(10, 0),
      real(20, 0),
      real(30, 0),
      text(3, block.name),
      text(1, ''),
      ...label,
    ]),
    ...contentTags(block, ids, layers),
    ...frame('ENDBLK', 'AcDbBlockEnd', []),
  ];
};

const contentTags = (block: NewBlock, ids: Handles, layers: LayerNames): NewTag[] => [
  ...block.drawables.flatMap((d) => drawableTags(d, block.record, ids, layers)),
  ...block.inner.flatMap((b) => [
    ...entityHead('INSERT', '0', block.record, ids, []),
    text(100, 'AcDbBlockReference'),
    text(2, b.name),
    real(10, 0),
    real(20, 0),
    real(30, 0),
  ]),
];
