import TagsManager from 'dxf-writer/src/TagsManager.js';
import type { DxfHabits, LineType, Stroke } from '../sheet.ts';
import type { EntitySpelling } from './cutter-entities.ts';
import type { NewTag } from './edits.ts';
import { integer, PLACES, real, text } from './make.ts';
import { type Handles, newHandles } from './names.ts';
import { plainNumber } from './numbers.ts';
import { type LayerLook, layoutObjects, tableSection } from './skeleton.ts';

/* The file about the entities of a sheet for cutters: R12 with hardly more than its layers, R2000 with all it must have. */

const LINE_TYPES: Readonly<Record<LineType, string>> = {
  solid: 'CONTINUOUS',
  dashed: 'DASHED',
  'dash-dot': 'DASHDOT',
  dotted: 'DOT',
};

/** Dashes and gaps in millimetres. */
const R12_LINE_TYPES: readonly (readonly [string, string, readonly number[]])[] = [
  ['CONTINUOUS', '', []],
  ['DASHED', '__ __ __', [6, -3]],
  ['DASHDOT', '__ . __ .', [6, -2, 0, -2]],
  ['DOT', '. . . . .', [0, -2]],
];

export interface Extent {
  readonly width: number;
  readonly height: number;
}

export const section = (name: string, tags: readonly NewTag[]): NewTag[] => [
  text(0, 'SECTION'),
  text(2, name),
  ...tags,
  text(0, 'ENDSEC'),
];

/** The tags as a text file. */
export const spelled = (tags: readonly NewTag[]): Uint8Array => {
  const manager = new TagsManager();
  for (const tag of tags) {
    if ('copy' in tag) continue;
    const value =
      'text' in tag ? tag.text : 'integer' in tag ? String(tag.integer) : plainNumber(tag.real, tag.places ?? PLACES);
    manager.push(tag.code, value);
  }
  return new TextEncoder().encode(`${manager.toDxfString()}\n`);
};

/** A whole file: `comment` stands first, for whoever opens it as a text. */
export const cutterFile = (
  version: DxfHabits['version'],
  looks: readonly Stroke[],
  extent: Extent,
  comment: string,
  entities: (spelling: EntitySpelling) => NewTag[],
): Uint8Array => {
  const layers = layersOf(looks);
  const remark = [text(999, comment)];
  if (version === 'R12') {
    const body = entities({ version, ids: newHandles(), owner: '', places: PLACES });
    return spelled([
      ...remark,
      ...section('HEADER', [text(9, '$ACADVER'), text(1, 'AC1009'), ...extentTags(extent)]),
      ...section('TABLES', r12Tables(layers)),
      ...section('BLOCKS', []),
      ...section('ENTITIES', body),
      text(0, 'EOF'),
    ]);
  }
  const ids = newHandles();
  const [model, paper] = [ids.next(), ids.next()];
  const objects = layoutObjects(ids, model, paper);
  const names = new Map(['0', ...layers.keys()].map((name) => [name, name]));
  const records = [
    { name: '*Model_Space', record: model, layout: objects.modelLayout },
    { name: '*Paper_Space', record: paper, layout: objects.paperLayout },
  ];
  const tables = tableSection(ids, names, records, objects.plotStyle, layers);
  const blocks = [...spaceTags('*Model_Space', model, ids), ...spaceTags('*Paper_Space', paper, ids)];
  const body = entities({ version, ids, owner: model, places: PLACES });
  return spelled([
    ...remark,
    ...section('HEADER', r2000Header(extent, ids)),
    ...section('CLASSES', []),
    ...section('TABLES', tables),
    ...section('BLOCKS', blocks),
    ...section('ENTITIES', body),
    ...section('OBJECTS', objects.tags),
    text(0, 'EOF'),
  ]);
};

/** Layers in the order in which their purposes are worked; the first purpose on a layer gives it its look. */
const layersOf = (looks: readonly Stroke[]): Map<string, LayerLook> => {
  const layers = new Map<string, LayerLook>();
  for (const { layer, colourNumber, line } of looks) {
    if (!layers.has(layer)) layers.set(layer, { colourNumber, lineType: LINE_TYPES[line] });
  }
  return layers;
};

const extentTags = ({ width, height }: Extent): NewTag[] =>
  (
    [
      ['$EXTMIN', 0, 0],
      ['$EXTMAX', width, height],
    ] as const
  ).flatMap(([name, x, y]) => [text(9, name), real(10, x), real(20, y), real(30, 0)]);

const r2000Header = (extent: Extent, ids: Handles): NewTag[] => [
  ...[text(9, '$ACADVER'), text(1, 'AC1015'), text(9, '$DWGCODEPAGE'), text(3, 'ANSI_1252')],
  ...extentTags(extent),
  ...[text(9, '$HANDSEED'), text(5, ids.peek())],
  ...[text(9, '$INSUNITS'), integer(70, 4), text(9, '$MEASUREMENT'), integer(70, 1)],
];

const r12Tables = (layers: ReadonlyMap<string, LayerLook>): NewTag[] => {
  const table = (name: string, rows: readonly (readonly NewTag[])[]): NewTag[] => [
    ...[text(0, 'TABLE'), text(2, name), integer(70, rows.length)],
    ...rows.flatMap((row) => [text(0, name), ...row]),
    text(0, 'ENDTAB'),
  ];
  const types = R12_LINE_TYPES.map(([name, shown, dashes]) => [
    ...[text(2, name), integer(70, 0), text(3, shown), integer(72, 65), integer(73, dashes.length)],
    real(
      40,
      dashes.reduce((sum, d) => sum + Math.abs(d), 0),
    ),
    ...dashes.map((d) => real(49, d)),
  ]);
  const all = new Map([['0', { colourNumber: 7, lineType: 'CONTINUOUS' }], ...layers]);
  const rows = [...all].map(([name, look]) => [
    ...[text(2, name), integer(70, 0), integer(62, look.colourNumber), text(6, look.lineType)],
  ]);
  const style = [
    ...[text(2, 'STANDARD'), integer(70, 0), real(40, 0), real(41, 1), real(50, 0), integer(71, 0), real(42, 2.5)],
    ...[text(3, 'txt'), text(4, '')],
  ];
  return [...table('LTYPE', types), ...table('LAYER', rows), ...table('STYLE', [style])];
};

const spaceTags = (name: string, record: string, ids: Handles): NewTag[] => {
  const frame = (type: string, marker: string, rest: readonly NewTag[]): NewTag[] => [
    ...[text(0, type), text(5, ids.next()), text(330, record), text(100, 'AcDbEntity'), text(8, '0')],
    ...[text(100, marker), ...rest],
  ];
  const begin = [text(2, name), integer(70, 0), real(10, 0), real(20, 0), real(30, 0), text(3, name), text(1, '')];
  return [...frame('BLOCK', 'AcDbBlockBegin', begin), ...frame('ENDBLK', 'AcDbBlockEnd', [])];
};
