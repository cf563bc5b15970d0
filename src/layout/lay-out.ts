import type { Finding } from '../finding.ts';
import type { Margins, Sheet } from '../formats/sheet.ts';
import type { Piece } from '../pattern/piece.ts';
import { type Arrangement, type ArrangeOptions, arrange } from './arrange.ts';
import { chooseTiling } from './choose-tiling.ts';
import type { CutLine } from './contour.ts';
import { type Copies, type Counting, copiesOf } from './copies.ts';
import { type DrawnPiece, drawPiece } from './draw.ts';
import { type ClothEstimate, clothEstimates } from './estimate.ts';
import type { EffortName } from './nest/item.ts';
import { overlapFindings } from './overlaps.ts';
import type { PaperSize } from './paper-sizes.ts';
import type { LayoutProgress } from './progress.ts';
import { type RollOptions, roll, rollSheet, stripHeight, stripLongest } from './roll.ts';
import { type Lay, templateOf } from './template.ts';
import { tiledSheet } from './tiled.ts';
import { tiling } from './tiles.ts';

/** The pieces of one wearer, or of the pattern as it is. */
export interface PieceSet {
  /** Label of whose they are; '' when there is only one set. */
  readonly fitting: string;
  readonly pieces: readonly Piece[];
}

export interface LayOutOptions {
  readonly title: string;
  /** Lines printed at the start of a roll and on the first page. */
  readonly words: readonly string[];
  readonly lay: Lay;
  readonly line: CutLine;
  readonly counting: Counting;
  readonly nap: boolean;
  readonly gap: number;
  readonly margins: Margins;
  readonly effort: EffortName | number;
  readonly seed: number;
  /** Test squares, rulers, first page. */
  readonly guides: boolean;
  /** Width of the roll, or height of the plan that is tiled, mm. One of roll and paper is there. */
  readonly roll?: number;
  readonly paper?: PaperSize;
  readonly overlap: number;
  /** Longest frame that any of the formats to be written takes, mm. */
  readonly longest?: number;
  /** Width of the cloth for the estimate, mm. */
  readonly clothWidth: number;
  readonly worker?: ArrangeOptions['worker'];
  readonly onProgress?: ((progress: LayoutProgress) => void) | undefined;
}

/** Pieces laid out: where each lies, and the sheets that show it. */
export interface LaidOut {
  readonly pieces: readonly DrawnPiece[];
  readonly arrangement: Arrangement;
  /** Of the roll or the plan, margins, head and rulers included, mm. */
  readonly length: number;
  readonly width: number;
  /** The same layout in frames of at most `longest` mm, or whole. */
  readonly sheet: (longest: number | undefined) => Sheet;
  readonly cloth: readonly ClothEstimate[];
  readonly findings: readonly Finding[];
}

/** Lays out pieces on a roll or on a plan that is tiled over sheets. Undefined, with a finding, when nothing is left to lay on. */
export const layOut = (
  sets: readonly PieceSet[],
  options: LayOutOptions,
): { readonly laid?: LaidOut; readonly findings: readonly Finding[] } => {
  const { lay, line, counting } = options;
  const templates = sets.flatMap((s) => s.pieces.map((p) => templateOf(p, s.fitting, { lay, line })));
  const counted = templates.map((t) => copiesOf(t, lay, counting));
  const copies = counted.map((c) => c.copies);
  const told = [...unsure(sets), ...templates.flatMap((t) => t.findings), ...counted.flatMap((c) => c.findings)];
  const onto = options.paper ? onSheets(copies, options, options.paper) : onRoll(copies, options);
  if (!onto.laid) return { findings: [...told, ...onto.findings] };
  const findings = [...told, ...onto.laid.findings, ...overlapFindings(onto.laid.arrangement)];
  return { laid: { ...onto.laid, cloth: estimate(sets, options), findings }, findings };
};

type Onto = { readonly laid?: Omit<LaidOut, 'cloth'>; readonly findings: readonly Finding[] };

const arrangeOptions = (options: LayOutOptions, height: number, longest?: number): ArrangeOptions => {
  const { lay, nap, gap, effort, seed, worker, onProgress } = options;
  return { lay, nap, gap, effort, seed, height, worker, onProgress, ...(longest === undefined ? {} : { longest }) };
};

const onRoll = (copies: readonly Copies[], options: LayOutOptions): Onto => {
  const { roll: width = 0, margins, guides, gap, title, words, longest } = options;
  const folded = options.lay === 'folded';
  const on: RollOptions = {
    width,
    margins,
    guides,
    folded,
    gap,
    title,
    words,
    ...(longest === undefined ? {} : { longest }),
  };
  const height = stripHeight(on);
  const most = stripLongest(on);
  if (height <= 0 || (most !== undefined && most <= 0)) return { findings: [nothingLeft(width)] };
  const { arrangement, findings } = arrange(copies, arrangeOptions(options, height, most));
  const rolled = roll(arrangement, on);
  const pieces = rolled.stretches.flatMap((s) => s.pieces);
  const sheet = (limit: number | undefined): Sheet => rollSheet(rolled, limit);
  return {
    laid: { pieces, arrangement, length: rolled.length, width, sheet, findings: [...findings, ...rolled.findings] },
    findings,
  };
};

const onSheets = (copies: readonly Copies[], options: LayOutOptions, paper: PaperSize): Onto => {
  const { margins, overlap, roll: height, title, words, guides } = options;
  const request = { paper, margins, overlap, ...(height === undefined ? {} : { height }) };
  const choice = chooseTiling(copies, request, arrangeOptions(options, 0));
  if (!choice) return { findings: [nothingLeft(paper.width)] };
  const { arrangement, findings } = arrange(copies, arrangeOptions(options, choice.height));
  const pieces = arrangement.pieces.map(drawPiece);
  const plan = tiling(arrangement.length, choice.height, choice.options);
  const tiled = tiledSheet(pieces, { tiling: plan, title, words, cover: guides });
  const all = [...findings, ...tiled.findings, ...pieces.flatMap((p) => p.findings)];
  const sheet = (): Sheet => tiled.sheet;
  return {
    laid: { pieces, arrangement, length: arrangement.length, width: choice.height, sheet, findings: all },
    findings: all,
  };
};

const estimate = (sets: readonly PieceSet[], options: LayOutOptions): ClothEstimate[] => {
  const { nap, gap, seed, line, clothWidth, onProgress } = options;
  const templates = sets.flatMap((s) => s.pieces.map((p) => templateOf(p, s.fitting, { lay: 'cloth', line })));
  return clothEstimates(templates, clothWidth, { nap, gap, seed }, onProgress);
};

/** A count that only a hint speaks for. */
const SURE = 0.5;

const unsure = (sets: readonly PieceSet[]): Finding[] =>
  sets.flatMap((s) =>
    s.pieces
      .filter((p) => p.cut.confidence < SURE)
      .map(
        (p): Finding => ({
          code: 'layout-count-unsure',
          level: 'warning',
          where: { piece: p.id, ...(s.fitting === '' ? {} : { fitting: s.fitting }) },
          message: `How often ${p.name || p.id} is cut is not stated on the piece; it is laid ${p.cut.count === 1 ? 'once' : `${p.cut.count} times`}.`,
          try: 'State it in the pattern sheet: cut: 2.',
        }),
      ),
  );

const nothingLeft = (width: number): Finding => ({
  code: 'layout-frame-beyond-roll',
  level: 'error',
  where: {},
  message: `Of ${Math.round(width)} mm nothing is left for pieces between the margins, rulers and overlaps.`,
  try: 'Take a wider roll or a larger sheet, or smaller margins.',
});
