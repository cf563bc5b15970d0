import type { Ledger } from '../../job/ledger.ts';
import { plotFittings, type WrittenFitting } from '../../job/plot-fittings.ts';
import { type PlotOptions, settlePlot } from '../../job/plot-options.ts';
import { plotText } from '../../job/plot-report.ts';
import { alter as alterPatterns } from '../../job/run.ts';
import { runLine, summaryOf } from '../../job/summary.ts';
import { lengthShown } from '../../job/words.ts';
import { faultText } from '../fault.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { FittingOptions } from '../options.ts';
import { fittingRequest, patternOptions } from '../options.ts';
import { progressTold } from './plot.ts';

interface AlterOptions extends FittingOptions, Omit<PlotOptions, 'to'> {
  readonly out: string;
  readonly force?: boolean;
  /** Formats of the sheets, or true for the usual one. */
  readonly plot?: string | true;
}

export const alter = async (pattern: string, options: AlterOptions, io: Io): Promise<number> => {
  const tell = findingPrinter(io);
  const ledgers: Ledger[] = [];
  const written: WrittenFitting[] = [];
  const sheets = options.plot === undefined ? undefined : plotOptions(options, options.plot);
  const unready = sheets ? (await settlePlot(sheets)).findings : [];
  tell(unready);
  if (unready.some((f) => f.level === 'error')) return 2;
  const request = { ...fittingRequest(pattern, options), out: options.out, force: options.force ?? false };
  const result = await alterPatterns(request, {
    onFindings: tell,
    onFitting: ({ ledger, status, outputs }, folder) => {
      const [first] = outputs;
      if (status === 'done' && first) written.push({ fitting: ledger.fitting, path: `${folder}/${first.name}` });
      tell(ledger.findings.map((f) => ({ ...f, where: { ...f.where, fitting: ledger.fitting } })));
      if (options.json) ledgers.push(ledger);
      else io.out(`${summaryOf(ledger, folder)}\n`);
    },
  });
  if (options.json) io.out(`${JSON.stringify(ledgers, null, 2)}\n`);
  else if (result.done + result.refused + result.failed > 0) io.out(`${runLine(result, options.out)}\n`);
  for (const fault of result.faults) io.err(faultText(fault, ['alter', pattern]));
  if (!sheets || written.length === 0) return result.exit;
  const { out, force = false } = options;
  const plotted = await plotFittings({
    ...patternOptions(options),
    ...sheets,
    pattern,
    written,
    out,
    force,
    onProgress: progressTold(io),
  });
  tell(plotted.findings);
  const show = lengthShown(options.show, 'mm');
  if (!options.json) for (const report of plotted.reports) io.out(`${plotText(report, out, show)}\n`);
  return Math.max(result.exit, plotted.exit > 0 ? 1 : 0);
};

const plotOptions = (options: AlterOptions, plot: string | true): PlotOptions => {
  const { roll, paper, machine, lay, line, copies, nap, gap, margin, overlap, cloth, effort, seed } = options;
  const { userUnit, testSquare } = options;
  const laid = { roll, paper, machine, lay, line, copies, nap, gap, margin, overlap, cloth, effort, seed };
  return { ...laid, userUnit, testSquare, to: plot === true ? 'pdf' : plot };
};
