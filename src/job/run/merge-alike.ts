import type { Finding } from '../../finding.ts';
import { FOR_ALL_PATTERNS } from './asked.ts';
import type { ManifestLine } from './manifest.ts';

/* Whether the parts of a run were made alike: of one table, one pattern, by one version, with the same options. */

/** A line, and the part of the run that has it. */
export interface PartLine {
  readonly part: number;
  readonly line: ManifestLine;
}

/** Something that must be the same in all lines, or in all lines of one pattern. */
interface Aspect {
  readonly says: string;
  readonly of: (line: ManifestLine) => string | undefined;
  readonly byPattern: boolean;
  /** A hash says nothing to people; a value is shown. */
  readonly shown: boolean;
  readonly remedy: string;
}

const AGAIN = 'Run the part that differs again with the options of the others, with --resume; then merge.';

const FIXED: readonly Aspect[] = [
  {
    says: 'the fittings of the table, or their order',
    of: ({ table }) => table?.rows,
    ...{ byPattern: false, shown: false },
    remedy: 'Run all parts again with the same table, with --resume; what is done is kept.',
  },
  {
    says: 'the version of the program',
    of: ({ version }) => version,
    ...{ byPattern: false, shown: true },
    remedy: 'Use one version on all machines, and run the part that differs again with --resume.',
  },
  {
    says: 'the pattern file or its sheet',
    of: ({ input }) => input,
    ...{ byPattern: true, shown: false },
    remedy: 'Give all parts the same files, and run the part that differs again with --resume.',
  },
];

/** Findings for whatever is not alike in all parts, one to each option. */
export const unlike = (lines: readonly PartLine[]): Finding[] => {
  const untold = [...new Set(lines.filter(({ line }) => line.settings === undefined).map((l) => l.part))];
  if (untold.length > 0) return [optionsUntold(untold)];
  const options = [...new Set(lines.flatMap(({ line }) => Object.keys(line.settings ?? {})))].map(optionAspect);
  return [...FIXED, ...options].flatMap((aspect) => difference(lines, aspect));
};

const SAID: Readonly<Record<string, string>> = {
  drafted: 'the body that the pattern was drafted for (--drafted, --chart or the sheet)',
  SOURCE_DATE_EPOCH: 'SOURCE_DATE_EPOCH',
};

const optionAspect = (option: string): Aspect => ({
  says: SAID[option] ?? `--${option}`,
  of: ({ settings }) => settings?.[option],
  byPattern: !FOR_ALL_PATTERNS.has(option),
  shown: true,
  remedy: AGAIN,
});

const difference = (lines: readonly PartLine[], aspect: Aspect): Finding[] => {
  if (!aspect.byPattern) return valuesDiffer(lines, aspect, undefined);
  const known = lines.filter(({ line }) => line.pattern !== null);
  const patterns = [...new Set(known.map(({ line }) => line.pattern as string))];
  const found = patterns.flatMap((pattern) =>
    valuesDiffer(
      known.filter(({ line }) => line.pattern === pattern),
      aspect,
      pattern,
    ),
  );
  return found.slice(0, 1);
};

const valuesDiffer = (lines: readonly PartLine[], aspect: Aspect, pattern: string | undefined): Finding[] => {
  const byValue = new Map<string | undefined, PartLine[]>();
  for (const l of lines) byValue.set(aspect.of(l.line), [...(byValue.get(aspect.of(l.line)) ?? []), l]);
  if (byValue.size < 2) return [];
  const groups = [...byValue.values()];
  const sides = [...byValue].map(([value, own]) => {
    const who = partsWords(own, groups);
    if (!aspect.shown) return who;
    return value === undefined ? `not given in ${who}` : `“${value}” in ${who}`;
  });
  const told = aspect.shown ? sides.join(', ') : `one thing in ${sides.join(', another in ')}`;
  return [
    {
      code: 'job-shards-mixed',
      level: 'error',
      where: pattern === undefined ? {} : { file: pattern },
      message: `The parts were not made alike. What differs is ${aspect.says}: ${told}.`,
      try: aspect.remedy,
    },
  ];
};

/** `part 1 and part 3`; where a part stands on both sides, with the fittings that it has on this one. */
const partsWords = (own: readonly PartLine[], groups: readonly (readonly PartLine[])[]): string => {
  const words = [...new Set(own.map((l) => l.part))].map((part) => {
    const isSplit = groups.filter((group) => group.some((l) => l.part === part)).length > 1;
    const fittings = own.filter((l) => l.part === part).map((l) => `“${l.line.fitting}”`);
    return isSplit ? `part ${part} (${fittings.join(', ')})` : `part ${part}`;
  });
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
};

const optionsUntold = (parts: readonly number[]): Finding => ({
  code: 'job-shards-mixed',
  level: 'error',
  where: {},
  message: `The manifest of part ${parts.join(', ')} does not say with which options it was made.`,
  try: 'An earlier version wrote it. Run that part again with --resume; what is done is kept.',
});
