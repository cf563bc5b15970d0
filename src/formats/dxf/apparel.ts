import type { Finding } from '../../finding.ts';
import { type Bounds, EMPTY_BOUNDS, unionBounds } from '../../geometry/bounds.ts';
import { type ChordPoint, chords } from '../../geometry/chords.ts';
import { type Path, pathBounds } from '../../geometry/path.ts';
import { angleOf, type Point, subtract } from '../../geometry/point.ts';
import {
  type Affine,
  apply,
  applyToVector,
  compose,
  rotation,
  transformSegment,
  translation,
} from '../../geometry/transform.ts';
import type { NotchShape } from '../sheet.ts';
import type { ApparelOptions, ApparelPattern, ApparelPiece, ApparelText } from './apparel-pattern.ts';
import { type EntitySpelling, isEscaped, lineEntity, pointEntity, textEntity } from './cutter-entities.ts';
import { section, spelled } from './cutter-file.ts';
import type { NewTag } from './edits.ts';
import { integer, pointTags, real, text } from './make.ts';
import { newHandles, uniqueName } from './names.ts';

/** Layers of the layout (ASTM D6673 after ANSI/AAMA-292; from memory, agreed by a second listing for 1 to 15 and 80 to 82). */
const LAYER = {
  boundary: '1',
  turn: '2',
  curve: '3',
  mirror: '6',
  grain: '7',
  internal: '8',
  cutout: '11',
  drill: '13',
  sew: '14',
  annotation: '15',
} as const;
const NOTCH_LAYERS: Readonly<Record<NotchShape, string>> = {
  slit: '4',
  v: '4',
  t: '80',
  castle: '81',
  check: '82',
  u: '83',
};

const TOLERANCE = 0.1;
const LEAST_STEP = 0.2;
/** Letters, the space between lines of them, and between pieces in the drawing, mm. */
const LETTERS = 5;
const LINE_SPACE = 10;
const APART = 50;
/** Decimals that 0.0001 mm needs. */
const PLACES = { mm: 4, in: 6 } as const;
/** Facts that are written afresh: a text of the source that states them is not repeated. */
const FACT =
  /^\s*(piece name|size|quantity|material|category|style name|sample size|units|author|grade rule table)\s*:/i;

/**
 * The pattern as a file of the apparel exchange layout: R12 in 7 bits, an empty header, no tables, a block to each
 * piece with its grain along x and its lower left corner at the origin, and texts that state name, size and cut count.
 * Where pieces are placed in the drawing means nothing: they lie in a row, so that none covers another.
 */
export const writeApparel = (
  pattern: ApparelPattern,
  options: ApparelOptions = {},
): { readonly bytes: Uint8Array; readonly findings: readonly Finding[] } => {
  const { units = 'mm' } = options;
  const per = units === 'in' ? 25.4 : 1;
  const used = new Set<string>();
  const spelling: EntitySpelling = { version: 'R12', ids: newHandles(), owner: '', places: PLACES[units] };
  const blocks: NewTag[] = [];
  const inserts: NewTag[] = [];
  let x = 0;
  for (const piece of pattern.pieces) {
    const toBlock = blockFrame(piece);
    const name = uniqueName(blockName(piece.name), used);
    const block = newBlock(compose(scaleTo(per), toBlock), per, options.tolerance ?? TOLERANCE, spelling);
    blocks.push(...blockTags(name, [...block.lines(piece), ...block.words(factsOf(piece, pattern), piece)]));
    inserts.push(...insertTags(name, { x: x / per, y: 0 }));
    x += boundsIn(piece, toBlock).maxX + APART;
  }
  const style = [
    `Style Name: ${pattern.style}`,
    `Sample Size: ${pattern.size}`,
    `Units: ${units === 'in' ? 'ENGLISH' : 'METRIC'}`,
    'Author: retrue',
  ].flatMap((line, i) => {
    const at = { x: 0, y: (-2 * APART - i * LINE_SPACE) / per };
    return textEntity(
      { text: line, at, angle: 0, height: LETTERS / per, anchor: 'start' },
      1,
      LAYER.boundary,
      spelling,
    );
  });
  const bytes = spelled([
    ...section('HEADER', []),
    ...section('BLOCKS', blocks),
    ...section('ENTITIES', [...inserts, ...style]),
    text(0, 'EOF'),
  ]);
  return { bytes, findings: findingsOn(pattern) };
};

