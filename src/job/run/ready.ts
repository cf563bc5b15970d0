import type { Prepared } from '../prepare.ts';
import type { ReportAsked } from '../report/report.ts';
import type { AlterRequest, RunSettings } from './settings.ts';
import type { Task } from './tasks.ts';

/** A run that is ready to begin. */
export interface Ready {
  readonly request: AlterRequest;
  readonly settings: RunSettings;
  readonly patterns: readonly Prepared[];
  /** All that the table asks for, and what of it is done here. */
  readonly whole: readonly Task[];
  readonly tasks: readonly Task[];
  /** How many rows are for patterns that were not given. */
  readonly elsewhere: number;
}

/** The pages asked for are the same for all patterns of a run. */
export const reportOf = ({ patterns }: Pick<Ready, 'patterns'>): ReportAsked | undefined => patterns[0]?.bench.report;
