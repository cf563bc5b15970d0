import type { Finding } from '../../finding.ts';
import { hasErrors } from '../../finding.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { type ApparelFile, apparelFile } from '../apparel.ts';
import { type PatternFileOptions, readPatternFile } from '../patternfile.ts';
import { folderLabels } from './labels.ts';

/** What is kept of a pattern to plot it: of hundreds neither the bytes nor the drawing. */
export interface PlottedPattern {
  readonly fileName: string;
  readonly pattern: Pattern;
  /** Whose it is. */
  readonly label: string;
  /** In the layout to be exchanged, where that is asked for. */
  readonly apparel?: ApparelFile;
}

/** How many patterns have been read. It is told before each. */
export interface ReadingProgress {
  readonly doing: 'reading patterns';
  readonly patterns: number;
  readonly read: number;
}

export interface PlotReading extends PatternFileOptions {
  readonly patterns: readonly string[];
  readonly fittings?: readonly string[] | undefined;
  readonly readAs?: readonly PatternFileOptions[] | undefined;
  readonly onProgress?: ((progress: ReadingProgress) => void) | undefined;
}

/** The patterns in order, without those that cannot be read or are in error: `failed` tells that there are such. */
export const readToPlot = async (
  request: PlotReading,
  apparel: boolean,
): Promise<{
  readonly files: readonly PlottedPattern[];
  readonly failed: boolean;
  readonly findings: readonly Finding[];
}> => {
  const { patterns } = request;
  const files: PlottedPattern[] = [];
  const findings: Finding[] = [];
  const labels = folderLabels(patterns);
  for (const [i, path] of patterns.entries()) {
    request.onProgress?.({ doing: 'reading patterns', patterns: patterns.length, read: i });
    const { file, findings: told } = await readPatternFile(path, request.readAs?.[i] ?? request);
    findings.push(...told);
    if (!file || file.pattern.pieces.length === 0 || hasErrors(told)) continue;
    const { fileName, pattern, drawing } = file;
    const label = request.fittings?.[i] ?? labels[i] ?? '';
    files.push({ fileName, pattern, label, ...(apparel ? { apparel: await apparelFile(pattern, drawing) } : {}) });
  }
  return { files, failed: files.length < patterns.length, findings };
};
