import type { Drawing } from '../../formats/drawing.ts';
import { between, type Point } from '../../geometry/point.ts';
import { edgeLength, edgeSpans, outlineSegments } from '../../pattern/edges.ts';
import type { Judged } from '../../pattern/evidence.ts';
import type { Doubt, Pattern } from '../../pattern/pattern.ts';
import type { Edge, InnerLine, Level, LevelName, Piece } from '../../pattern/piece.ts';
import { acrossOf, fromPaper } from '../../pattern/upright.ts';
import { isEdgeName } from './edge-names.ts';
import {
  because,
  directionText,
  exactLength,
  indented,
  lengthNote,
  marked,
  noted,
  placeText,
  quoted,
} from './write-text.ts';

/** What the sheet says of one piece, each line with its evidence. What is in doubt is asked, not stated. */
export const pieceLines = (piece: Piece, pattern: Pattern, drawing: Drawing): readonly string[] => {
  const doubts = pattern.doubts.filter((doubt) => doubt.piece === piece.id && !isAboutMates(doubt));
  const asked = new Set(doubts.map((doubt) => keyOf(doubt.sheetLine)));
  const say = (key: string, value: string, judged: Judged): readonly string[] => {
    if (asked.has(key)) return [];
    const line = noted(`${key}: ${value}`, because(judged));
    return isSure(judged) ? [line] : marked('Not sure of this:', line);
  };
  const stated = statedEdges(piece, doubts);
  const lines = [
    ...(piece.name === '' ? [] : [`name: ${quoted(piece.name)}`]),
    ...(piece.part === 'unknown' ? askForPart(asked) : say('part', piece.part, piece.partJudged)),
    ...say('cut', `${piece.cut.count}`, piece.cut),
    ...say('on fold', `${piece.half}`, foldJudged(piece)),
    ...say('mirrored', `${piece.cut.mirrored}`, piece.cut),
    ...say('cloth', piece.cut.cloth, piece.cut),
    ...say('up', directionText(piece.upright.up), piece.upright),
    ...allowanceLines(piece, stated),
    ...edgeLines(piece, stated, drawing),
    ...levelLines(piece, drawing),
    ...landmarkLines(piece, drawing),
    ...grainLines(piece, drawing),
    ...adjustmentLinesOf(piece, drawing),
    ...doubts.flatMap((doubt) => marked(doubt.message, ...doubt.sheetLine.split('\n'))),
  ];
  const printed = piece.name === '' ? 'no name is printed on it' : `printed: ${piece.name}`;
  return ['', noted(`  ${quoted(piece.id)}:`, printed), ...indented(lines, 4)];
};

/** Doubts about mates stand with the mates. */
export const isAboutMates = (doubt: Doubt): boolean => keyOf(doubt.sheetLine) === 'mates';

/** The key that a line of the sheet begins with. */
const keyOf = (sheetLine: string): string => sheetLine.slice(0, Math.max(0, sheetLine.indexOf(':'))).trim();

/** Below an even chance it is asked: stated in the sheet it would count as certain. */
const isSure = (judged: Judged): boolean => judged.confidence >= 0.5;

const foldJudged = (piece: Piece): Judged => piece.edges.find((edge) => edge.role === 'fold') ?? piece.cut;

const askForPart = (asked: ReadonlySet<string>): readonly string[] => {
  const choices = 'part: skirt front | bodice back | sleeve | trouser front | dress front | waistband | …';
  return asked.has('part') ? [] : marked('What is this piece of the garment?', choices);
};

/** Edges the sheet can state: their role is known and not in doubt. */
const statedEdges = (piece: Piece, doubts: readonly Doubt[]): readonly Edge[] =>
  doubts.some((doubt) => keyOf(doubt.sheetLine) === 'up')
    ? []
    : piece.edges.filter((e) => e.role !== 'unknown' && isSure(e) && !doubts.some((doubt) => doubt.edge === e.id));

/** Stated only where the seam line was reckoned from it; a drawn seam line says it better. */
const allowanceLines = (piece: Piece, stated: readonly Edge[]): readonly string[] => {
  if (piece.seamLineFrom !== 'derived') return [];
  const nameOf = (edge: Edge): string => (stated.includes(edge) || isEdgeName(edge.id) ? edge.id : edge.role);
  const byName = new Map(piece.edges.map((edge) => [nameOf(edge), exactLength(edge.allowance)]));
  return ['allowance:', ...[...byName].map(([name, length]) => `  ${quoted(name)}: ${length}`)];
};

const edgeLines = (piece: Piece, stated: readonly Edge[], drawing: Drawing): readonly string[] => {
  if (piece.edges.length === 0) return [];
  const asked = piece.edges.filter((edge) => !stated.includes(edge));
  return [
    ...(stated.length === 0 ? ['# edges:'] : ['edges:']),
    ...stated.map((edge) => noted(`  - ${edgeText(piece, edge, drawing)}`, edgeNote(piece, edge, drawing))),
    ...asked.flatMap((edge) => [
      `# ? Is this the role of the edge? It is ${lengthNote(edgeLength(piece, edge), drawing)} long.`,
      noted(`# - ${edgeText(piece, edge, drawing)}`, because(edge)),
    ]),
  ];
};

