import type { Argument, Command, Option } from 'commander';

/* The command line as words: what completion offers and the manual page tells, read from the program's own tree. */

/** What may stand for a value. */
export type Values =
  | { readonly kind: 'words'; readonly words: readonly string[] }
  | { readonly kind: 'files' }
  | { readonly kind: 'patterns' }
  | { readonly kind: 'folders' }
  | { readonly kind: 'alterations' }
  | { readonly kind: 'free' };

export interface OptionWords {
  /** `-V`, `--version`. */
  readonly flags: readonly string[];
  /** As help shows it: `<file>`, `[formats]`; empty for a switch. */
  readonly value: string;
  readonly says: string;
  /** Heading under which help lists it. */
  readonly group: string;
  /** Absent for a switch. */
  readonly values?: Values;
}

export interface CommandWords {
  /** With the commands it belongs to: `survey`, `fittings check`. */
  readonly name: string;
  /** Commands that belong to it; it does nothing by itself then. */
  readonly parts: readonly string[];
  readonly says: string;
  /** As help shows them: `<pattern...>`, `[name]`. */
  readonly arguments: readonly { readonly shown: string; readonly says: string; readonly values: Values }[];
  readonly options: readonly OptionWords[];
}

/** The program by itself, and its commands in the order of help, each followed by those that belong to it. */
export const commandWords = (root: Command): { readonly root: CommandWords; readonly commands: CommandWords[] } => {
  const words = commandsOf(root).flatMap((c) => withParts(c, ''));
  return {
    root: wordsOf(root, root.name()),
    commands: words.flatMap((w) => (w.name === 'help' ? onAll(w, words) : w)),
  };
};

/** Help is given on every command, on those that belong to another behind that one. */
const onAll = (help: CommandWords, words: readonly CommandWords[]): CommandWords[] => {
  const behind = ({ parts }: Pick<CommandWords, 'parts'>) => ({
    parts,
    arguments: help.arguments.map((a) => ({ ...a, values: ofWords(parts) })),
  });
  const first = words.map((w) => w.name).filter((name) => !name.includes(' '));
  const inner = words.filter((w) => w.parts.length > 0);
  return [
    { ...help, ...behind({ parts: first }) },
    ...inner.map((w) => ({ ...help, ...behind(w), name: `${help.name} ${w.name}` })),
  ];
};

const commandsOf = (command: Command): Command[] => [...command.createHelp().visibleCommands(command)];

const withParts = (command: Command, before: string): CommandWords[] => {
  const name = `${before}${command.name()}`;
  const parts = commandsOf(command).filter((c) => c.name() !== 'help');
  const own = { ...wordsOf(command, name), parts: parts.map((c) => c.name()) };
  if (parts.length === 0) return [own];
  const chosen = { shown: '<command>', says: '', values: ofWords(own.parts) };
  return [{ ...own, arguments: [chosen] }, ...parts.flatMap((c) => withParts(c, `${name} `))];
};

const ofWords = (words: readonly string[]): Values => ({ kind: 'words', words });

const wordsOf = (command: Command, name: string): CommandWords => ({
  name,
  parts: [],
  says: command.description(),
  arguments: command.registeredArguments.map((a) => ({
    shown: shownArgument(a),
    says: a.description,
    values: valuesOf(a.name(), a.argChoices),
  })),
  options: command.createHelp().visibleOptions(command).map(optionWords),
});

const shownArgument = (argument: Argument): string => {
  const name = `${argument.name()}${argument.variadic ? '...' : ''}`;
  return argument.required ? `<${name}>` : `[${name}]`;
};

const optionWords = (option: Option): OptionWords => {
  const value = /[<[].*$/.exec(option.flags)?.[0] ?? '';
  return {
    flags: [option.short, option.long].filter((flag): flag is string => flag !== undefined),
    value,
    says: `${option.description}${defaultOf(option)}`,
    group: option.helpGroupHeading ?? '',
    ...(value === '' ? {} : { values: valuesOf(value.replace(/[<>[\].]/g, ''), option.argChoices) }),
  };
};

const defaultOf = ({ defaultValue }: Option): string =>
  typeof defaultValue === 'string' ? ` (default: ${defaultValue})` : '';

/** What a placeholder asks for. */
const valuesOf = (placeholder: string, choices: readonly string[] | undefined): Values => {
  if (choices) return ofWords(choices);
  switch (placeholder) {
    case 'file':
    case 'table':
      return { kind: 'files' };
    case 'folder':
      return { kind: 'folders' };
    case 'pattern':
      return { kind: 'patterns' };
    case 'alteration':
      return { kind: 'alterations' };
    default:
      return { kind: 'free' };
  }
};
