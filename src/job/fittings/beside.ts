import { canUse } from '../../alterations/changes.ts';
import type { Finding } from '../../finding.ts';
import { covers } from '../../measurements/checked.ts';
import { LIKELY_EXCHANGED, looksExchanged } from '../../measurements/exchanged.ts';
import type { Fitting } from '../../measurements/fittings.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { list, shown } from '../words.ts';

/** A wearer this far from the body the pattern was drafted for is better served by another size. Common practice. */
const OTHER_SIZE = 0.15;
const GIRTHS = ['bust girth', 'waist girth', 'hip girth'] as const;

/** A row, and the patterns that it is for. */
export interface Beside {
  readonly fitting: Fitting;
  readonly patterns: readonly Pattern[];
}

/** What only shows with the patterns in view. `findings` are those of the table itself. */
export const besidePatterns = (rows: readonly Beside[], file: string, findings: readonly Finding[]): Finding[] => [
  ...columnsBeside(rows, file),
  ...rows
    // A row in which something is to be put right first is not held against its patterns yet.
    .filter(({ fitting }) => !findings.some((f) => f.where.row === fitting.row && f.level !== 'note'))
    .flatMap(({ fitting, patterns }) =>
      patterns.flatMap((pattern) => {
        const exchanged = exchangedBeside(fitting, pattern, file);
        return exchanged.length > 0 ? exchanged : farFromDrafted(fitting, pattern, file);
      }),
    ),
];

/** Bust and hip the other way round than on the body the pattern was drafted for. */
const exchangedBeside = (fitting: Fitting, { draftedFor, fileName }: Pattern, file: string): Finding[] =>
  LIKELY_EXCHANGED.flatMap(([first, second]): Finding[] => {
    const [a, b] = [fitting.measurements[first], fitting.measurements[second]];
    const [draftedA, draftedB] = [draftedFor[first], draftedFor[second]];
    if (a === undefined || b === undefined || draftedA === undefined || draftedB === undefined) return [];
    if (!looksExchanged(a, b, draftedA / draftedB)) return [];
    const stands = covers(fitting.stands, first) || covers(fitting.stands, second);
    const say = (mm: number) => shown(mm, fitting.show);
    return [
      {
        code: 'job-fitting-exchanged',
        level: stands ? 'note' : 'warning',
        where: { file, row: fitting.row, cell: first, fitting: fitting.name },
        message: `The ${first} is ${say(a)} and the ${second} ${say(b)}; on the body that ${fileName} was drafted for they are ${say(draftedA)} and ${say(draftedB)}, the other way round.`,
        try: stands ? STANDS : `If the two were exchanged, put them right. ${OR_CHECKED}`,
      },
    ];
  });

const STANDS = 'It is marked as checked, and taken as it stands.';
const OR_CHECKED = "If it was measured so, write yes in the column 'checked'.";

/** Measurements in the table that the pieces cannot use. */
const columnsBeside = (rows: readonly Beside[], file: string): Finding[] => {
  const patternsOf = new Map<string, Set<Pattern>>();
  for (const { fitting, patterns } of rows)
    for (const name of Object.keys(fitting.measurements))
      patternsOf.set(name, new Set([...(patternsOf.get(name) ?? []), ...patterns]));
  const unused = [...patternsOf]
    .filter(([name, own]) => name !== 'stature' && own.size > 0 && ![...own].some((pattern) => canUse(pattern, name)))
    .map(([name]) => name);
  if (unused.length === 0) return [];
  const all = [...new Set(rows.flatMap((r) => r.patterns))];
  const who = all.length === 1 ? `${all[0]?.fileName} does not use` : 'None of the patterns uses';
  return [
    {
      code: 'job-fittings-unused',
      level: 'note',
      where: { file },
      message: `${who}: ${unused.join(', ')}. They are checked, and nothing is altered for them.`,
      try: 'Nothing need be done. retrue fittings new writes a table with the measurements that it does use.',
    },
  ];
};

/** One finding a fitting. */
const farFromDrafted = (fitting: Fitting, pattern: Pattern, file: string): Finding[] => {
  const far = GIRTHS.flatMap((name) => {
    const [wearer, drafted] = [fitting.measurements[name], pattern.draftedFor[name]];
    if (wearer === undefined || drafted === undefined || Math.abs(wearer / drafted - 1) <= OTHER_SIZE) return [];
    return [{ name, wearer, drafted }];
  });
  if (far.length === 0) return [];
  const stands = far.every(({ name }) => covers(fitting.stands, name));
  const bodies = far.map((f) => `${f.name} ${shown(f.wearer, fitting.show)} for ${shown(f.drafted, fitting.show)}`);
  return [
    {
      code: 'job-fitting-far-from-pattern',
      level: stands ? 'note' : 'warning',
      where: { file, row: fitting.row, fitting: fitting.name },
      message: `More than ${OTHER_SIZE * 100} % from what ${pattern.fileName} was drafted for: ${list(bodies)}.`,
      try: stands
        ? STANDS
        : "Check the numbers. If they are right, a pattern of a nearer size will serve better; write yes in the column 'checked' to use this one.",
    },
  ];
};
