import { type Finding, isFinding } from '../../finding.ts';
import type { Machine, Margins, SheetFormatName } from '../../formats/sheet.ts';
import type { CutLine } from '../../layout/contour.ts';
import type { Counting } from '../../layout/copies.ts';
import type { LayOutOptions } from '../../layout/lay-out.ts';
import { EFFORTS, type EffortName } from '../../layout/nest/item.ts';
import { PAPER_SIZES, type PaperSize, paperCalled } from '../../layout/paper-sizes.ts';
import type { Lay } from '../../layout/template.ts';
import { isProblem, parseLength } from '../../measurements/units.ts';
import { optionUnknown } from '../option-unknown.ts';
import { readMachine } from './machine.ts';
import { sheetFormatNames } from './sheet-writers.ts';

/** Options of a plot as they are typed. Lengths may carry any unit; a bare number is millimetres. */
export interface PlotOptions {
  readonly roll?: string | undefined;
  readonly paper?: string | undefined;
  readonly machine?: string | undefined;
  readonly to?: string | undefined;
  readonly lay?: string | undefined;
  readonly line?: string | undefined;
  readonly copies?: string | undefined;
  readonly nap?: boolean | undefined;
  readonly gap?: string | undefined;
  readonly margin?: string | undefined;
  readonly overlap?: string | undefined;
  readonly cloth?: string | undefined;
  readonly effort?: string | undefined;
  readonly seed?: string | undefined;
  readonly userUnit?: boolean | undefined;
  /** Absent or true: test squares, rulers and first page are drawn. */
  readonly testSquare?: boolean | undefined;
}

/** The same, settled. */
export interface PlotSettings {
  readonly machine: Machine;
  readonly formats: readonly SheetFormatName[];
  /** Whether the patterns are also written in the apparel layout, to be exchanged. */
  readonly apparel: boolean;
  readonly userUnit: boolean;
  readonly layOut: Omit<LayOutOptions, 'title' | 'words' | 'longest'>;
}

/** Trade widths: cloth of 60 in, mm. */
const CLOTH = 1500;
const APPAREL = 'apparel';
const GAP = 5;
const OVERLAP = 15;

export const settlePlot = async (
  options: PlotOptions,
): Promise<{ readonly settings?: PlotSettings; readonly findings: readonly Finding[] }> => {
  const findings: Finding[] = [];
  const told = <T>(value: T | Finding, otherwise: T): T => {
    if (!isFinding(value)) return value;
    findings.push(value);
    return otherwise;
  };
  const length = (text: string | undefined, option: string, otherwise: number, least = 0): number =>
    text === undefined ? otherwise : told(lengthOf(text, option, least), otherwise);
  const paper = options.paper === undefined ? undefined : told(paperOf(options.paper), undefined);
  const named = await readMachine(options.machine ?? (options.paper === undefined ? 'roll-printer' : 'page-printer'));
  findings.push(...named.findings);
  const lay = told(choice(options.lay ?? 'paper', '--lay', LAYS), 'paper');
  const clothWidth = length(options.cloth, '--cloth', CLOTH, 100);
  const asked = options.roll === undefined ? undefined : length(options.roll, '--roll', 914.4, 100);
  const stated =
    asked ?? (paper === undefined ? (named.machine?.width ?? clothIfLaid(lay, options, clothWidth)) : undefined);
  const { formats, apparel } = formatsOf(options.to ?? 'pdf', findings);
  // Pieces that are only exchanged are laid on nothing in particular.
  const roll = stated ?? (formats.length === 0 ? CLOTH : undefined);
  if (roll === undefined && options.paper === undefined) findings.push(noSize());
  const layOut: PlotSettings['layOut'] = {
    lay,
    line: told(choice(options.line ?? 'cutting', '--line', LINES), 'cutting'),
    counting: told(choice((options.copies ?? 'as cut').replace('-', ' '), '--copies', COUNTINGS), 'as cut'),
    nap: options.nap ?? false,
    gap: length(options.gap, '--gap', GAP),
    margins: marginsOf(length(options.margin, '--margin', -1), named.machine),
    effort: told(effortOf(options.effort ?? 'usual'), 'usual'),
    seed: told(whole(options.seed ?? '1', '--seed'), 1),
    guides: options.testSquare ?? true,
    overlap: length(options.overlap, '--overlap', OVERLAP),
    clothWidth,
    ...(roll === undefined ? {} : { roll }),
    ...(paper === undefined ? {} : { paper }),
  };
  if (findings.some((f) => f.level === 'error') || !named.machine) return { findings };
  const settings = { machine: named.machine, formats, apparel, userUnit: options.userUnit ?? false, layOut };
  return { settings, findings };
};