/** The rigid move of a piece from where it lies into its block: grain along x, lower left corner at the origin. */
export const blockFrame = (piece: ApparelPiece): Affine => {
  const turned = piece.grain ? rotation(-angleOf(subtract(piece.grain[1], piece.grain[0]))) : rotation(0);
  const box = boundsIn(piece, turned);
  return compose(translation({ x: -box.minX, y: -box.minY }), turned);
};

const boundsIn = (piece: ApparelPiece, map: Affine): Bounds =>
  [piece.boundary, ...(piece.sewLine ? [piece.sewLine] : [])].reduce(
    (box, path) => unionBounds(box, pathBounds(moved(path, map))),
    EMPTY_BOUNDS,
  );

const moved = (path: Path, map: Affine): Path => ({
  segments: path.segments.flatMap((s) => transformSegment(map, s)),
  closed: path.closed,
});

/** R12 names blocks with at most 31 capitals, figures, hyphens and low lines; the whole name stands in a text. */
const blockName = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toUpperCase()
    .replace(/[^A-Z0-9-]+/g, '_')
    .replace(/^_+|_+$/g, '')
    .slice(0, 27) || 'PIECE';

const scaleTo = (per: number): Affine => ({ a: 1 / per, b: 0, c: 0, d: 1 / per, e: 0, f: 0 });

const factsOf = (piece: ApparelPiece, pattern: ApparelPattern): string[] => [
  `Piece Name: ${piece.name}`,
  `Size: ${pattern.size}`,
  `Quantity: ${piece.quantity}`,
  `Material: ${piece.material}`,
  ...(piece.category === '' ? [] : [`Category: ${piece.category}`]),
  ...(piece.mirroredPair ? ['Annotation: mirrored pair'] : []),
  ...(piece.withoutAllowance ? ['Annotation: seam allowance not included'] : []),
];

/** Writes what lies in one block, in file units. */
const newBlock = (toFile: Affine, per: number, tolerance: number, spelling: EntitySpelling) => {
  const vertices = (path: Path, keep: readonly Point[]): ChordPoint[] => {
    const map = (points: readonly Point[]): Point[] => points.map((p) => apply(toFile, p));
    return chords(moved(path, toFile), { tolerance: tolerance / per, least: LEAST_STEP / per, keep: map(keep) });
  };
  const ring = (path: Path, layer: string, keep: readonly Point[]): NewTag[] => {
    const points = vertices(path, keep);
    const kinds = points.flatMap(({ at, kind }) =>
      pointEntity(at, undefined, kind === 'curve' || kind === 'kept' ? LAYER.curve : LAYER.turn, spelling),
    );
    return [...lineEntity(points, path.closed, layer, spelling), ...(path.closed ? kinds : [])];
  };
  const straight = ([from, to]: readonly [Point, Point], layer: string): NewTag[] =>
    lineEntity([{ at: apply(toFile, from) }, { at: apply(toFile, to) }], false, layer, spelling);
  const lettered = ({ text: words, at, angle, height }: ApparelText, layer: string): NewTag[] =>
    textEntity(
      {
        text: words,
        at: apply(toFile, at),
        angle: angleOf(applyToVector(toFile, { x: Math.cos(angle), y: Math.sin(angle) })),
        height: height / per,
        anchor: 'start',
      },
      1,
      layer,
      spelling,
    );

  const lines = (piece: ApparelPiece): NewTag[] => [
    ...ring(
      piece.boundary,
      LAYER.boundary,
      piece.notches.map((n) => n.at),
    ),
    ...(piece.sewLine ? ring(piece.sewLine, LAYER.sew, []) : []),
    ...(piece.mirrorLine ? straight(piece.mirrorLine, LAYER.mirror) : []),
    ...(piece.grain ? straight(piece.grain, LAYER.grain) : []),
    ...piece.internals.flatMap((l) => {
      const points = vertices(l.path, []);
      return lineEntity(points, l.path.closed, l.cutout ? LAYER.cutout : LAYER.internal, spelling);
    }),
    ...piece.notches.flatMap((n) => {
      const inward = applyToVector(toFile, n.inward);
      return pointEntity(apply(toFile, n.at), inward, NOTCH_LAYERS[n.shape], spelling);
    }),
    ...piece.drills.flatMap((p) => pointEntity(apply(toFile, p), undefined, LAYER.drill, spelling)),
  ];
  const words = (facts: readonly string[], piece: ApparelPiece): NewTag[] => {
    const start = placeForFacts(piece, toFile, facts.length, per);
    return [
      ...facts.flatMap((fact, i) => {
        const at = { x: start.x, y: start.y - (i * LINE_SPACE) / per };
        return textEntity(
          { text: fact, at, angle: 0, height: LETTERS / per, anchor: 'start' },
          1,
          LAYER.boundary,
          spelling,
        );
      }),
      ...piece.texts.filter((t) => !FACT.test(t.text)).flatMap((t) => lettered(t, LAYER.annotation)),
    ];
  };
  return { lines, words };
};

