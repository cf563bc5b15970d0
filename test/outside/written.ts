import { copyFileSync, existsSync, mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { signedArea } from '../../src/geometry/path.ts';
import type { Ledger } from '../../src/job/ledger.ts';
import { type PatternFile, readPatternFile } from '../../src/job/patternfile.ts';
import { alter } from '../../src/job/run/run.ts';
import { outlineSegments } from '../../src/pattern/edges.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import { timesRound } from '../../src/pattern/round.ts';
import { fromPaper, rightOf } from '../../src/pattern/upright.ts';
import { python } from './python.ts';

/* Fixture blocks altered to a folder, and what independent readers measure on the files written there. */

const FIXTURES = join(import.meta.dirname, '../../fixtures');

/** What the fixture blocks are drafted for (fixtures/blocks/README.md). */
export const DRAFTED = 'waist girth=26.5in, hip girth=36in, waist to hip=8in, skirt length=24in';

export interface Altered {
  readonly fixture: string;
  /** Folder of the fitting. */
  readonly folder: string;
  readonly ledger: Ledger;
  /** The files written, the source's own format first; empty when the fitting was refused. */
  readonly files: readonly string[];
}

/** Alters a copy of a fixture for each of the fittings in a table. Nothing is left out: refusals come back too. */
export const alterFixture = async (
  fixture: string,
  fittings: string,
  options: { readonly to?: string; readonly choose?: string } = {},
): Promise<readonly Altered[]> => {
  const folder = mkdtempSync(join(tmpdir(), 'written-'));
  const pattern = join(folder, basename(fixture));
  copyFileSync(join(FIXTURES, fixture), pattern);
  const sheet = join(FIXTURES, fixture.replace(/\.\w+$/, '.sheet.yaml'));
  if (existsSync(sheet)) copyFileSync(sheet, join(folder, basename(sheet)));
  const altered: Altered[] = [];
  await alter(
    { pattern, fittings, drafted: DRAFTED, out: join(folder, 'altered'), force: true, ...options },
    {
      onFindings: () => undefined,
      onFitting: ({ ledger }, at) =>
        ledger && altered.push({ fixture, folder: at, ledger, files: ledger.outputs.map((o) => join(at, o.file)) }),
    },
  );
  return altered;
};

export const sourceOf = (fixture: string): string => join(FIXTURES, fixture);

/** One piece as the independent readers measure it, mm. */
export interface MeasuredPiece {
  readonly area: number;
  /** From corner to corner, anticlockwise. */
  readonly runs: readonly { readonly length: number }[];
  /** Widths of darts drawn as lines. */
  readonly mouths: readonly number[];
  /** Straight across at the hip, when the piece has one. */
  readonly widths: readonly number[];
}

export interface MeasuredFile {
  readonly pieces: ReadonlyMap<string, { readonly piece: Piece; readonly seen: MeasuredPiece; readonly area: number }>;
}

/**
 * Measures files with ezdxf, svgelements and shapely. Only which entities make a seam line or a dart is taken from the
 * program's reading; where they lie is not.
 */
export const measureFiles = async (paths: readonly string[]): Promise<readonly MeasuredFile[]> => {
  const read = await Promise.all(paths.map(patternIn));
  const asked = read.map(({ pattern, drawing }, i) => ({
    path: paths[i],
    pieces: pattern.pieces.map((p) => ({
      seam: names(
        drawing,
        p.seamLine.spans.map((s) => s.source?.drawable),
      ),
      darts: p.darts.flatMap((d) => (d.drawn.as === 'lines' ? [names(drawing, d.drawn.lines)] : [])),
      levels: p.levels
        .filter((l) => l.name === 'hip')
        .map((l) => ({ through: xy(fromPaper(p.upright, { x: 0, y: l.height })), across: xy(rightOf(p.upright)) })),
    })),
  }));
  const answer = python(script('answer = [measured(file) for file in given]'), asked) as MeasuredPiece[][];
  return read.map(({ pattern }, i) => ({
    pieces: new Map(
      pattern.pieces.map((piece, k) => [
        piece.id,
        { piece, seen: answer[i]?.[k] as MeasuredPiece, area: areaOf(piece) },
      ]),
    ),
  }));
};

/** Entities of a DXF file before and after, as ezdxf lists them. */
export interface Holdings {
  readonly faults: readonly string[];
  readonly version: string;
  readonly layers: Readonly<Record<string, unknown>>;
  readonly header: Readonly<Record<string, unknown>>;
  readonly blocks: Readonly<Record<string, readonly HeldEntity[]>>;
}
export interface HeldEntity {
  readonly handle: string;
  readonly type: string;
  readonly layer: string;
  /** Every attribute and point. */
  readonly all: unknown;
  /** Of texts: what they say and how they are lettered. */
  readonly look: Readonly<Record<string, unknown>>;
}

export const holdings = (paths: readonly string[]): readonly Holdings[] =>
  python(script('answer = [holds(path) for path in given]'), paths) as Holdings[];

/** Length round the body at the waist (darts closed) or straight across at the hip, mm. */
export const girth = (file: MeasuredFile, level: 'waist' | 'hip'): number =>
  [...file.pieces.values()]
    .filter(({ piece }) => piece.part.startsWith('skirt'))
    .reduce((sum, { piece, seen }) => {
      const width = level === 'hip' ? (seen.widths[0] ?? Number.NaN) : lengthsSeen(piece, seen).get('waist');
      return sum + (width ?? Number.NaN) * timesRound(piece);
    }, 0);

/**
 * Lengths of a piece's edges as seen, by edge id: the runs from corner to corner are dealt out to the edges in their
 * order round the piece. A dart in the outline makes two runs of its edge, and its legs two more.
 */
export const lengthsSeen = (piece: Piece, seen: MeasuredPiece): ReadonlyMap<string, number> => {
  const slots = piece.edges.flatMap((e) => {
    const darts = piece.darts.filter((d) => d.edge === e.id && d.drawn.as === 'outline').length;
    return [e.id, ...Array.from({ length: darts }).flatMap(() => ['leg', 'leg', e.id])];
  });
  if (seen.runs.length !== slots.length) {
    throw new Error(
      `${piece.id}: ${seen.runs.length} runs from corner to corner, where ${slots.join(', ')} were to be`,
    );
  }
  const turned = slots.map((_, k) => [...slots.slice(k), ...slots.slice(0, k)]);
  const dealt = turned.map((order) => deal(order, seen));
  const off = (lengths: ReadonlyMap<string, number>): number =>
    piece.edges.reduce((sum, e) => sum + Math.abs((lengths.get(e.id) ?? 0) - roughLength(piece, e.id)), 0);
  return dealt.reduce((best, one) => (off(one) < off(best) ? one : best));
};

const deal = (order: readonly string[], seen: MeasuredPiece): Map<string, number> => {
  const lengths = new Map<string, number>();
  for (const [i, id] of order.entries()) lengths.set(id, (lengths.get(id) ?? 0) + (seen.runs[i]?.length ?? 0));
  if (lengths.has('waist')) lengths.set('waist', (lengths.get('waist') ?? 0) - sum(seen.mouths));
  return lengths;
};

/** Chord lengths of an edge's spans: only to tell which run is which. */
const roughLength = (piece: Piece, edge: string): number => {
  const e = piece.edges.find((x) => x.id === edge);
  if (!e) return 0;
  const count = piece.seamLine.spans.length;
  const legs = new Set(
    piece.darts.flatMap((d) => (d.drawn.as === 'outline' ? ring(d.drawn.first, d.drawn.last, count) : [])),
  );
  return sum(
    ring(e.first, e.last, count)
      .filter((i) => !legs.has(i))
      .flatMap((i) => piece.seamLine.spans[i]?.segments ?? [])
      .map((s) => Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)),
  );
};
const ring = (first: number, last: number, count: number): number[] =>
  Array.from({ length: ((last - first + count) % count) + 1 }, (_, i) => (first + i) % count);
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
const xy = (p: { x: number; y: number }): [number, number] => [p.x, p.y];
const areaOf = (piece: Piece): number => signedArea({ segments: outlineSegments(piece.seamLine), closed: true });

const patternIn = async (path: string): Promise<PatternFile> => {
  const { file, findings } = await readPatternFile(path, {});
  if (!file) throw new Error(`${path} is not read: ${JSON.stringify(findings)}`);
  return file;
};

/** How an independent reader finds the drawables again: by handle, by block and layer where there is none, or by count. */
const names = (drawing: PatternFile['drawing'], ids: readonly (string | undefined)[]): unknown[] =>
  [...new Set(ids)].map((id) => {
    const drawable = drawing.drawables.find((d) => d.id === id);
    if (!drawable) throw new Error(`a stretch is drawn by nothing (${id})`);
    if (drawing.format === 'svg') return { nth: Number(/e(\d+)$/.exec(drawable.id)?.[1]) };
    const key = drawable.definition;
    if (!key.startsWith('@')) return { handle: key };
    const block = drawing.containers.find((c) => c.id === drawable.container)?.name;
    return { block, layer: drawable.layer, type: drawable.entity };
  });

const script = (call: string): string =>
  `${readFileSync(join(import.meta.dirname, 'measure_pieces.py'), 'utf8')}\n${call}`;
