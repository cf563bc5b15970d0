import type { Finding } from '../../finding.ts';
import { type Point, size, turn, unit } from '../../geometry/point.ts';
import { nearestWord, plainWords } from '../../measurements/words.ts';
import type { Cloth, EdgeRole, LandmarkName, LevelName, PartName } from '../../pattern/piece.ts';
import { edgeRoles, isEdgeName } from './edge-names.ts';
import { givenTwice, lengthAt, type Reading } from './reading.ts';
import type { SheetPath } from './source.ts';
import type { FilePlace, SheetEdge, SheetLandmark, SheetLevel, SheetPiece } from './types.ts';

type RawPlace = readonly [number, number];

/** A piece as the schema lets it through. */
export interface RawPiece {
  readonly at?: RawPlace;
  readonly name?: string | number;
  readonly part?: PartName;
  readonly cut?: number;
  readonly 'on fold'?: boolean;
  readonly mirrored?: boolean;
  readonly cloth?: Cloth;
  readonly up?: string | RawPlace;
  readonly allowance?: string | Readonly<Record<string, string>>;
  readonly edges?: readonly RawEdge[];
  readonly levels?: Readonly<Partial<Record<LevelName, string | RawPlace>>>;
  readonly landmarks?: Readonly<Partial<Record<LandmarkName, RawPlace | readonly RawPlace[]>>>;
  readonly grainline?: { readonly from: RawPlace; readonly to: RawPlace };
  readonly 'adjustment lines'?: readonly RawPlace[];
  readonly 'leave out'?: boolean;
}
interface RawEdge {
  readonly role: EdgeRole;
  readonly id?: string;
  readonly from: RawPlace;
  readonly to: RawPlace;
  readonly through?: RawPlace;
}

/** The pieces of a sheet, by the form the schema lets through. */
export const readPieces = (raw: Readonly<Record<string, RawPiece>>, reading: Reading): readonly SheetPiece[] => {
  const seen = new Set<string>();
  return Object.entries(raw).map(([key, piece]) => {
    if (seen.has(plainWords(key))) {
      reading.findings.push(givenTwice(`The piece '${key}'`, reading.source.where(['pieces'], key)));
    }
    seen.add(plainWords(key));
    return pieceOf(key, piece, reading);
  });
};

const pieceOf = (key: string, raw: RawPiece, reading: Reading): SheetPiece => {
  const path: SheetPath = ['pieces', key];
  const up = raw.up === undefined ? undefined : directionAt([...path, 'up'], raw.up, reading);
  const { allowance, allowances } = allowancesOf([...path, 'allowance'], raw, reading);
  return {
    key,
    line: reading.source.where(['pieces'], key).line ?? 1,
    ...(raw.at === undefined ? {} : { at: placeOf(raw.at) }),
    ...(raw.name === undefined ? {} : { name: reading.source.written([...path, 'name']) }),
    ...(raw.part === undefined ? {} : { part: raw.part }),
    ...(raw.cut === undefined ? {} : { cut: raw.cut }),
    ...(raw['on fold'] === undefined ? {} : { onFold: raw['on fold'] }),
    ...(raw.mirrored === undefined ? {} : { mirrored: raw.mirrored }),
    ...(raw.cloth === undefined ? {} : { cloth: raw.cloth }),
    ...(up === undefined ? {} : { up }),
    ...(allowance === undefined ? {} : { allowance }),
    allowances,
    edges: (raw.edges ?? []).map((edge, i) => edgeOf(edge, reading.source.where([...path, 'edges', i]).line ?? 1)),
    levels: Object.entries(raw.levels ?? {}).flatMap(
      ([name, text]) => levelOf(name as LevelName, text, [...path, 'levels', name], reading) ?? [],
    ),
    landmarks: landmarksOf(raw),
    ...(raw.grainline === undefined
      ? {}
      : { grainline: { from: placeOf(raw.grainline.from), to: placeOf(raw.grainline.to) } }),
    adjustmentLines: (raw['adjustment lines'] ?? []).map(placeOf),
    leaveOut: raw['leave out'] ?? false,
  };
};

const placeOf = ([x, y]: RawPlace): FilePlace => ({ x, y });

const landmarksOf = (raw: RawPiece): readonly SheetLandmark[] =>
  Object.entries(raw.landmarks ?? {}).flatMap(([name, places]) =>
    (isOnePlace(places) ? [places] : places).map((place) => ({ name: name as LandmarkName, at: placeOf(place) })),
  );
