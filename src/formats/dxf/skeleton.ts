import type { NewTag } from './edits.ts';
import { integer, real, text } from './make.ts';
import type { Handles, LayerNames } from './names.ts';

/** Tables and objects that an R2000 file must have whatever is drawn in it. */

export interface BlockRecord {
  readonly name: string;
  readonly record: string;
  readonly layout: string;
}

/** How lines of a layer look; black and continuous where it is not said. */
export interface LayerLook {
  readonly colourNumber: number;
  readonly lineType: string;
}

/** The TABLES section: view, line types, layers, text style and one block record a block. */
export const tableSection = (
  ids: Handles,
  layers: LayerNames,
  records: readonly BlockRecord[],
  plotStyle: string,
  looks: ReadonlyMap<string, LayerLook> = new Map(),
): NewTag[] => {
  const table = (name: string, rows: readonly Row[], extra: readonly NewTag[] = []): NewTag[] => {
    const own = ids.next();
    return [
      text(0, 'TABLE'),
      text(2, name),
      text(5, own),
      text(330, '0'),
      text(100, 'AcDbSymbolTable'),
      integer(70, rows.length),
      ...extra,
      ...rows.flatMap((row) => [
        text(0, name),
        text(name === 'DIMSTYLE' ? 105 : 5, row.handle ?? ids.next()),
        text(330, own),
        text(100, 'AcDbSymbolTableRecord'),
        text(100, row.marker),
        text(2, row.name),
        ...row.tags,
      ]),
      text(0, 'ENDTAB'),
    ];
  };
  const layerRows = [...new Set(layers.values())].map((name) => ({
    marker: 'AcDbLayerTableRecord',
    name,
    tags: [
      integer(70, 0),
      integer(62, looks.get(name)?.colourNumber ?? 7),
      text(6, looks.get(name)?.lineType ?? 'Continuous'),
      text(390, plotStyle),
    ],
  }));
  const blockRows = records.map((r) => ({
    marker: 'AcDbBlockTableRecord',
    name: r.name,
    handle: r.record,
    tags: [text(340, r.layout)],
  }));
  const marker = (name: string) => `AcDb${name}TableRecord`;
  return [
    ...table('VPORT', [{ marker: marker('Viewport'), name: '*Active', tags: viewTags() }]),
    ...table('LTYPE', [
      lineType('ByBlock', '', []),
      lineType('ByLayer', '', []),
      lineType('Continuous', '', []),
      lineType('DASHED', '__ __ __', [6, -3]),
      ...(looks.size === 0 ? [] : MORE_LINE_TYPES.map(([name, shown, dashes]) => lineType(name, shown, dashes))),
    ]),
    ...table('LAYER', layerRows),
    ...table('STYLE', [{ marker: 'AcDbTextStyleTableRecord', name: 'Standard', tags: styleTags() }]),
    ...table('VIEW', []),
    ...table('UCS', []),
    ...table('APPID', [{ marker: 'AcDbRegAppTableRecord', name: 'ACAD', tags: [integer(70, 0)] }]),
    ...table(
      'DIMSTYLE',
      [{ marker: 'AcDbDimStyleTableRecord', name: 'Standard', tags: [integer(70, 0)] }],
      [text(100, 'AcDbDimStyleTable')],
    ),
    ...table('BLOCK_RECORD', blockRows),
  ];
};

interface Row {
  readonly marker: string;
  readonly name: string;
  readonly handle?: string;
  readonly tags: readonly NewTag[];
}

const lineType = (name: string, description: string, dashes: readonly number[]): Row => ({
  marker: 'AcDbLinetypeTableRecord',
  name,
  tags: [
    integer(70, 0),
    text(3, description),
    integer(72, 65),
    integer(73, dashes.length),
    real(
      40,
      dashes.reduce((sum, d) => sum + Math.abs(d), 0),
    ),
    ...dashes.flatMap((d) => [real(49, d), integer(74, 0)]),
  ],
});

/** Line types that only sheets for machines use, mm. */
const MORE_LINE_TYPES: readonly (readonly [string, string, readonly number[]])[] = [
  ['DASHDOT', '__ . __ .', [6, -2, 0, -2]],
  ['DOT', '. . . . .', [0, -2]],
];

const pair = (code: number, x: number, y: number): NewTag[] => [real(code, x), real(code + 10, y)];

