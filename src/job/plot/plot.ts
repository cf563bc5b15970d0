import { basename, extname, join } from 'node:path';
import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import type { SheetFile, SheetWriter } from '../../formats/sheet.ts';
import { layOut, type PieceSet } from '../../layout/lay-out.ts';
import type { LayoutProgress } from '../../layout/progress.ts';
import { builtWorker } from '../built-worker.ts';
import type { Exit } from '../exits.ts';
import { folderFor } from '../folders.ts';
import type { PatternFileOptions } from '../patternfile.ts';
import { clear, isSystemError, refuseNoFolder, refuseToOverwrite, store, sweep, writeFailed } from '../store.ts';
import { plotsLeft, plottedEarlier } from './earlier.ts';
import { longestFrame, makePlotFiles, type PlotGroup } from './files.ts';
import { type PlotOptions, type PlotSettings, settlePlot } from './options.ts';
import { type PlottedPattern, type ReadingProgress, readToPlot } from './read.ts';
import { LAYOUT, type LayoutReport, layoutReport } from './report.ts';
import { sheetWriterCalled } from './sheet-writers.ts';
import { cautions, wordsFor } from './words.ts';

export interface PlotRequest extends PatternFileOptions, PlotOptions {
  readonly patterns: readonly string[];
  readonly out: string;
  readonly force: boolean;
  /** Goes on with an earlier run: its plots are made anew, unless somebody changed them since. */
  readonly resume?: boolean | undefined;
  /** Labels of whose each pattern is, in order; by default the folders, where several patterns have one name. */
  readonly fittings?: readonly string[] | undefined;
  /** How each is read, in order, where they are not all read alike. */
  readonly readAs?: readonly PatternFileOptions[] | undefined;
  /** Told now and then while patterns are read and the layout is sought. */
  readonly onProgress?: ((progress: PlotProgress) => void) | undefined;
  /** Name for one plot of all patterns; by default patterns of the same name are plotted together. */
  readonly together?: string | undefined;
}

/** How far the reading, or the layout of one of the plots, is. */
export type PlotProgress = ReadingProgress | (LayoutProgress & { readonly plot: string });

export interface PlotResult {
  readonly exit: Exit;
  readonly reports: readonly LayoutReport[];
  readonly findings: readonly Finding[];
}

/** Lays pieces out and writes them for machines: `OUT/<pattern>.pdf` and the like, and `OUT/layout.json`. */
export const plot = async (request: PlotRequest): Promise<PlotResult> => {
  const settled = await settlePlot(request);
  const { settings } = settled;
  if (!settings) return { exit: 2, reports: [], findings: settled.findings };
  const read = await readToPlot(request, settings.apparel);
  const findings: Finding[] = [...settled.findings, ...read.findings];
  if (read.files.length === 0) return { exit: 2, reports: [], findings };
  const writers = await Promise.all(settings.formats.map(sheetWriterCalled));
  const plots: Plot[] = [];
  const worker = await builtWorker('nest-worker');
  for (const group of groupsOf(read.files, request.together)) {
    const onProgress = (p: LayoutProgress): void => request.onProgress?.({ ...p, plot: group.name });
    const made = await plotGroup(group, { ...settings, layOut: { ...settings.layOut, worker, onProgress } }, writers);
    findings.push(...made.findings);
    if (made.plot) plots.push(made.plot);
  }
  if (plots.length === 0) return { exit: 2, reports: [], findings };
  const stored = await storeAll(plots, request);
  findings.push(...stored.findings);
  if (!stored.done) return { exit: 2, reports: [], findings };
  const bad = read.failed || hasErrors(findings);
  return { exit: bad ? 1 : 0, reports: plots.map((p) => p.report), findings };
};

