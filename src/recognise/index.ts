import type { Finding } from '../finding.ts';
import type { Drawable, Drawing, PathDrawable } from '../formats/drawing.ts';
import type { Doubt, Pattern, View } from '../pattern/pattern.ts';
import { assemble } from './assemble.ts';
import type { Containers } from './containers.ts';
import { readContainers, repeatsIn } from './containers.ts';
import type { Context } from './context.ts';
import { sheetPieceFor } from './from-sheet.ts';
import { frontsAndBacks } from './fronts-and-backs.ts';
import { readHints } from './hints.ts';
import { sortLoops } from './loops.ts';
import { readMates } from './mates.ts';
import { fieldAmong } from './names.ts';
import { openOutlines } from './open-outlines.ts';
import type { Garment } from './parts.ts';
import { garmentNamedIn, idFor, partsNamedIn, readCloth } from './parts.ts';
import type { Named } from './piece-reading.ts';
import type { DrawnPiece, Gathered } from './pieces.ts';
import { gatherPieces } from './pieces.ts';
import { implausibleSizes, tooSmallForPieces } from './plausible.ts';
import { readName, readPiece } from './read-piece.ts';
import type { LabelSubject, PatternSheet } from './sheet/types.ts';
import { readStatedAllowance } from './stating.ts';
import type { ExtraWords, Vocabulary } from './vocabulary.ts';
import { normalise, vocabulary } from './vocabulary.ts';
import type { Meaning } from './words.ts';

export interface RecogniseOptions {
  /** What the drawing does not say. It goes before every reading of the drawing. */
  readonly sheet?: PatternSheet;
}

export interface Recognised {
  readonly pattern: Pattern;
  readonly findings: readonly Finding[];
}

/**
 * What the lines of a drawing mean: pieces, their outlines, edges with roles, levels, darts, notches, grain, and which
 * edges are sewn together, each with its evidence. What cannot be told is a doubt or a finding; nothing is guessed in
 * silence. Every drawable is on a piece, among `loose`, or among `repeats`.
 */
export const recognise = (drawing: Drawing, options: RecogniseOptions = {}): Recognised => {
  const findings: Finding[] = [];
  const doubts: Doubt[] = [];
  const { sheet } = options;
  const words = vocabulary(sheet ? extraWords(sheet) : {});
  const containers = readContainers(drawing);
  const repeats = repeatsIn(drawing, containers, largestArea);
  const drawables = drawing.drawables.filter((d) => !repeats.has(d.id));
  const hints = readHints(drawing, words, holdsPiece(drawing, containers));
  const gathered = gatherPieces(drawing, containers, drawables, hints, words);
  const texts = drawing.drawables.filter((d) => d.kind === 'text');
  const garment = garmentOf(drawing, sheet, texts, words);
  const otherwise = cutOtherwiseIn(drawing, texts, words);
  const looseTexts = gathered.loose.filter((d) => d.kind === 'text');
  const allowance = readStatedAllowance(looseTexts, words);
  const context: Context = {
    drawing,
    vocabulary: words,
    hints,
    panelled: [],
    ...(sheet ? { sheet } : {}),
    ...(garment ? { garment } : {}),
    ...(otherwise ? { cutOtherwise: otherwise } : {}),
    ...(allowance ? { allowance } : {}),
    tell: (finding) => void findings.push(finding),
    doubt: (doubt) => void doubts.push(doubt),
  };
  const entries = entriesOf(gathered.pieces, context);
  const leftOut = entries.filter((n) => n.leftOut);
  const parts = [...entries.map((n) => n.named.part.part), ...(sheet?.pieces.map((p) => p.part ?? 'unknown') ?? [])];
  const panelled = (['front', 'back'] as const).filter((of) => parts.some((p) => p.endsWith(` side ${of}`)));
  const read = entries
    .filter((n) => !n.leftOut)
    .map(({ named: n, id }) => ({ named: n, read: readPiece(n, id, { ...context, panelled }) }));
  const told = frontsAndBacks(read.map((r) => r.read));
  const pieces = read.map(({ named: n, read: r }) => {
    const part = told.get(r);
    return assemble(part ? readPiece({ ...n, part }, r.id, { ...context, panelled }) : r, context);
  });
  const mates = readMates(pieces, context);
  findings.push(...generalFindings(drawing, gathered, repeats), ...missingSheetPieces(sheet, entries, drawing));
  // A wrong unit is the reason for much else that is found: it is told first.
  findings.unshift(...implausibleSizes(pieces, drawing));
  const pattern: Pattern = {
    fileName: drawing.fileName,
    style: sheet?.style ?? fieldAmong(texts, 'style name', 'style') ?? titleOf(drawing).style,
    size: sheet?.size ?? fieldAmong(texts, 'sample size', 'base size', 'size') ?? titleOf(drawing).size,
    pieces,
    mates: mates.whole,
    ...(mates.within.length > 0 ? { within: mates.within } : {}),
    draftedFor: sheet?.draftedFor ?? {},
    loose: [...gathered.loose, ...leftOut.flatMap((n) => drawablesOf(n.named.drawn))].map((d) => d.id),
    repeats,
    doubts,
    views: viewsOf(sheet),
  };
  return { pattern, findings };
};

