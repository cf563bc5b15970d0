import type { Finding } from '../finding.ts';
import type { Drawing } from '../formats/drawing.ts';
import { boundsOfPoints, heightOfBounds, widthOf } from '../geometry/bounds.ts';
import { flatten } from '../geometry/flatten.ts';
import type { Point } from '../geometry/point.ts';
import { angleOf, distance, subtract } from '../geometry/point.ts';
import { edgeLength, outlineSegments } from '../pattern/edges.ts';
import type { Judged } from '../pattern/evidence.ts';
import type { SewnEdge } from '../pattern/pattern.ts';
import type { Dart, Edge, LevelName, Piece } from '../pattern/piece.ts';
import { toPaper } from '../pattern/upright.ts';
import { placeOfPoint } from '../recognise/sheet/places.ts';
import { writeSheet } from '../recognise/sheet/write.ts';
import type { Exit } from './exits.ts';
import { exitFor } from './exits.ts';
import { recorded } from './ledger.ts';
import type { PatternFile, PatternFileOptions } from './patternfile.ts';
import { readPatternFile } from './patternfile.ts';
import { exists, isSystemError, store, sweep, writeFailed } from './store.ts';
import type { ViewReport } from './view.ts';

/** What is in one pattern file. Lengths are millimetres; places are in the file's own units and position. */
export interface SurveyReport {
  readonly file: string;
  readonly format: string;
  readonly units: Drawing['units'];
  readonly style: string;
  readonly size: string;
  readonly draftedFor: Readonly<Record<string, number>>;
  readonly view: ViewReport | null;
  readonly pieces: readonly SurveyPiece[];
  readonly mates: readonly SurveyMates[];
  /** Pockets, and the seams that they are set into. */
  readonly within: readonly SurveyMates[];
  readonly doubts: readonly {
    readonly piece: string;
    readonly about: string;
    readonly message: string;
    readonly sheetLine: string;
  }[];
  readonly views: readonly string[];
  /** Lines and texts that lie on no piece. */
  readonly loose: number;
  readonly findings: readonly Finding[];
}

export interface SurveyPiece extends Told {
  readonly id: string;
  readonly name: string;
  readonly part: string;
  /** Size across and along the upright, of the cutting line where there is one. */
  readonly across: number;
  readonly high: number;
  readonly cut: {
    readonly count: number;
    readonly onFold: boolean;
    readonly mirrored: boolean;
    readonly cloth: string;
  };
  /** Where the seam line comes from. */
  readonly seamLine: Piece['seamLineFrom'];
  /** Degrees from the upright to the grainline, in (−90, 90]; null without a grainline. */
  readonly grain: number | null;
  /** The level that heights are counted from, downwards: the waist, on a sleeve the biceps, else the hem. */
  readonly measuredFrom: LevelName | null;
  readonly adjustmentLines: readonly number[];
  readonly edges: readonly SurveyEdge[];
  readonly levels: readonly (Told & {
    readonly name: string;
    readonly below: number | null;
    readonly drawn: boolean;
  })[];
  readonly darts: readonly (Told & {
    readonly id: string;
    readonly edge: string | null;
    readonly width: number;
    readonly length: number;
  })[];
  readonly notches: readonly (Told & { readonly edge: string; readonly count: number })[];
}

export interface SurveyEdge extends Told {
  readonly id: string;
  readonly role: string;
  readonly length: number;
  readonly allowance: number;
  readonly from: Point;
  readonly to: Point;
}

export interface SurveyMates extends Told {
  readonly one: readonly SewnEdge[];
  readonly other: readonly SewnEdge[];
}

/** Why the program takes a thing for what it takes it. */
interface Told {
  readonly confidence: number;
  readonly evidence: readonly string[];
}

export interface SurveyOptions extends PatternFileOptions {
  /** Where to write a pattern sheet to correct. */
  readonly writeSheet?: string | undefined;
  readonly force?: boolean | undefined;
}

export interface Survey {
  readonly reports: readonly SurveyReport[];
  readonly findings: readonly Finding[];
  readonly exit: Exit;
}

/** Says what is in pattern files, and writes a pattern sheet to correct when asked. */
export const survey = async (paths: readonly string[], options: SurveyOptions): Promise<Survey> => {
  const reports: SurveyReport[] = [];
  const findings: Finding[] = [];
  if (options.writeSheet !== undefined && paths.length > 1) return { reports, findings: [oneSheet], exit: 2 };
  for (const path of paths) {
    const read = await readPatternFile(path, options);
    findings.push(...read.findings);
    if (!read.file) continue;
    reports.push(reportOf(read.file));
    if (options.writeSheet === undefined) continue;
    const problem = await putSheet(options.writeSheet, read.file, options.force ?? false);
    if (problem) return { reports, findings: [...findings, problem], exit: 2 };
  }
  const empty = reports.filter((r) => r.pieces.length === 0).length;
  return { reports, findings, exit: exitFor(paths.length, paths.length - reports.length + empty) };
};

