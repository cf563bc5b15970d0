import { checkFittings } from '../../job/fittings/check.ts';
import { newFittings } from '../../job/fittings/new.ts';
import { findingPrinter } from '../findings.ts';
import type { Io } from '../io.ts';
import type { ReadingOptions } from '../options.ts';
import { patternOptions } from '../options.ts';

interface DraftedOptions {
  readonly drafted?: string;
  readonly chart?: string;
  readonly size?: string;
}

interface NewOptions extends DraftedOptions {
  readonly units?: string;
  readonly drawnIn?: string;
  readonly patternSheet?: string;
  readonly view?: string;
  readonly to?: string;
  readonly separator?: string;
  readonly out?: string;
  readonly notes?: boolean;
  readonly force?: boolean;
  readonly json?: boolean;
}

export const fittingsNew = async (patterns: readonly string[], options: NewOptions, io: Io): Promise<number> => {
  const { patternSheet, notes: wanted, json, ...rest } = options;
  const { files, columns, notes, findings, exit } = await newFittings({ ...rest, patterns, sheet: patternSheet });
  findingPrinter(io)(findings);
  if (json) io.out(`${JSON.stringify({ files, columns }, null, 2)}\n`);
  else if (exit === 0) {
    for (const file of files) io.out(`Wrote ${file}\n`);
    io.out(`Columns: ${columns.map((c) => c.heading).join(', ')}\n`);
    if (wanted) io.out(`\n${notes}`);
  }
  return exit;
};

export const fittingsCheck = async (
  table: string,
  patterns: readonly string[],
  options: ReadingOptions & DraftedOptions,
  io: Io,
): Promise<number> => {
  const { drafted, chart, size } = options;
  const request = { ...patternOptions(options), drafted, chart, size, table, patterns };
  const { fittings, findings, text, exit } = await checkFittings(request);
  // What is wrong with a column is told once, not for every row that it spoils.
  findingPrinter(io)([...new Set([...findings, ...fittings.flatMap((fitting) => fitting.findings)])]);
  io.out(options.json ? `${JSON.stringify({ fittings, findings }, null, 2)}\n` : text);
  return exit;
};