const largestArea = (paths: readonly PathDrawable[]): number =>
  sortLoops(paths, () => true).loops.reduce((most, l) => Math.max(most, l.trace.area), 0);

/** A group holds a piece when a closed line and a text lie in it. */
const holdsPiece = (drawing: Drawing, containers: Containers): ((container: string) => boolean) => {
  const [closed, lettered] = [new Set<string>(), new Set<string>()];
  for (const d of drawing.drawables) {
    const into = d.kind === 'text' ? lettered : d.kind === 'path' && d.path.closed ? closed : undefined;
    if (into) for (const c of containers.upwards(d.container)) into.add(c.id);
  }
  return (container) => closed.has(container) && lettered.has(container);
};

const subjects: Readonly<Record<LabelSubject, Meaning>> = {
  grain: 'grain',
  'adjustment line': 'adjustment',
  fold: 'fold',
  centre: 'centre',
  waist: 'waist',
  hip: 'hip',
  'top hip': 'top hip',
  hem: 'hem',
  side: 'side',
  neck: 'neck',
  shoulder: 'shoulder',
  armhole: 'armhole',
  'bust line': 'bust',
  'chest line': 'chest',
  'back width line': 'blade',
  'underarm line': 'underarm',
  'bust point': 'bust point',
  'sleeve cap': 'cap',
  'biceps line': 'biceps',
  'elbow line': 'elbow',
  wrist: 'wrist',
  crotch: 'crotch',
  inseam: 'inseam',
  'knee line': 'knee',
  'panel seam': 'panel seam',
  dart: 'dart',
  notch: 'notch',
  'cutting line': 'cutting line',
  'seam line': 'seam line',
  cut: 'cut',
};

const extraWords = (sheet: PatternSheet): ExtraWords => {
  const extra: Partial<Record<Meaning, readonly string[]>> = {};
  for (const [subject, phrases] of Object.entries(sheet.labels)) extra[subjects[subject as LabelSubject]] = phrases;
  return extra;
};

