import type { Term } from './term.ts';
import { girths } from './terms-girths.ts';
import { lengths } from './terms-lengths.ts';
import { type Candidate, nearestOf, plainWords } from './words.ts';

export type { Term } from './term.ts';

const table = {
  stature: {
    kind: 'length',
    taken: 'from the floor to the top of the head, standing upright without shoes; no pattern uses it, checks do',
    synonyms: ['height', 'body height', 'Körpergröße', 'Körperhöhe', 'estatura', 'altezza', 'lichaamslengte', '身長'],
    range: [1350, 2150],
  },
  ...girths,
  ...lengths,
} as const satisfies Record<string, Term>;

/** Canonical name of a body measurement: the ISO 8559-1 term where there is one, else the trade's. */
export type MeasurementName = keyof typeof table;

/** All measurements the program knows, by canonical name, from neck to hem. */
export const terms: Readonly<Record<MeasurementName, Term>> = table;

export const measurementNames = Object.keys(table) as readonly MeasurementName[];

const byWord: ReadonlyMap<string, MeasurementName> = new Map(
  measurementNames.flatMap((name) => [name, ...terms[name].synonyms].map((word) => [plainWords(word), name] as const)),
);

/**
 * The measurement a text names, without regard to case, accents, hyphens, underscores or extra spaces: 'Waist',
 * 'waist girth', 'HIPS', 'tour de taille'. Undefined for any other text.
 */
export const measurementCalled = (text: string): MeasurementName | undefined => byWord.get(plainWords(text));

/**
 * The known name nearest to a text, for "did you mean": a canonical measurement name, or one of `extra` (names of
 * alterations, other columns). Undefined when nothing is near.
 */
export const nearestTerm = (text: string, extra: Iterable<string> = []): string | undefined =>
  nearestOf(text, allCandidates(extra));

function* allCandidates(extra: Iterable<string>): Generator<Candidate> {
  for (const name of measurementNames) yield { word: name, name };
  for (const name of extra) yield { word: name, name };
  for (const [word, name] of byWord) yield { word, name };
}
