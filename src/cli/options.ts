import type { PatternFileOptions } from '../job/patternfile.ts';
import type { FittingRequest } from '../job/prepare.ts';

/** Options as the command line parser hands them over. */
export interface ShowingOptions {
  readonly show?: string;
  readonly json?: boolean;
}

export interface ReadingOptions extends ShowingOptions {
  readonly patternSheet?: string;
  readonly units?: string;
  readonly view?: string;
}

export interface FittingOptions extends ReadingOptions {
  readonly drafted?: string;
  readonly chart?: string;
  readonly size?: string;
  readonly wearer?: string;
  readonly name?: string;
  readonly fittings?: string;
  readonly choose?: string;
  readonly ease?: string;
  readonly beyondLimits?: boolean;
  readonly true?: boolean;
  readonly fullGrainline?: boolean;
  readonly unfold?: boolean;
  readonly to?: string;
  /** False when no page is wanted. */
  readonly report?: string | false;
  readonly reportPaper?: string;
}

export const patternOptions = ({ patternSheet, units, view }: ReadingOptions): PatternFileOptions => ({
  sheet: patternSheet,
  units,
  view,
});

export const fittingRequest = (pattern: string | readonly string[], options: FittingOptions): FittingRequest => {
  const { drafted, chart, size, wearer, name, fittings, choose, ease, beyondLimits, fullGrainline, unfold, to, show } =
    options;
  const { report, reportPaper } = options;
  return {
    ...patternOptions(options),
    ...{
      pattern,
      drafted,
      chart,
      size,
      wearer,
      name,
      fittings,
      choose,
      ease,
      beyondLimits,
      fullGrainline,
      unfold,
      to,
      show,
    },
    ...{ report: report === false ? undefined : report, reportPaper },
    true: options.true,
  };
};