/** The garment named most often among texts, names and the style; a part of the sheet counts as well. */
const garmentOf = (
  drawing: Drawing,
  sheet: PatternSheet | undefined,
  texts: readonly { readonly text: string }[],
  words: Vocabulary,
): Garment | undefined => {
  const sources = [
    ...texts.map((t) => t.text),
    ...drawing.containers.flatMap((c) => [c.label, c.name.replace(/[_-]+/g, ' ')]),
    drawing.fileName.replace(/\.[^.]*$/, '').replace(/[_-]+/g, ' '),
    sheet?.style ?? '',
    ...(sheet?.pieces.map((p) => p.part ?? '') ?? []),
  ];
  const counts = new Map<Garment, number>();
  for (const text of sources) {
    const garment = garmentNamedIn(partsNamedIn([text], words));
    if (garment) counts.set(garment, (counts.get(garment) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
};

/** The word by which a text, a group or the file's name says that the sleeves are cut in another way than set in. */
const cutOtherwiseIn = (
  drawing: Drawing,
  texts: readonly { readonly text: string }[],
  words: Vocabulary,
): string | undefined =>
  [...texts.map((t) => t.text), ...drawing.containers.map((c) => c.label), drawing.fileName.replace(/[_.-]+/g, ' ')]
    .flatMap((text) => words.phrasesIn(text))
    .find((p) => p.meaning === 'sleeve cut otherwise')?.found;

/** Title of the drawing, and the size when it closes with one: `Chorus skirt size 12`. */
const titleOf = (drawing: Drawing): { style: string; size: string } => {
  const label = drawing.containers.find((c) => c.kind === 'root')?.label.trim() ?? '';
  const sized = /^(.*?)[\s,;:·-]*\b(?:size|gr(?:ö|oe)(?:ß|ss)e|taille|talla|taglia|tamanho|maat)[\s:]+(\S+)$/iu.exec(
    label,
  );
  return { style: sized?.[1] ?? label, size: sized?.[2] ?? '' };
};

interface Entry {
  readonly named: Named;
  readonly id: string;
  readonly leftOut: boolean;
}

/** Gives each piece its id, by what the drawing alone says, so that a pattern sheet can rely on it. */
const entriesOf = (pieces: readonly DrawnPiece[], context: Context): Entry[] => {
  const taken = new Set<string>();
  return pieces.map((drawn) => {
    const named = readName(drawn, context);
    const cloth = readCloth([named.name, ...drawn.texts.map((t) => t.text)], context.vocabulary);
    const id = idFor(named.part.part, named.name, cloth, taken);
    taken.add(id);
    const sheet = sheetPieceFor(context.sheet, context.drawing, {
      id,
      name: named.name,
      polygon: drawn.outer.trace.polygon,
    });
    return { named, id, leftOut: sheet?.leaveOut ?? false };
  });
};

const drawablesOf = (p: DrawnPiece): Drawable[] => [
  ...p.outer.drawables,
  ...p.inner.flatMap((l) => l.drawables),
  ...p.lines,
  ...p.texts,
  ...p.points,
];

const generalFindings = (drawing: Drawing, gathered: Gathered, repeats: ReadonlyMap<string, string>): Finding[] => {
  const file = drawing.fileName;
  const findings: Finding[] = [];
  const open = openOutlines(gathered, file);
  findings.push(...open);
  const tooSmall = gathered.pieces.length === 0 ? tooSmallForPieces(drawing) : [];
  findings.push(...tooSmall);
  if (gathered.pieces.length === 0 && tooSmall.length === 0) {
    findings.push({
      code: 'recognise-no-piece',
      level: 'error',
      where: { file },
      message: 'No closed outline was found that could be a pattern piece.',
      try:
        open.length > 0
          ? 'Close the outlines named above.'
          : 'Check that the file holds the pattern, and its unit with --units.',
    });
  }
  for (const { of, twice } of gathered.doubles) {
    findings.push({
      code: 'recognise-line-twice',
      level: 'warning',
      where: { file, line: twice.drawables[0]?.line ?? 0 },
      message: `An outline is drawn twice, at line ${of.drawables[0]?.line} and at line ${twice.drawables[0]?.line} of the file.`,
      try: 'Take one of the two out, so that none is left behind.',
    });
  }
  if (repeats.size > 0) {
    findings.push({
      code: 'recognise-placed-twice',
      level: 'note',
      where: { file },
      message: `A shape is placed more than once: ${repeats.size} lines and texts repeat others and follow them.`,
      try: 'Where the placements are to differ, draw each by itself.',
    });
  }
  if (gathered.pieces.length > 0 && gathered.loose.length > 0) {
    findings.push({
      code: 'recognise-loose-lines',
      level: 'note',
      where: { file },
      message: `${gathered.loose.length} lines and texts lie on no piece; they stay as they are.`,
      try: 'Nothing need be done if they are a frame, a title or a test square.',
    });
  }
  return findings;
};

const missingSheetPieces = (sheet: PatternSheet | undefined, entries: readonly Entry[], drawing: Drawing): Finding[] =>
  (sheet?.pieces ?? [])
    .filter(
      (p) =>
        !entries.some(
          (e) =>
            sheetPieceFor(sheet, drawing, {
              id: e.id,
              name: e.named.name,
              polygon: e.named.drawn.outer.trace.polygon,
            }) === p,
        ),
    )
    .map((p) => ({
      code: 'recognise-sheet-piece-missing',
      level: 'error',
      where: { file: sheet?.fileName ?? '', line: p.line, excerpt: p.key },
      message: `The pattern sheet names a piece “${p.key}”, but the drawing has none of that name.`,
      try: `The pieces are: ${entries.map((e) => (normalise(e.named.name) === normalise(e.id) ? e.id : `${e.id} (${e.named.name})`)).join(', ')}.`,
    }));

const viewsOf = (sheet: PatternSheet | undefined): readonly View[] => sheet?.views ?? [];