/** The facts stand in the lower part of the piece, clear of the labels at its middle, from half its height down. */
const placeForFacts = (piece: ApparelPiece, toFile: Affine, count: number, per: number): Point => {
  const box = boundsIn(piece, toFile);
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const start = Math.max(0.5 * height, Math.min(0.85 * height, (count * LINE_SPACE) / per));
  return { x: box.minX + 0.08 * width, y: box.minY + start };
};

const blockTags = (name: string, content: readonly NewTag[]): NewTag[] => [
  ...[text(0, 'BLOCK'), text(8, LAYER.boundary), text(2, name), integer(70, 0)],
  ...[...pointTags(10, { x: 0, y: 0 }, 1), real(30, 0, 1), text(3, name)],
  ...content,
  ...[text(0, 'ENDBLK'), text(8, LAYER.boundary)],
];

const insertTags = (name: string, at: Point): NewTag[] => [
  ...[text(0, 'INSERT'), text(8, LAYER.boundary), text(2, name), ...pointTags(10, at, 4), real(30, 0, 1)],
];

const findingsOn = (pattern: ApparelPattern): Finding[] => {
  const findings: Finding[] = [
    {
      code: 'dxf-apparel-relations',
      level: 'note',
      where: {},
      message:
        'The apparel layout says what each piece is, not which edges are sewn together or what the pattern was drafted for.',
      try: 'Send the pattern sheet along (survey --write-sheet).',
    },
  ];
  for (const piece of pattern.pieces) {
    if (piece.grain) continue;
    findings.push({
      code: 'dxf-apparel-no-grain',
      level: 'warning',
      where: { piece: piece.name },
      message: `${piece.name} has no grainline; it goes out as it lies, and its grain is anybody's guess.`,
      try: 'Draw the grainline, or state its ends in the pattern sheet.',
    });
  }
  const words = pattern.pieces.flatMap((p) => [p.name, ...p.texts.map((t) => t.text)]);
  if ([pattern.style, pattern.size, ...words].some(isEscaped)) findings.push(escapedNote());
  return findings;
};

const escapedNote = (): Finding => ({
  code: 'dxf-letters-escaped',
  level: 'note',
  where: {},
  message:
    'Letters beyond ASCII are written as codes (\\U+00C4), for the layout has 7-bit texts; other programs may show the codes.',
  try: 'Tell the receiver, or letter the pieces in plain letters.',
});
