import type { AlterationCard, AlterationOption, PlanOptions } from '../../alterations/contract.ts';
import type { Finding } from '../../finding.ts';
import { parseLength } from '../../measurements/units.ts';
import { nearestWord, plainWords } from '../../measurements/words.ts';
import { catalogue, namesOf } from '../catalogue.ts';
import { optionUnknown } from '../option-unknown.ts';

export interface Choices {
  readonly choices: PlanOptions['choices'];
  readonly findings: readonly Finding[];
}

/**
 * Reads choices of method: `ALTERATION OPTION=VALUE, …`, as in `full abdomen method=raise the waist, hip spread=3`.
 * Lengths may carry any unit and are passed on in millimetres.
 */
export const readChoices = (text: string | undefined): Choices => {
  const choices: Record<string, Record<string, string>> = {};
  const findings: Finding[] = [];
  for (const part of (text ?? '').split(/[,;]/).map((p) => p.trim())) {
    if (part === '') continue;
    const read = readChoice(part);
    if ('code' in read) findings.push(read);
    else choices[read.alteration] = { ...choices[read.alteration], [read.option]: read.value };
  }
  return { choices, findings };
};

interface Choice {
  readonly alteration: string;
  readonly option: string;
  readonly value: string;
}

const readChoice = (part: string): Choice | Finding => {
  const equals = part.indexOf('=');
  const words = plainWords(equals < 0 ? part : part.slice(0, equals));
  const card = cardNamedFirst(words);
  if (equals < 0 || !card) {
    return refused(part, `“${part}” does not name an alteration, its option and a value.`, nearAlteration(words));
  }
  const name = words.slice(longestName(card, words).length).trim();
  const option = card.options.find((o) => plainWords(o.name) === name);
  if (!option) return refused(part, `“${card.name}” has no option “${name}”.`, optionsOf(card));
  const value = readValue(option, part.slice(equals + 1).trim());
  if (value === undefined) {
    return refused(
      part,
      `“${part.slice(equals + 1).trim()}” is no value for ${option.name} of ${card.name}.`,
      valuesOf(option),
    );
  }
  return { alteration: card.name, option: option.name, value };
};

const longestName = (card: AlterationCard, words: string): string =>
  namesOf(card)
    .map(plainWords)
    .filter((n) => words.startsWith(`${n} `) || words === n)
    .reduce((best, n) => (n.length > best.length ? n : best), '');

/** The alteration whose name the text begins with; of several (`hip`, `hip larger`) the longest. */
const cardNamedFirst = (words: string): AlterationCard | undefined =>
  catalogue
    .filter((card) => longestName(card, words) !== '')
    .toSorted((a, b) => longestName(b, words).length - longestName(a, words).length)[0];

const readValue = (option: AlterationOption, text: string): string | undefined => {
  if (option.values === 'count') return /^[1-9]\d?$/.test(text) ? text : undefined;
  if (option.values === 'mm') {
    const length = parseLength(text, 'mm');
    return 'problem' in length ? undefined : String(length.mm);
  }
  return option.values.find((v) => plainWords(v) === plainWords(text));
};

const valuesOf = (option: AlterationOption): string => {
  if (option.values === 'count') return 'Write a number from 1 to 99.';
  if (option.values === 'mm') return 'Write a length with its unit.';
  return `Write one of: ${option.values.join(', ')}.`;
};

const optionsOf = (card: AlterationCard): string =>
  card.options.length === 0 ? 'It has none.' : `It has: ${card.options.map((o) => o.name).join(', ')}.`;

const nearAlteration = (words: string): string => {
  const near = nearestWord(words.split(' ').slice(0, -1).join(' '), catalogue.flatMap(namesOf));
  const form = "Write --choose 'ALTERATION OPTION=VALUE'; `retrue catalogue NAME` lists the options.";
  return near === undefined ? form : `Did you mean “${near}”? ${form}`;
};

const refused = (excerpt: string, message: string, remedy: string): Finding =>
  optionUnknown(message, remedy, { excerpt });
