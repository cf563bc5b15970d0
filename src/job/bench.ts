import type { AlterOptions } from '../alterations/contract.ts';
import { Bug } from '../finding.ts';
import type { FormatName } from '../formats/drawing.ts';
import type { Bench } from './fitting.ts';
import { formatCalled } from './formats.ts';
import { measure } from './measures.ts';
import {
  type Load,
  load,
  type PatternFile,
  type PatternFileOptions,
  readPatternFile,
  unreadable,
} from './patternfile.ts';
import type { ReportAsked } from './report/report.ts';

/** All that a bench is made of, as plain values and bytes, so that any thread can set up one of its own. */
export interface BenchSetup {
  readonly path: string;
  readonly options: PatternFileOptions;
  /** The pattern and its sheet as they were read, once, by path: every thread works from the same bytes. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly draftedFor: Readonly<Record<string, number>>;
  readonly plan: Bench['plan'];
  readonly alter: AlterOptions;
  readonly unfold: boolean;
  readonly formats: readonly FormatName[];
  /** Pages for people; none when left out. */
  readonly report?: ReportAsked;
}

/** A bench for a pattern file that has been read. */
export const benchOn = async (read: PatternFile, setup: BenchSetup): Promise<Bench> => {
  const file: PatternFile = { ...read, pattern: { ...read.pattern, draftedFor: setup.draftedFor } };
  const { plan, alter, unfold } = setup;
  const formats = await Promise.all(setup.formats.map(formatCalled));
  const report = setup.report ? { report: setup.report } : {};
  return { file, before: measure(file.pattern), plan, alter, unfold, formats, ...report };
};

/** A bench from nothing but its setup. */
export const setUpBench = async (setup: BenchSetup): Promise<Bench> => {
  const { file } = await readPatternFile(setup.path, setup.options, from(setup.files));
  if (!file) throw new Bug(`${setup.path} was read once, and cannot be read again from the same bytes`);
  return benchOn(file, setup);
};

const from =
  (files: ReadonlyMap<string, Uint8Array>): Load =>
  async (path) =>
    files.get(path) ?? unreadable(path, { code: 'ENOENT' });

/** Reads from the disk and keeps what was read. */
export const keeping = (files: Map<string, Uint8Array>): Load => {
  return async (path) => {
    const bytes = await load(path);
    if (!('code' in bytes)) files.set(path, bytes);
    return bytes;
  };
};
