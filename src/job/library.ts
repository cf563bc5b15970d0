import type { Plan } from '../alterations/contract.ts';
import { alterationColumns } from '../alterations/index.ts';
import { checkPattern } from '../checks/index.ts';
import { type Finding, hasErrors } from '../finding.ts';
import type { FormatName } from '../formats/drawing.ts';
import { type Entry, readEntries } from '../measurements/assignments.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { type Bench, carryOut, type FittingOutcome, fitOrder } from './fitting.ts';
import { formatCalled, formatNames } from './formats.ts';
import { withEnding } from './making.ts';
import { type Measures, measure } from './measures.ts';
import { optionUnknown } from './option-unknown.ts';
import { readChoices } from './orders/choices.ts';
import { readEaseOf } from './orders/ease.ts';
import { type Order, shownIn } from './orders/orders.ts';
import { type PatternFile, readPatternBytes, readPatternFile } from './patternfile.ts';
import { onOnePaper, type ReportFormat, type ReportPaper, settleReport } from './report/report.ts';

/* The steps of the program as functions, for a script of one's own. Nothing here prints or ends the process. */

/** A length: a number is millimetres, a text has its unit with it: `'27 1/2 in'`, `'70.5 cm'`, `'27½"'`. */
export type Length = number | string;

/** Lengths by name, as in `{ 'waist girth': '28in', 'hip girth': 965 }`. Names as in a fittings table. */
export type Lengths = Readonly<Record<string, Length>>;

export interface ReadPatternOptions {
  /** The body the pattern was drafted for; goes before what its pattern sheet says. */
  readonly drafted?: Lengths;
  /** Unit the file is drawn in, over what the file says: mm, cm, in or px. */
  readonly units?: string;
  /** Only the pieces of this view of the pattern sheet. */
  readonly view?: string;
  /**
   * Of a pattern read from its path, the path of its sheet (`PATTERN.sheet.yaml` beside it is found without); of one
   * read from bytes, the sheet's text.
   */
  readonly sheet?: string;
}

/** A pattern as read: its bytes, its drawing and what the lines mean. */
export interface ReadPattern {
  /** Absent when the pattern cannot be used; then there is an error among the findings. */
  readonly file?: PatternFile;
  readonly findings: readonly Finding[];
}

/** Who the pattern is to be altered for. */
export interface FittingRequest {
  /** Names the fitting in what is told and recorded. */
  readonly name: string;
  /** The wearer's body. */
  readonly measurements?: Lengths;
  /** Alterations asked for directly, signed as the catalogue says: `{ 'full abdomen': '10mm' }`. */
  readonly changes?: Lengths;
  /** Ease in place of the design's, by measurement: `{ 'bust girth': '2in', 'hip girth': 'least' }`. */
  readonly ease?: Lengths;
}

export interface FittingOptions {
  /** Alters past the customary limits, and tells where. */
  readonly beyondLimits?: boolean;
  /** Methods, as `'ALTERATION OPTION=VALUE, …'`. */
  readonly choose?: string;
  /** Unit in which lengths are told: in, cm or mm. By default that of the measurements. */
  readonly show?: 'in' | 'cm' | 'mm';
}

export interface AlterOptions extends FittingOptions {
  /** Also mends faults the pattern came with. */
  readonly true?: boolean;
  /** Runs the grainline through the whole piece. */
  readonly fullGrainline?: boolean;
  /** Opens half pieces out where one side is to differ from the other. */
  readonly unfold?: boolean;
  /** Formats to write; by default the pattern's own. */
  readonly to?: readonly FormatName[];
  /** Pages for people to make beside it; by default none. */
  readonly pages?: readonly ReportFormat[];
  /** Paper of pages in PDF; by default Letter where lengths are told in inches, else A4. */
  readonly paper?: ReportPaper;
}

/**
 * Reads a pattern and says what its lines mean.
 *
 * @param source path of a DXF or SVG file, or its bytes with the name they go by
 * @returns findings, and the pattern unless it cannot be used; a bad file is a finding and never thrown
 */
export const readPattern = async (
  source: string | { readonly name: string; readonly bytes: Uint8Array },
  options: ReadPatternOptions = {},
): Promise<ReadPattern> => {
  const { drafted, ...reading } = options;
  const read =
    typeof source === 'string'
      ? await readPatternFile(source, reading)
      : await readPatternBytes(source.bytes, source.name, reading);
  const stated = lengthsRead('drafted', drafted);
  const findings = [...read.findings, ...stated.findings];
  if (!read.file || hasErrors(findings)) return { findings };
  const draftedFor = { ...read.file.pattern.draftedFor, ...stated.measurements };
  return { file: { ...read.file, pattern: { ...read.file.pattern, draftedFor } }, findings };
};

/**
 * Which alterations a fitting calls for, how much of each, and how it is shared; the pattern is altered on paper to find
 * out, and nothing is written. Errors among the plan's findings refuse the fitting.
 */
