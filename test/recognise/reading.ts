import type { Draft, DraftPiece } from '../../fixtures/blocks/draft/draft.ts';
import type { WriteOptions } from '../../fixtures/blocks/draft/write.ts';
import { writeDraft } from '../../fixtures/blocks/draft/write.ts';
import type { Drawing } from '../../src/formats/drawing.ts';
import { dxf } from '../../src/formats/dxf/index.ts';
import { svg } from '../../src/formats/svg/index.ts';
import { distance } from '../../src/geometry/point.ts';
import { lengthBetween, lengthOf } from '../../src/geometry/segment.ts';
import { edgeLength } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { EdgeRole, Piece } from '../../src/pattern/piece.ts';
import { heightOf } from '../../src/pattern/upright.ts';
import type { PatternSheet, SheetPiece } from '../../src/recognise/sheet/types.ts';
import { placeAt, trace } from '../../src/recognise/trace.ts';

/** What a reading must find, or has found: facts that do not depend on where and how a piece lies. mm and degrees. */
export interface Facts {
  readonly half: boolean;
  readonly cut: number;
  /** `role length`, sorted. */
  readonly edges: readonly { readonly role: EdgeRole; readonly length: number; readonly allowance: number }[];
  readonly darts: readonly number[];
  /** Heights of notches below the waist at the centre (on a band: mm along the seam from one end), sorted. */
  readonly notches: readonly number[];
  readonly hip?: number;
  readonly hem?: number;
  readonly adjustment?: number;
  /** Angle between grainline and upright, 0 to 90. */
  readonly grain: number;
}

export const readDrawing = (draft: Draft, options: WriteOptions): Drawing => {
  const { fileName, bytes } = writeDraft(draft, options);
  const { drawing, findings } = (options.format === 'dxf' ? dxf : svg).read(bytes, { fileName });
  if (!drawing) throw new Error(`not read: ${findings.map((f) => f.message).join(' ')}`);
  return drawing;
};

const roleOfDrafted = (name: string): EdgeRole => {
  if (name.startsWith('side')) return 'side';
  if (name.startsWith('gore seam')) return 'gore seam';
  return name.endsWith('end') ? 'end' : (name as EdgeRole);
};

const sortedEdges = (edges: Facts['edges']): Facts['edges'] =>
  [...edges].sort((a, b) => a.role.localeCompare(b.role) || a.length - b.length);
const ascending = (list: readonly number[]): number[] => [...list].sort((a, b) => a - b);

/** The truth, from the draft: `length` from waist to hem at the centre. */
export const draftedFacts = (piece: DraftPiece, length: number, mirrored: boolean): Facts => {
  const [low, high] = piece.grain;
  const lean = (Math.abs(Math.atan2(high.x - low.x, high.y - low.y)) * 180) / Math.PI;
  const band = piece.part === 'waistband';
  const seam = piece.edges.find((e) => e.name === 'band seam')?.segments[0];
  const along = (x: number): number => (mirrored && seam ? lengthOf(seam) - x : x);
  return {
    half: piece.onFold,
    cut: piece.cut,
    edges: sortedEdges(
      piece.edges.map((e) => ({
        role: roleOfDrafted(e.name),
        allowance: e.allowance,
        length:
          e.segments.reduce((sum, s) => sum + lengthOf(s), 0) -
          piece.darts
            .filter((d) => d.edge === e.name && d.drawn === 'lines')
            .reduce((sum, d) => sum + distance(...d.mouth), 0),
      })),
    ),
    darts: ascending(piece.darts.map((d) => distance(...d.mouth))),
    notches: ascending(piece.notches.map((n) => (band ? along(n.at.x) : n.at.y))),
    ...(piece.levels[0] ? { hip: piece.levels[0].height } : {}),
    ...(band ? {} : { hem: -length }),
    ...(piece.adjustments?.[0] ? { adjustment: piece.adjustments[0][0].y } : {}),
    grain: band ? 90 : Math.min(lean, 180 - lean),
  };
};