const putSheet = async (path: string, file: PatternFile, force: boolean): Promise<Finding | undefined> => {
  if (!force && (await exists(path))) return sheetThere(path);
  try {
    await sweep([path]);
    await store(path, writeSheet(file.pattern, file.drawing));
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return writeFailed(path, error);
  }
  return undefined;
};

export const reportOf = (file: PatternFile): SurveyReport => ({
  file: file.path,
  format: file.drawing.format,
  units: file.drawing.units,
  style: file.pattern.style,
  size: file.pattern.size,
  draftedFor: file.pattern.draftedFor,
  view: file.view ?? null,
  pieces: file.pattern.pieces.map((p) => pieceOf(p, file.drawing)),
  mates: file.pattern.mates.map((m) => ({ one: m.one, other: m.other, ...told(m) })),
  within: (file.pattern.within ?? []).map((m) => ({ one: m.one, other: m.other, ...told(m) })),
  doubts: file.pattern.doubts.map(({ piece, about, message, sheetLine }) => ({ piece, about, message, sheetLine })),
  views: file.pattern.views.map((v) => v.name),
  loose: file.pattern.loose.length,
  findings: file.findings,
});

const pieceOf = (piece: Piece, drawing: Drawing): SurveyPiece => {
  const outline = flatten(outlineSegments(piece.cuttingLine ?? piece.seamLine), 0.1);
  const box = boundsOfPoints(outline.map((p) => toPaper(piece.upright, p)));
  const datum = (['waist', 'biceps', 'hem'] as const).flatMap((n) => piece.levels.filter((l) => l.name === n))[0];
  const below = (height: number): number => recorded((datum?.height ?? 0) - height);
  return {
    id: piece.id,
    name: piece.name,
    part: piece.part,
    ...told(piece.partJudged),
    across: recorded(widthOf(box)),
    high: recorded(heightOfBounds(box)),
    cut: { count: piece.cut.count, onFold: piece.half, mirrored: piece.cut.mirrored, cloth: piece.cut.cloth },
    seamLine: piece.seamLineFrom,
    grain: piece.grainline ? grainAngle(piece) : null,
    measuredFrom: datum?.name ?? null,
    adjustmentLines: piece.adjustmentLines.map((a) => below(a.height)),
    edges: piece.edges.map((e) => edgeOf(piece, e, drawing)),
    levels: piece.levels.map((l) => ({
      ...{ name: l.name, below: datum ? below(l.height) : null },
      ...{ drawn: l.line !== undefined, ...told(l) },
    })),
    darts: piece.darts.map((d) => ({ id: d.id, edge: d.edge ?? null, ...dartSize(d), ...told(d) })),
    notches: piece.notches.map((n) => ({ edge: n.edge, count: n.count, ...told(n) })),
  };
};

const edgeOf = (piece: Piece, edge: Edge, drawing: Drawing): SurveyEdge => ({
  id: edge.id,
  role: edge.role,
  length: recorded(edgeLength(piece, edge)),
  allowance: recorded(edge.allowance),
  from: placeOfPoint(drawing, cornerAt(piece, edge.first, 'from')),
  to: placeOfPoint(drawing, cornerAt(piece, edge.last, 'to')),
  ...told(edge),
});

const cornerAt = (piece: Piece, span: number, end: 'from' | 'to'): Point => {
  const segments = piece.seamLine.spans[span]?.segments ?? [];
  const segment = end === 'from' ? segments[0] : segments.at(-1);
  return segment?.[end] ?? piece.upright.origin;
};

const dartSize = (dart: Dart): { width: number; length: number } => {
  const [a, b] = dart.mouth;
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  return { width: recorded(distance(a, b)), length: recorded(distance(dart.otherTip ?? middle, dart.tip)) };
};

/** From the upright to the grain, degrees in (−90, 90], anticlockwise: a grainline has no direction. */
const grainAngle = (piece: Piece): number | null => {
  if (!piece.grainline) return null;
  const along = subtract(piece.grainline.to, piece.grainline.from);
  const degrees = ((angleOf(along) - angleOf(piece.upright.up)) * 180) / Math.PI;
  const halfTurns = Math.round(degrees / 180);
  return Math.round((degrees - 180 * halfTurns) * 100) / 100 + 0;
};

const told = (judged: Judged): Told => ({
  confidence: Math.round(judged.confidence * 100) / 100,
  evidence: judged.evidence.map((e) => e.says),
});

const oneSheet: Finding = {
  code: 'job-option-clash',
  level: 'error',
  where: {},
  message: '--write-sheet makes the sheet of one pattern, and several were given.',
  try: 'Survey one pattern file at a time when a sheet is to be written.',
};

const sheetThere = (path: string): Finding => ({
  code: 'job-sheet-exists',
  level: 'error',
  where: { file: path },
  message: `${path} is there already, and may hold corrections.`,
  try: 'Add --force to replace it, or name another file.',
});