export const planFitting = (file: PatternFile, fitting: FittingRequest, options: FittingOptions = {}): Plan => {
  const order = orderFor(file, fitting, options);
  if (order.refused) return { fitting: fitting.name, steps: [], findings: order.findings };
  const { plan } = fitOrder({ file, ...waysOf(options) }, order);
  return { ...plan, findings: [...order.findings, ...plan.findings] };
};

/**
 * Alters a pattern for one fitting: plans, alters with every seam trued, checks, writes in memory, reads what it wrote
 * again and measures it. The same request gives the same bytes.
 *
 * @returns `status` done, refused or failed; `outputs` with name and bytes when done; `reports`, the pages asked for; the
 * ledger with needs, shares, edges, mates and girths before and after, and all findings
 */
export const alter = async (
  file: PatternFile,
  fitting: FittingRequest,
  options: AlterOptions = {},
): Promise<FittingOutcome> => {
  const { to, pages = [], paper } = options;
  const report = settleReport({ report: pages.join(','), reportPaper: paper });
  const order = orderFor(file, fitting, options, [
    ...(to ?? []).filter((name) => !isFormat(name)).map(formatUnknown),
    ...report.findings,
  ]);
  const bench: Bench = {
    file,
    before: measuredOnce(file),
    ...waysOf(options),
    unfold: options.unfold ?? false,
    formats: to ? await Promise.all(to.filter(isFormat).map(formatCalled)) : [file.format],
    ...(report.asked ? { report: onOnePaper(report.asked, [order.show]) } : {}),
  };
  return carryOut(bench, order);
};

/**
 * A pattern as it is, written in a format; in its own, byte for byte what was read. There are no bytes when the findings
 * hold an error: there is no such format.
 */
export const writePattern = async (
  file: PatternFile,
  to: FormatName,
): Promise<{ readonly name: string; readonly bytes: Uint8Array; readonly findings: readonly Finding[] }> => {
  if (to === file.format.name) return { name: file.fileName, bytes: file.bytes, findings: [] };
  if (!isFormat(to)) return { name: file.fileName, bytes: new Uint8Array(), findings: [formatUnknown(to)] };
  const format = await formatCalled(to);
  const { bytes, findings } = format.write(file.drawing);
  return { name: withEnding(file.fileName, format), bytes, findings };
};

/** Lengths of edges, mates laid edge to edge, and girths of a pattern, mm. */
export const measurePattern = (pattern: Pattern): Measures => measure(pattern);

export { checkPattern };

const measured = new WeakMap<PatternFile, Measures>();

const measuredOnce = (file: PatternFile): Measures => {
  const known = measured.get(file) ?? measure(file.pattern);
  measured.set(file, known);
  return known;
};

const waysOf = (options: AlterOptions): Pick<Bench, 'plan' | 'alter'> => ({
  plan: { beyondLimits: options.beyondLimits ?? false, choices: readChoices(options.choose).choices },
  alter: { true: options.true ?? false, fullGrainline: options.fullGrainline ?? false },
});

/** @param asked what is the matter with other options; an error among it refuses the order too */
const orderFor = (
  { pattern }: PatternFile,
  fitting: FittingRequest,
  { show, choose }: FittingOptions,
  asked: readonly Finding[] = [],
): Order => {
  const body = lengthsRead('measurements', fitting.measurements);
  const changes = lengthsRead('changes', fitting.changes, ' change');
  const ease = readEaseOf(entriesOf(fitting.ease), pattern);
  const unit = shownIn(show);
  const findings = [
    ...[...body.findings, ...changes.findings, ...ease.findings, ...readChoices(choose).findings],
    ...(typeof unit === 'object' ? [unit] : []),
    ...asked,
  ].map((f): Finding => ({ ...f, where: { fitting: fitting.name, ...f.where } }));
  return {
    needs: {
      fitting: fitting.name,
      measurements: body.measurements,
      direct: { ...body.direct, ...changes.direct },
      ease: { ...body.ease, ...ease.ease },
    },
    show: typeof unit === 'string' ? unit : body.show,
    wearer: '',
    note: '',
    refused: hasErrors(findings),
    findings,
  };
};

/** Lengths by name, read as those of a command line are. */
const lengthsRead = (source: string, lengths: Lengths | undefined, kind = '') =>
  readEntries(entriesOf(lengths, kind), { source, alterationColumns: alterationColumns() });

/** @param kind put after a name that is a measurement too, to mean a change of it */
const entriesOf = (lengths: Lengths = {}, kind = ''): Entry[] =>
  Object.entries(lengths).map(([name, length]) => ({
    name: named(name, kind),
    value: typeof length === 'number' ? `${length}mm` : String(length),
  }));

const named = (name: string, kind: string): string => (name.endsWith(kind) ? name : `${name}${kind}`);

const isFormat = (name: string): name is FormatName => (formatNames as readonly string[]).includes(name);

/** What the caller's types would have refused. */
const formatUnknown = (name: string): Finding =>
  optionUnknown(`“${name}” is no format that a pattern is written in.`, `Ask for ${formatNames.join(' or ')}.`);