const isOnePlace = (places: RawPlace | readonly RawPlace[]): places is RawPlace => typeof places[0] === 'number';

const edgeOf = (raw: RawEdge, line: number): SheetEdge => ({
  role: raw.role,
  ...(raw.id === undefined ? {} : { id: raw.id }),
  from: placeOf(raw.from),
  to: placeOf(raw.to),
  ...(raw.through === undefined ? {} : { through: placeOf(raw.through) }),
  line,
});

const allowancesOf = (
  path: SheetPath,
  raw: RawPiece,
  reading: Reading,
): { readonly allowance?: number; readonly allowances: Readonly<Record<string, number>> } => {
  if (raw.allowance === undefined) return { allowances: {} };
  if (typeof raw.allowance === 'string') {
    const allowance = lengthAt(path, raw.allowance, reading);
    return allowance === undefined ? { allowances: {} } : { allowance, allowances: {} };
  }
  const own = (raw.edges ?? []).flatMap((edge) => edge.id ?? []);
  const allowances: Record<string, number> = {};
  for (const [edge, text] of Object.entries(raw.allowance)) {
    const mm = lengthAt([...path, edge], text, reading);
    if (mm !== undefined) allowances[edge] = mm;
    const known = edge === 'other' || isEdgeName(edge) || own.some((id) => plainWords(id) === plainWords(edge));
    if (!known) reading.findings.push(edgeUnknown(edge, own, reading.source.where(path, edge)));
  }
  const { other, ...byEdge } = allowances;
  return other === undefined ? { allowances: byEdge } : { allowance: other, allowances: byEdge };
};

const edgeUnknown = (edge: string, own: readonly string[], where: Finding['where']): Finding => {
  const near = nearestWord(edge, [...edgeRoles, ...own, 'other']);
  return {
    code: 'sheet-edge-unknown',
    level: 'error',
    where,
    message: `'${edge}' does not name an edge.`,
    try:
      near === undefined
        ? `Edges are named ${edgeRoles.join(', ')}, or by an id given under 'edges'.`
        : `Did you mean '${near}'?`,
  };
};

const belowText =
  /^(.*?)\s+below\s+(?:the\s+)?(waist|top hip|hip|knee|chest|blade|underarm|bust|crotch|biceps|elbow)(?:\s+(?:line|level))?$/i;

const levelOf = (
  name: LevelName,
  raw: string | RawPlace,
  path: SheetPath,
  reading: Reading,
): SheetLevel | undefined => {
  const where = reading.source.where(path);
  const line = where.line ?? 1;
  if (typeof raw !== 'string') return { name, lies: { by: 'place', at: placeOf(raw) }, line };
  const match = belowText.exec(raw.trim());
  if (match === null) {
    reading.findings.push({
      code: 'sheet-value-wrong',
      level: 'error',
      where,
      message: `'${raw}' does not say where the ${name} level lies.`,
      try: `Write '200 mm below waist', or a place [x, y] that it runs through.`,
    });
    return undefined;
  }
  const distance = lengthAt(path, match[1] ?? '', reading);
  if (distance === undefined) return undefined;
  return { name, lies: { by: 'distance', below: (match[2] ?? '').toLowerCase() as LevelName, distance }, line };
};

const directions: ReadonlyMap<string, Point> = new Map([
  ['up', { x: 0, y: 1 }],
  ['down', { x: 0, y: -1 }],
  ['left', { x: -1, y: 0 }],
  ['right', { x: 1, y: 0 }],
]);

/** A direction as the drawing is seen, as a unit vector. */
const directionAt = (path: SheetPath, raw: string | RawPlace, reading: Reading): Point | undefined => {
  const direction = typeof raw === 'string' ? namedDirection(raw.trim()) : unit({ x: raw[0], y: raw[1] });
  if (direction !== undefined && size(direction) > 0) return direction;
  reading.findings.push({
    code: 'sheet-value-wrong',
    level: 'error',
    where: reading.source.where(path),
    message: `'${String(raw)}' is not a direction.`,
    try: `Write up, down, left, right, or degrees anticlockwise from the right: '90 degrees' is up.`,
  });
  return undefined;
};

const namedDirection = (text: string): Point | undefined => {
  const degrees = /^([+-]?\d+(?:\.\d+)?)\s*(?:°|degrees?|deg)$/i.exec(text)?.[1];
  return degrees === undefined
    ? directions.get(text.toLowerCase())
    : turn({ x: 1, y: 0 }, (Number(degrees) * Math.PI) / 180);
};
