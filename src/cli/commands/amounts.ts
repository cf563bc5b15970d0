import { amounts as reckonAmounts } from '../../job/amounts.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { FittingOptions } from '../options.ts';
import { fittingRequest } from '../options.ts';

export const amounts = async (patterns: readonly string[], options: FittingOptions, io: Io): Promise<number> => {
  const { fittings, text, findings, exit } = await reckonAmounts(fittingRequest(patterns, options));
  const tell = findingPrinter(io);
  tell(findings);
  for (const f of fittings) tell(f.findings.map((one) => ({ ...one, where: { ...one.where, fitting: f.fitting } })));
  io.out(options.json ? `${JSON.stringify(fittings, null, 2)}\n` : text);
  return exit;
};
