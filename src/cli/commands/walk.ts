import { walk as walkPatterns, walkText } from '../../job/walk.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ReadingOptions } from '../options.ts';
import { patternOptions } from '../options.ts';

export const walk = async (patterns: readonly string[], options: ReadingOptions, io: Io): Promise<number> => {
  const { reports, findings, exit } = await walkPatterns(patterns, patternOptions(options));
  findingPrinter(io)(findings);
  if (options.json) io.out(`${JSON.stringify(reports, null, 2)}\n`);
  else for (const report of reports) io.out(`${walkText(report, lengthShown(options.show, report.units))}\n`);
  return exit;
};
