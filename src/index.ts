/**
 * `retrue` as a library: the steps of the program as functions, for a maker's own script or a shop's software.
 *
 * ```js
 * import { alter, planFitting, readPattern } from 'retrue';
 *
 * const { file, findings } = await readPattern('skirt.dxf', { drafted: { 'waist girth': '27in', 'hip girth': '37in' } });
 * const dorothea = { name: 'Dorothea', measurements: { 'waist girth': '28in', 'hip girth': '38in' } };
 * for (const step of planFitting(file, dorothea).steps) console.log(step.explanation);
 * const { status, outputs } = await alter(file, dorothea);
 * ```
 *
 * Inside, lengths are millimetres. What is the matter with a file or a request is a finding among those given back, with
 * code, place, message and what to try; only a fault of the program throws. Nothing is printed, nothing is written to disk,
 * and the process is never ended.
 *
 * Stable are the functions, their options and results as typed here, the ledger by its schema, and the codes of findings.
 * Not so the words of findings and pages, nor what `PatternFile` and `Pattern` hold inside.
 *
 * @packageDocumentation
 */
export type { AlterationCard, Needs, Plan, PlannedStep, Share, Target } from './alterations/contract.ts';
export type { Finding, FindingLevel, Where } from './finding.ts';
export { Bug, hasErrors } from './finding.ts';
export type { FormatName } from './formats/drawing.ts';
export { catalogue } from './job/catalogue.ts';
export type { FittingOutcome } from './job/fitting.ts';
export type { CheckedFitting, CheckRequest, CheckResult } from './job/fittings/check.ts';
export { checkFittings } from './job/fittings/check.ts';
export type { Ledger } from './job/ledger.ts';
export { ledgerText } from './job/ledger.ts';
export type {
  AlterOptions,
  FittingOptions,
  FittingRequest,
  Length,
  Lengths,
  ReadPattern,
  ReadPatternOptions,
} from './job/library.ts';
export { alter, checkPattern, measurePattern, planFitting, readPattern, writePattern } from './job/library.ts';
export type { OutputFile } from './job/making.ts';
export type { Measures } from './job/measures.ts';
export type { PatternFile } from './job/patternfile.ts';
export type { ReportFormat, ReportPaper } from './job/report/report.ts';
export { version } from './job/version.ts';
export type { Pattern } from './pattern/pattern.ts';
export type { Dart, Edge, Notch, Outline, Piece } from './pattern/piece.ts';