const LAYS: readonly Lay[] = ['paper', 'cloth', 'folded'];
const LINES: readonly CutLine[] = ['cutting', 'seam'];
const COUNTINGS: readonly Counting[] = ['as cut', 'once'];

/** Cloth laid without a roll is its own roll; folded, half as wide. */
const clothIfLaid = (lay: Lay, { cloth }: PlotOptions, width: number): number | undefined => {
  if (lay === 'paper' || cloth === undefined) return undefined;
  return lay === 'folded' ? width / 2 : width;
};

const lengthOf = (text: string, option: string, least: number): number | Finding => {
  const read = parseLength(text, 'mm');
  if (isProblem(read))
    return optionUnknown(`${option} ${text}: ${read.message}`, `${read.try} A bare number is millimetres.`);
  if (read.mm >= least && !read.signed) return read.mm;
  return optionUnknown(
    `${option} ${text} is too small.`,
    `Give at least ${least} mm, for instance ${option} ${Math.max(least, 1) * 2}mm.`,
  );
};

const marginsOf = (asked: number, machine: Machine | undefined): Margins =>
  asked >= 0 || !machine
    ? { left: Math.max(0, asked), right: Math.max(0, asked), top: Math.max(0, asked), bottom: Math.max(0, asked) }
    : machine.margins;

const paperOf = (text: string): PaperSize | Finding => {
  const known = paperCalled(text);
  if (known) return known;
  const own = /^(.+?)\s*[x×]\s*(.+)$/i.exec(text);
  const [width, height] = own ? [parseLength(own[1] ?? '', 'mm'), parseLength(own[2] ?? '', 'mm')] : [];
  if (width && height && !isProblem(width) && !isProblem(height) && Math.min(width.mm, height.mm) >= 100) {
    return { name: text, width: Math.min(width.mm, height.mm), height: Math.max(width.mm, height.mm) };
  }
  return optionUnknown(
    `“${text}” is not a sheet of paper known here.`,
    `Write --paper ${PAPER_SIZES.map((p) => p.name).join(', ')}, or width x height such as 210x297.`,
  );
};

const choice = <T extends string>(text: string, option: string, known: readonly T[]): T | Finding =>
  known.find((k) => k === text.trim().toLowerCase()) ??
  optionUnknown(
    `${option} cannot be “${text}”.`,
    `Write ${option} with one of: ${known.map((k) => (k.includes(' ') ? `'${k}'` : k)).join(', ')}.`,
  );

const effortOf = (text: string): EffortName | number | Finding => {
  if (text in EFFORTS) return text as EffortName;
  const count = Number(text);
  if (Number.isInteger(count) && count >= 0 && count <= 1e9 && text.trim() !== '') return count;
  return optionUnknown(
    `--effort cannot be “${text}”.`,
    `Write ${Object.keys(EFFORTS).join(', ')}, or how many trials it may take.`,
  );
};

const whole = (text: string, option: string): number | Finding => {
  const n = Number(text);
  return Number.isInteger(n) && n >= 0 && n < 2 ** 31
    ? n
    : optionUnknown(`${option} cannot be “${text}”.`, `Write a whole number, such as ${option} 1.`);
};

const formatsOf = (to: string, findings: Finding[]): Pick<PlotSettings, 'formats' | 'apparel'> => {
  const asked = [...new Set(to.split(',').map((name) => name.trim().toLowerCase()))];
  const all = [...sheetFormatNames, APPAREL];
  const unknown = asked.filter((name) => !(all as readonly string[]).includes(name));
  const remedy = `Write --to ${all.join(',')}, or one of them.`;
  findings.push(...unknown.map((name) => optionUnknown(`“${name}” is not a format for sheets.`, remedy)));
  return { formats: sheetFormatNames.filter((f) => asked.includes(f)), apparel: asked.includes(APPAREL) };
};

const noSize = (): Finding => ({
  code: 'job-plot-no-size',
  level: 'error',
  where: {},
  message: 'Nothing says how wide the roll is, or which sheets the pieces are to be printed on.',
  try: 'Add --roll 914 (or --roll 36in), or --paper A4, or a machine with a width such as --machine roll-printer-36.',
});
