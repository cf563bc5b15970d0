import type { AlterationCard, LengthShown } from '../alterations/contract.ts';
import { catalogue } from '../alterations/index.ts';
import type { Finding } from '../finding.ts';
import { nearestWord, plainWords } from '../measurements/words.ts';
import { shown, table, wrapped } from './words.ts';

export { catalogue };

/** The alterations a name stands for: its own, or those it is a synonym of. `hip larger` is the alteration `hip`. */
export const cardsCalled = (name: string): readonly AlterationCard[] =>
  catalogue.filter((card) => namesOf(card).some((n) => plainWords(n) === plainWords(name)));

/** Every name an alteration goes by. */
export const namesOf = ({ name, title, plus, minus, synonyms }: AlterationCard): string[] => [
  ...[name, title, `${name} ${plus}`, `${name} ${minus}`],
  ...synonyms.map((s) => s.name),
];

export const unknownAlteration = (name: string): Finding => {
  const near = nearestWord(name, catalogue.flatMap(namesOf));
  return {
    code: 'job-alteration-unknown',
    level: 'error',
    where: { excerpt: name },
    message: `There is no alteration called “${name}”.`,
    try: `${near === undefined ? '' : `Did you mean “${near}”? `}\`retrue catalogue\` lists them all.`,
  };
};

/** One line for each alteration. */
export const catalogueText = (): string =>
  [
    ...table(catalogue.map((c) => [c.name, `+ ${c.plus}`, `− ${c.minus}`])),
    '',
    'retrue catalogue NAME tells how it is done, what it needs and its limits.',
    '',
  ].join('\n');

const WIDTH = 100;

/** One alteration in full. */
export const cardText = (card: AlterationCard, show: LengthShown): string => {
  const rows: [string, string][] = [
    ['+ means', card.plus],
    ['− means', card.minus],
    ['also called', card.synonyms.map((s) => s.name).join(', ')],
    ['measured by', card.measurement ?? 'nothing: asked for directly, as an amount'],
    ['needs', card.needs.join('; ')],
    ['most', card.limits.map((limit) => limitText(limit, show)).join('; ')],
    ['moves', card.moves.join(', ')],
    ['keeps', card.keeps.join(', ')],
    ...card.options.map((o): [string, string] => [`${o.name}=`, optionText(o, show)]),
    ['source', card.source],
  ];
  const lines = rows
    .filter(([, text]) => text !== '')
    .flatMap(([title, text]) =>
      wrapped(text, WIDTH - 15).map((line, i) => `  ${(i === 0 ? title : '').padEnd(12)} ${line}`),
    );
  const construction = wrapped(card.construction, WIDTH - 2).map((line) => `  ${line}`);
  return [`${card.name}: ${card.title}`, '', ...construction, '', ...lines, ''].join('\n');
};

const limitText = ({ place, most, source }: AlterationCard['limits'][number], show: LengthShown): string =>
  Number.isFinite(most) ? `${place}: ${shown(most, show)} (${source})` : `${place}: none`;

const optionText = (
  { means, values, default: usual }: AlterationCard['options'][number],
  show: LengthShown,
): string => {
  if (values === 'mm') return `${means}; a length, by default ${shown(Number(usual), show)}`;
  return `${means}; ${values === 'count' ? 'a number' : values.join(' or ')}, by default ${usual}`;
};
