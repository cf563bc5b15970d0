import type { Ledger } from '../../job/ledger.ts';
import { alter as alterPatterns } from '../../job/run.ts';
import { runLine, summaryOf } from '../../job/summary.ts';
import { faultText } from '../fault.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { FittingOptions } from '../options.ts';
import { fittingRequest } from '../options.ts';

interface AlterOptions extends FittingOptions {
  readonly out: string;
  readonly force?: boolean;
}

export const alter = async (pattern: string, options: AlterOptions, io: Io): Promise<number> => {
  const tell = findingPrinter(io);
  const ledgers: Ledger[] = [];
  const request = { ...fittingRequest(pattern, options), out: options.out, force: options.force ?? false };
  const result = await alterPatterns(request, {
    onFindings: tell,
    onFitting: ({ ledger }, folder) => {
      tell(ledger.findings.map((f) => ({ ...f, where: { ...f.where, fitting: ledger.fitting } })));
      if (options.json) ledgers.push(ledger);
      else io.out(`${summaryOf(ledger, folder)}\n`);
    },
  });
  if (options.json) io.out(`${JSON.stringify(ledgers, null, 2)}\n`);
  else if (result.done + result.refused + result.failed > 0) io.out(`${runLine(result, options.out)}\n`);
  for (const fault of result.faults) io.err(faultText(fault, ['alter', pattern]));
  return result.exit;
};