const viewTags = (): NewTag[] => [
  integer(70, 0),
  ...pair(10, 0, 0),
  ...pair(11, 1, 1),
  ...pair(12, 500, 500),
  ...pair(13, 0, 0),
  ...pair(14, 10, 10),
  ...pair(15, 10, 10),
  ...pair(16, 0, 0),
  real(36, 1),
  ...pair(17, 0, 0),
  real(37, 0),
  real(40, 1200),
  real(41, 1.5),
  real(42, 50),
  real(43, 0),
  real(44, 0),
  real(50, 0),
  real(51, 0),
  integer(71, 0),
  integer(72, 100),
  integer(73, 1),
  integer(74, 3),
  integer(75, 0),
  integer(76, 0),
  integer(77, 0),
  integer(78, 0),
];

const styleTags = (): NewTag[] => [
  integer(70, 0),
  real(40, 0),
  real(41, 1),
  real(50, 0),
  integer(71, 0),
  real(42, 2.5),
  text(3, 'txt'),
  text(4, ''),
];

export interface LayoutObjects {
  readonly tags: readonly NewTag[];
  readonly modelLayout: string;
  readonly paperLayout: string;
  readonly plotStyle: string;
}

/** The OBJECTS section: the root dictionary with groups, layouts of both spaces, and the plot style of layers. */
export const layoutObjects = (ids: Handles, modelRecord: string, paperRecord: string): LayoutObjects => {
  const [root, groups, layouts, styles, plotStyle, modelLayout, paperLayout] = Array.from({ length: 7 }, () =>
    ids.next(),
  ) as [string, string, string, string, string, string, string];
  const dictionary = (handle: string, owner: string, entries: readonly (readonly [string, string])[]): NewTag[] => [
    text(0, 'DICTIONARY'),
    text(5, handle),
    text(330, owner),
    text(100, 'AcDbDictionary'),
    integer(281, 1),
    ...entries.flatMap(([name, to]) => [text(3, name), text(350, to)]),
  ];
  return {
    modelLayout,
    paperLayout,
    plotStyle,
    tags: [
      ...dictionary(root, '0', [
        ['ACAD_GROUP', groups],
        ['ACAD_LAYOUT', layouts],
        ['ACAD_PLOTSTYLENAME', styles],
      ]),
      ...dictionary(groups, root, []),
      ...dictionary(layouts, root, [
        ['Layout1', paperLayout],
        ['Model', modelLayout],
      ]),
      text(0, 'ACDBDICTIONARYWDFLT'),
      text(5, styles),
      text(330, root),
      text(100, 'AcDbDictionary'),
      integer(281, 1),
      text(3, 'Normal'),
      text(350, plotStyle),
      text(100, 'AcDbDictionaryWithDefault'),
      text(340, plotStyle),
      text(0, 'ACDBPLACEHOLDER'),
      text(5, plotStyle),
      text(330, styles),
      ...layout(modelLayout, layouts, 'Model', 0, modelRecord, 1024),
      ...layout(paperLayout, layouts, 'Layout1', 1, paperRecord, 0),
    ],
  };
};

const layout = (
  handle: string,
  owner: string,
  name: string,
  order: number,
  record: string,
  plotFlags: number,
): NewTag[] => [
  text(0, 'LAYOUT'),
  text(5, handle),
  text(330, owner),
  text(100, 'AcDbPlotSettings'),
  text(1, ''),
  text(2, 'none_device'),
  text(4, ''),
  text(6, ''),
  ...[40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141].map((code) => real(code, 0)),
  real(142, 1),
  real(143, 1),
  integer(70, plotFlags),
  integer(72, 1),
  integer(73, 0),
  integer(74, 5),
  text(7, ''),
  integer(75, 16),
  real(147, 1),
  real(148, 0),
  real(149, 0),
  text(100, 'AcDbLayout'),
  text(1, name),
  integer(70, 1),
  integer(71, order),
  ...pair(10, 0, 0),
  ...pair(11, 420, 297),
  ...pair(12, 0, 0),
  real(32, 0),
  ...pair(14, 0, 0),
  real(34, 0),
  ...pair(15, 0, 0),
  real(35, 0),
  real(146, 0),
  ...pair(13, 0, 0),
  real(33, 0),
  ...pair(16, 1, 0),
  real(36, 0),
  ...pair(17, 0, 1),
  real(37, 0),
  integer(76, 0),
  text(330, record),
];
