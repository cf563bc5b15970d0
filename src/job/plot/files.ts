import type { Finding } from '../../finding.ts';
import type { SheetFile, SheetWriter } from '../../formats/sheet.ts';
import type { LaidOut, PieceSet } from '../../layout/lay-out.ts';
import { ordered } from '../../layout/order.ts';
import type { ApparelFile } from '../apparel.ts';
import { sha256 } from '../digest.ts';
import { folderFor } from '../folders.ts';
import type { PlotSettings } from './options.ts';
import type { PlotFile, ReportedFrame } from './report.ts';

/** Patterns that are plotted together. */
export interface PlotGroup {
  /** Base of the file names. */
  readonly name: string;
  readonly title: string;
  readonly sets: readonly PieceSet[];
  /** Each set in the layout to be exchanged, where that is asked for. */
  readonly apparel: readonly ApparelFile[];
}

export interface MadePlot {
  readonly bytes: readonly SheetFile[];
  readonly files: readonly PlotFile[];
  readonly frames: readonly ReportedFrame[];
  readonly findings: readonly Finding[];
}

/** Longest frame that a format takes on the machine, mm; Infinity when neither has a limit. */
export const longestFrame = (writer: SheetWriter, { machine, userUnit }: PlotSettings): number =>
  Math.min(
    writer.greatestFrame !== undefined && !userUnit ? writer.greatestFrame : Number.POSITIVE_INFINITY,
    machine.longest ?? Number.POSITIVE_INFINITY,
  );

/** The files of one plot in every format that was asked for. */
export const makePlotFiles = async (
  group: PlotGroup,
  laid: LaidOut,
  settings: PlotSettings,
  writers: readonly SheetWriter[],
): Promise<MadePlot> => {
  const made: MadePlot[] = [];
  for (const writer of writers) made.push(await writeSheet(writer, group, laid, settings));
  if (settings.apparel) made.push(writtenApparel(group));
  return {
    bytes: made.flatMap((m) => m.bytes),
    files: made.flatMap((m) => m.files),
    frames: made.flatMap((m) => m.frames),
    findings: made.flatMap((m) => m.findings),
  };
};

/** What is told of a cut that is open or joined: on tiles and at a fold lines end where they must. */
const OPEN = new Set(['tool-cut-open', 'tool-lines-joined']);

const writeSheet = async (
  writer: SheetWriter,
  { name }: PlotGroup,
  laid: LaidOut,
  settings: PlotSettings,
): Promise<MadePlot> => {
  const { machine, userUnit, layOut } = settings;
  const limit = longestFrame(writer, settings);
  const sheet = laid.sheet(Number.isFinite(limit) ? limit : undefined);
  const frames = sheet.frames.map((f) => ({ ...f, marks: ordered(f.marks, machine.blade) }));
  const { files, findings } = await writer.write({ ...sheet, frames }, machine, { name, userUnit, ...dated() });
  const opens = layOut.paper !== undefined || layOut.lay === 'folded';
  return {
    bytes: files,
    files: files.map((f) => ({ file: f.name, format: writer.name, sha256: sha256(f.bytes) })),
    frames: frames.map(({ marks: _, trim: __, ...f }) => ({ format: writer.name, ...f })),
    findings: findings.filter((f) => !(opens && OPEN.has(f.code))),
  };
};

/** A date only where the surroundings state one, so that the same input gives the same bytes (reproducible-builds.org). */
const dated = (): { readonly date?: string } => {
  const stated = process.env.SOURCE_DATE_EPOCH;
  const seconds = Number(stated);
  return stated && Number.isFinite(seconds) ? { date: new Date(seconds * 1000).toISOString() } : {};
};

/** The pieces as files to exchange with others who sew: one for each fitting, not laid out. */
const writtenApparel = ({ name, sets, apparel }: PlotGroup): MadePlot => {
  const bytes: SheetFile[] = [];
  const findings: Finding[] = [];
  for (const [i, made] of apparel.entries()) {
    const fitting = sets[i]?.fitting ?? '';
    bytes.push({ name: `${name}${fitting === '' ? '' : ` ${folderFor(fitting)}`}.apparel.dxf`, bytes: made.bytes });
    findings.push(...made.findings);
  }
  const records = bytes.map((f) => ({ file: f.name, format: 'apparel' as const, sha256: sha256(f.bytes) }));
  return { bytes, files: records, frames: [], findings };
};
