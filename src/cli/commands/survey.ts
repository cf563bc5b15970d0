import { survey as surveyPatterns } from '../../job/survey.ts';
import { surveyText } from '../../job/surveytext.ts';
import { lengthShown } from '../../job/words.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ReadingOptions } from '../options.ts';
import { patternOptions } from '../options.ts';

interface SurveyOptions extends ReadingOptions {
  readonly writeSheet?: string;
  readonly force?: boolean;
}

export const survey = async (patterns: readonly string[], options: SurveyOptions, io: Io): Promise<number> => {
  const { writeSheet, force } = options;
  const { reports, findings, exit } = await surveyPatterns(patterns, { ...patternOptions(options), writeSheet, force });
  findingPrinter(io)(findings);
  if (options.json) io.out(`${JSON.stringify(reports, null, 2)}\n`);
  else for (const report of reports) io.out(`${surveyText(report, lengthShown(options.show, report.units.name))}\n`);
  if (writeSheet !== undefined && exit === 0)
    io.err(`Wrote ${writeSheet}. Correct it, and keep it beside the pattern.\n`);
  return exit;
};
