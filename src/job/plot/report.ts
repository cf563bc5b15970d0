import type { LengthShown } from '../../alterations/contract.ts';
import type { Finding } from '../../finding.ts';
import type { SheetFormatName } from '../../formats/sheet.ts';
import { apply, compose } from '../../geometry/transform.ts';
import type { DrawnPiece } from '../../layout/draw.ts';
import { placing } from '../../layout/draw.ts';
import type { ClothEstimate } from '../../layout/estimate.ts';
import type { LaidOut } from '../../layout/lay-out.ts';
import { measured, plural } from '../words.ts';
import type { PlotSettings } from './options.ts';

export interface PlotFile {
  readonly file: string;
  /** `apparel`: the pieces to be exchanged, not laid out. */
  readonly format: SheetFormatName | 'apparel';
  readonly sha256: string;
}

/** Name of the record. */
export const LAYOUT = 'layout.json';

/** Where each piece lies, and what was needed. Millimetres and degrees. */
export interface LayoutReport {
  readonly name: string;
  readonly title: string;
  readonly machine: { readonly name: string; readonly title: string; readonly source: string };
  readonly laidOn: 'paper' | 'cloth' | 'folded cloth';
  /** Across the roll, or the height of the plan that is tiled. */
  readonly width: number;
  /** Length used, margins and test squares included. */
  readonly length: number;
  readonly paper: string | null;
  /** Area of the pieces by the area of the strip they lie on, %. */
  readonly density: number;
  readonly seed: number;
  readonly iterations: number;
  readonly pieces: readonly ReportedPiece[];
  /** Frames of each format. */
  readonly frames: readonly ReportedFrame[];
  readonly cloth: readonly ClothEstimate[];
  readonly files: readonly PlotFile[];
  readonly findings: readonly Finding[];
}

/**
 * A copy of a piece. A point p of the pattern's drawing (mm, y up) lies on the roll at `offset` + p mirrored (x → −x)
 * when `mirror`, then turned by `turn` degrees anticlockwise.
 */
export interface ReportedPiece {
  readonly piece: string;
  readonly name: string;
  readonly fitting: string;
  readonly copy: number;
  readonly of: number;
  readonly turn: number;
  readonly mirror: boolean;
  readonly offset: { readonly x: number; readonly y: number };
  /** As laid: whole, half as the pattern draws it, opened out to the whole, or half on the fold of the cloth. */
  readonly laidAs: 'whole' | 'half' | 'opened out' | 'on the fold';
  readonly box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

export interface ReportedFrame {
  readonly format: SheetFormatName;
  readonly name: string;
  readonly title: string;
  readonly width: number;
  readonly height: number;
}

export const layoutReport = (
  { name, title }: { readonly name: string; readonly title: string },
  laid: LaidOut,
  settings: PlotSettings,
  { files, findings, frames }: Pick<LayoutReport, 'files' | 'findings' | 'frames'>,
): LayoutReport => {
  const { machine, layOut } = settings;
  const { arrangement } = laid;
  return {
    ...{ name, title, machine: { name: machine.name, title: machine.title, source: machine.source } },
    laidOn: layOut.lay === 'folded' ? 'folded cloth' : layOut.lay,
    ...{ width: rounded(laid.width), length: rounded(laid.length), paper: layOut.paper?.name ?? null },
    ...{ density: rounded(arrangement.density * 100), seed: arrangement.seed, iterations: arrangement.iterations },
    pieces: laid.pieces.map(reported),
    ...{ frames, files, findings },
    cloth: laid.cloth.map((c) => ({ ...c, length: c.length === null ? null : rounded(c.length) })),
  };
};

const rounded = (mm: number): number => Number(mm.toFixed(3));

const LAID = { no: 'whole', 'as drawn': 'half', opened: 'opened out', 'on fold': 'on the fold' } as const;

const reported = ({ piece, bounds }: DrawnPiece): ReportedPiece => {
  const { template, copy, of, mirror } = piece;
  const map = compose(placing(piece), template.lie);
  const turn = mirror ? Math.atan2(-map.b, -map.a) : Math.atan2(map.b, map.a);
  const origin = apply(map, { x: 0, y: 0 });
  return {
    ...{ piece: template.id, name: template.name, fitting: template.fitting, copy, of },
    ...{ turn: Number(((turn * 180) / Math.PI).toFixed(6)) + 0, mirror },
    offset: { x: rounded(origin.x), y: rounded(origin.y) },
    laidAs: LAID[template.half],
    box: {
      ...{ x: rounded(bounds.minX), y: rounded(bounds.minY) },
      ...{ width: rounded(bounds.maxX - bounds.minX), height: rounded(bounds.maxY - bounds.minY) },
    },
  };
};

/** What was laid out, in plain words: size, pieces, cloth, files. */
export const plotText = (report: LayoutReport, out: string, show: LengthShown): string => {
  const both = (mm: number): string =>
    show === 'in'
      ? `${measured(mm, 'in')} (${Math.round(mm)} mm)`
      : `${measured(mm, 'mm')} (${(mm / 25.4).toFixed(2)} in)`;
  const sheets = new Map<string, ReportedFrame[]>();
  for (const f of report.frames) sheets.set(f.format, [...(sheets.get(f.format) ?? []), f]);
  const frames = [...sheets].map(([format, own]) => {
    const first = own[0] as ReportedFrame;
    const size = own.every((f) => f.width === first.width && f.height === first.height)
      ? `${both(first.width)} × ${both(first.height)}${own.length > 1 ? ' each' : ''}`
      : own.map((f) => both(f.width)).join(', ');
    return `${format}: ${plural(own.length, report.paper ? 'page' : 'frame')}, ${size}`;
  });
  return [
    `${report.title}: ${plural(report.pieces.length, 'piece')} laid on ${report.laidOn}`,
    ...rows('Length', [`${both(report.length)} of ${both(report.width)}, ${report.density.toFixed(1)} % of it pieces`]),
    ...rows('Sheets', frames),
    ...rows(
      'Cloth',
      report.cloth.map((c) => clothLine(c, both)),
    ),
    ...rows('Check', ['measure the 100 mm and the 4 in square, and both rulers, before cutting']),
    ...rows(
      'Written',
      report.files.map((f) => `${out}/${f.file}`),
    ),
    '',
  ].join('\n');
};

const rows = (title: string, lines: readonly string[]): string[] =>
  lines.map((line, i) => `  ${(i === 0 ? title : '').padEnd(9)} ${line}`);

const clothLine = ({ fitting, cloth, width, length }: ClothEstimate, both: (mm: number) => string): string => {
  const whose = fitting === '' ? cloth : `${fitting}, ${cloth}`;
  return length === null
    ? `${whose}: a piece does not fit on cloth ${both(width)} wide`
    : `${whose}: about ${both(length)} of cloth ${both(width)} wide, without shrinking, stripes or faults`;
};