/** Patterns of one name are fittings of one pattern, and share a roll. */
const groupsOf = (files: readonly PlottedPattern[], together: string | undefined): PlotGroup[] => {
  const nameOf = ({ fileName }: PlottedPattern): string => together ?? basename(fileName, extname(fileName));
  const key = (name: string): string => name.normalize('NFC').toLowerCase();
  const keys = [...new Set(files.map((f) => key(nameOf(f))))];
  return keys.map((k) => {
    const own = files.filter((f) => key(nameOf(f)) === k);
    const name = nameOf(own[0] as PlottedPattern);
    const labels = own.length === 1 ? [''] : labelsOf(own);
    const style = own[0]?.pattern.style;
    const sets = own.map(({ pattern }, i): PieceSet => ({ fitting: labels[i] ?? '', pieces: pattern.pieces }));
    return {
      name: folderFor(name),
      sets,
      title: together ?? (style || name),
      apparel: own.flatMap((f) => f.apparel ?? []),
    };
  });
};

/** Each fitting by whose it is; where two have one label, each with its file, and numbered where that is one too. */
const labelsOf = (files: readonly PlottedPattern[]): string[] => {
  const told = files.map(({ fileName, label }, i) => {
    const alone = files.every((other, k) => k === i || other.label !== label);
    return alone ? label : `${label}/${fileName}`;
  });
  return told.map((label, i) => {
    const before = told.slice(0, i).filter((other) => other === label).length;
    return before === 0 ? label : `${label} (${before + 1})`;
  });
};

interface Plot {
  readonly report: LayoutReport;
  readonly files: readonly SheetFile[];
}

const plotGroup = async (
  group: PlotGroup,
  settings: PlotSettings,
  writers: readonly SheetWriter[],
): Promise<{ readonly plot?: Plot; readonly findings: readonly Finding[] }> => {
  const longest = Math.min(...writers.map((w) => longestFrame(w, settings)));
  const { laid, findings: told } = layOut(group.sets, {
    ...settings.layOut,
    title: group.title,
    words: wordsFor(settings.machine, settings),
    ...(Number.isFinite(longest) ? { longest } : {}),
  });
  if (!laid || laid.pieces.length === 0) return { findings: once(told) };
  const made = await makePlotFiles(group, laid, settings, writers);
  const findings = once([...told, ...cautions(settings.machine), ...made.findings]);
  return { plot: { report: layoutReport(group, laid, settings, { ...made, findings }), files: made.bytes }, findings };
};

/** What is told of every copy or fitting alike is told once. */
const once = (findings: readonly Finding[]): Finding[] => {
  const seen = new Set<string>();
  return findings.filter((f) => {
    const key = JSON.stringify([f.code, f.where, f.message]);
    return !seen.has(key) && seen.add(key);
  });
};

const storeAll = async (
  plots: readonly Plot[],
  request: PlotRequest,
): Promise<{ readonly done: boolean; readonly findings: readonly Finding[] }> => {
  const files = plots.flatMap((p) => p.files);
  const earlier = await plottedEarlier(request.out);
  const replaced = request.resume ? earlier : new Set<string>();
  const names = [...files.map((f) => f.name), LAYOUT];
  const outputs = names.map((name) => join(request.out, name));
  const inputs = [...request.patterns, ...(request.sheet === undefined ? [] : [request.sheet])];
  const blocked = [
    ...(await refuseNoFolder(request.out)),
    ...(await refuseToOverwrite(outputs, inputs, true)),
    ...(await refuseToOverwrite(
      names.filter((name) => !replaced.has(name)).map((name) => join(request.out, name)),
      [],
      request.force,
    )),
  ];
  if (blocked.length > 0) return { done: false, findings: blocked };
  try {
    await sweep(outputs);
    for (const file of files) await store(join(request.out, file.name), file.bytes);
    await store(
      join(request.out, LAYOUT),
      `${JSON.stringify({ 'retrue layout': 1, layouts: plots.map((p) => p.report) }, null, 2)}\n`,
    );
    return {
      done: true,
      findings: plotsLeft(
        [...earlier].filter((name) => !names.includes(name)),
        request.out,
      ),
    };
  } catch (error) {
    if (!isSystemError(error)) throw error;
    await clear(outputs).catch(() => undefined);
    return { done: false, findings: [writeFailed(request.out, error)] };
  }
};