const edgeText = (piece: Piece, edge: Edge, drawing: Drawing): string => {
  const { from, to, through } = placesOf(piece, edge);
  const parts = [
    `role: ${edge.role}`,
    ...(edge.id === edge.role ? [] : [`id: ${quoted(edge.id)}`]),
    `from: ${placeText(from, drawing)}`,
    `to: ${placeText(to, drawing)}`,
    ...(through === undefined ? [] : [`through: ${placeText(through, drawing)}`]),
  ];
  return `{ ${parts.join(', ')} }`;
};

const edgeNote = (piece: Piece, edge: Edge, drawing: Drawing): string => {
  const drawn = piece.seamLineFrom === 'drawn' && edge.allowance > 0;
  const length = `${lengthNote(edgeLength(piece, edge), drawing)} long`;
  return [length, ...(drawn ? [`allowance ${lengthNote(edge.allowance, drawing)} as drawn`] : []), because(edge)].join(
    ' · ',
  );
};

/** Corners of an edge, and its middle where the other way round the outline is shorter. */
const placesOf = (piece: Piece, edge: Edge): { from: Point; to: Point; through?: Point } => {
  const spans = edgeSpans(piece, edge);
  const segments = spans.flatMap((i) => [...(piece.seamLine.spans[i]?.segments ?? [])]);
  const from = segments[0]?.from ?? piece.upright.origin;
  const to = segments.at(-1)?.to ?? piece.upright.origin;
  const chords = (list: typeof segments) =>
    list.reduce((sum, s) => sum + Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y), 0);
  const isLonger = chords(segments) * 2 > chords(outlineSegments(piece.seamLine));
  const middle = segments[Math.floor(segments.length / 2)];
  if (!isLonger || middle === undefined) return { from, to };
  return { from, to, through: between(middle.from, middle.to, 0.5) };
};

const levelLines = (piece: Piece, drawing: Drawing): readonly string[] => {
  const onEdge = new Set(['hem', 'wrist', ...piece.edges.map((edge) => edge.role)]);
  const stated = piece.levels.filter((level) => !onEdge.has(level.name));
  const has = (name: LevelName): boolean => piece.levels.some((level) => level.name === name);
  const needsHip = /^(skirt|trouser|dress)/.test(piece.part) && !has('hip');
  const needsWaist = piece.part.startsWith('dress') && !has('waist');
  return [
    ...(stated.length === 0 ? [] : ['levels:']),
    ...stated.map((level) => noted(`  ${level.name}: ${placeText(levelPlace(piece, level), drawing)}`, because(level))),
    ...(needsHip
      ? marked('Where is the hip level?', ...(stated.length === 0 ? ['levels:'] : []), '  hip: 200 mm below waist')
      : []),
    ...(needsWaist
      ? marked('Where is the waist?', ...(stated.length === 0 ? ['levels:'] : []), '  waist: [x, y]')
      : []),
  ];
};

/** Bust points; one that is only assumed is asked for. */
const landmarkLines = (piece: Piece, drawing: Drawing): readonly string[] => {
  const [first] = piece.landmarks;
  if (!first) return [];
  const places = piece.landmarks.map((l) => placeText(l.at, drawing));
  const place = places.length === 1 ? places[0] : `[${places.join(', ')}]`;
  const line = noted(`landmarks: { bust point: ${place} }`, because(first));
  return first.marks.length > 0 || first.confidence === 1 ? [line] : marked('Not sure of this:', line);
};

const levelPlace = (piece: Piece, level: Level): Point => {
  const corners = outlineSegments(piece.seamLine).map((s) => acrossOf(piece.upright, s.from));
  const across = corners.reduce((sum, x) => sum + x, 0) / Math.max(1, corners.length);
  return fromPaper(piece.upright, { x: across, y: level.height });
};

const grainLines = (piece: Piece, drawing: Drawing): readonly string[] => {
  const { grainline } = piece;
  if (grainline === undefined)
    return marked('No grainline was found. Its two ends:', 'grainline: { from: [x, y], to: [x, y] }');
  const { from, to } = grainline;
  return [noted(`grainline: { from: ${placeText(from, drawing)}, to: ${placeText(to, drawing)} }`, because(grainline))];
};

const adjustmentLinesOf = (piece: Piece, drawing: Drawing): readonly string[] => {
  if (piece.adjustmentLines.length === 0) return [];
  const byId = new Map(piece.lines.map((line) => [line.id, line]));
  return [
    'adjustment lines:',
    ...piece.adjustmentLines.map((mark) => {
      const first = byId.get(mark.lines[0] ?? '');
      const at = first === undefined ? fromPaper(piece.upright, { x: 0, y: mark.height }) : middleOf(first);
      return noted(`  - ${placeText(at, drawing)}`, because(mark));
    }),
  ];
};

const middleOf = (line: InnerLine): Point => {
  const segments = line.spans.flatMap((span) => [...span.segments]);
  const [first, last] = [segments[0], segments.at(-1)];
  return first === undefined || last === undefined ? { x: 0, y: 0 } : between(first.from, last.to, 0.5);
};