/** What was found. */
export const foundFacts = (piece: Piece): Facts => {
  const t = trace(piece.seamLine.spans);
  const band = piece.edges.find((e) => e.role === 'band seam');
  const notchHeight = (n: Piece['notches'][number]): number => {
    const segment = piece.seamLine.spans[n.at.span]?.segments[0];
    const along = (t.starts[n.at.span] as number) + (segment ? lengthBetween(segment, 0, n.at.t) : 0);
    return band ? along - (t.starts[band.first] as number) : heightOf(piece.upright, placeAt(t, along).point);
  };
  const level = (name: string): number | undefined => piece.levels.find((l) => l.name === name)?.height;
  const { grainline } = piece;
  const g = grainline ? { x: grainline.to.x - grainline.from.x, y: grainline.to.y - grainline.from.y } : { x: 0, y: 0 };
  const lean =
    (Math.abs(
      Math.atan2(
        g.x * piece.upright.up.y - g.y * piece.upright.up.x,
        g.x * piece.upright.up.x + g.y * piece.upright.up.y,
      ),
    ) *
      180) /
    Math.PI;
  const [hip, hem] = [level('hip'), level('hem')];
  return {
    half: piece.half,
    cut: piece.cut.count,
    edges: sortedEdges(
      piece.edges.map((e) => ({ role: e.role, length: edgeLength(piece, e), allowance: e.allowance })),
    ),
    darts: ascending(piece.darts.map((d) => distance(...d.mouth))),
    notches: ascending(piece.notches.map(notchHeight)),
    ...(hip === undefined ? {} : { hip }),
    ...(hem === undefined ? {} : { hem }),
    ...(piece.adjustmentLines[0] ? { adjustment: piece.adjustmentLines[0].height } : {}),
    grain: Math.min(lean, 180 - lean),
  };
};

/** Differences between truth and reading, in words; empty when they agree. */
export const differences = (truth: Facts, found: Facts, within: number): string[] => {
  const wrong: string[] = [];
  const compare = (what: string, a: number | undefined, b: number | undefined, tolerance = within): void => {
    if (a === undefined && b === undefined) return;
    if (a === undefined || b === undefined || !(Math.abs(a - b) <= tolerance))
      wrong.push(`${what}: ${b?.toFixed(2)} for ${a?.toFixed(2)}`);
  };
  if (truth.half !== found.half) wrong.push(`half: ${found.half}`);
  compare('cut', truth.cut, found.cut, 0);
  const [want, got] = [truth.edges.map((e) => e.role).join(), found.edges.map((e) => e.role).join()];
  if (want !== got) wrong.push(`edges: ${got} for ${want}`);
  else {
    truth.edges.forEach((e, i) => {
      compare(`${e.role} length`, e.length, found.edges[i]?.length);
      compare(`${e.role} allowance`, e.allowance, found.edges[i]?.allowance, 0.1);
    });
  }
  if (truth.darts.length !== found.darts.length) wrong.push(`darts: ${found.darts.length} for ${truth.darts.length}`);
  for (const [i, d] of truth.darts.entries()) compare('dart', d, found.darts[i]);
  if (truth.notches.length !== found.notches.length)
    wrong.push(`notches: ${found.notches.length} for ${truth.notches.length}`);
  else for (const [i, n] of truth.notches.entries()) compare('notch', n, found.notches[i]);
  compare('hip', truth.hip, found.hip);
  compare('hem', truth.hem, found.hem);
  compare('adjustment', truth.adjustment, found.adjustment);
  compare('grain', truth.grain, found.grain, 0.1);
  return wrong;
};

/** Every drawable is on the paper of just one piece, or loose, or a repeat. */
export const unaccounted = (drawing: Drawing, pattern: Pattern): string[] => {
  const places = new Map<string, Set<string>>();
  const put = (id: string | undefined, where: string): void => {
    if (id !== undefined) places.set(id, (places.get(id) ?? new Set()).add(where));
  };
  for (const p of pattern.pieces) {
    for (const span of [...p.seamLine.spans, ...(p.cuttingLine?.spans ?? [])]) put(span.source?.drawable, p.id);
    for (const x of [...p.lines, ...p.points, ...p.texts]) put(x.id, p.id);
  }
  for (const id of pattern.loose) put(id, 'loose');
  for (const id of pattern.repeats.keys()) put(id, 'repeats');
  return drawing.drawables
    .filter((d) => places.get(d.id)?.size !== 1)
    .map((d) => `${d.entity} ${d.id}: ${[...(places.get(d.id) ?? [])].join()}`);
};

export const emptySheet: PatternSheet = {
  fileName: 'test.sheet.yaml',
  draftedFor: {},
  pieces: [],
  mates: [],
  views: [],
  labels: {},
};
export const sheetPiece = (key: string, more: Partial<SheetPiece> = {}): SheetPiece => ({
  key,
  line: 1,
  allowances: {},
  edges: [],
  levels: [],
  landmarks: [],
  adjustmentLines: [],
  leaveOut: false,
  ...more,
});
