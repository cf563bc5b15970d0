import type { CommandWords, OptionWords, Values } from '../command-words.ts';
import { type Completed, quoted } from './completed.ts';

/** What stands before the words of the program. */
const HEAD = `# Completion of retrue for bash. Put into your ~/.bashrc:  source <(retrue completion bash)
# Offers the words that begin as what is typed does; words of several parts are quoted.
_retrue_words() {
  local word
  for word in "$@"; do
    [[ $word == "$current"* || $(printf %q "$word") == "$current"* ]] && COMPREPLY+=("$(printf %q "$word")")
  done
}
# Offers folders, and the files whose names match $1.
_retrue_files() {
  local path
  compopt -o filenames 2>/dev/null
  while IFS= read -r path; do
    [[ -d $path || $path =~ $1 ]] && COMPREPLY+=("$path")
  done < <(compgen -f -- "$current")
}
_retrue() {
  local current=\${COMP_WORDS[COMP_CWORD]} previous=\${COMP_WORDS[COMP_CWORD-1]} command= word before= place=0`;

/** A completion script for bash, to be sourced. */
export const bashCompletion = ({ root, commands, alterations }: Completed): string =>
  [
    HEAD,
    `  for word in "\${COMP_WORDS[@]:1:COMP_CWORD-1}"; do`,
    `    case "\${command:+$command }$word" in`,
    `      ${commands.map((c) => quoted(c.name)).join('|')}) command="\${command:+$command }$word"; place=0;;`,
    '      *=) continue;;',
    `      *) case "$command $before" in`,
    `        ${takingValues(root, commands)}) ;;`,
    '        *) [[ $word == -* ]] || ((place += 1));;',
    '      esac;;',
    '    esac',
    '    before=$word',
    '  done',
    '  COMPREPLY=()',
    '  case "$command $previous" in',
    ...[root, ...commands].flatMap((c) => c.options.flatMap((o) => afterOption(c === root ? '' : c.name, o))),
    '  esac',
    '  case "$command" in',
    ...commands.map((c) => commandWords(c)),
    `    *) _retrue_words ${words([...commands.map((c) => c.name).filter(isFirst), ...flagsOf(root)])};;`,
    '  esac',
    '}',
    `_retrue_alterations() { _retrue_words ${words(alterations)}; }`,
    'complete -F _retrue retrue',
    '',
  ].join('\n');

/** Behind these stands a value, which is no argument of the command. */
const takingValues = (root: CommandWords, commands: readonly CommandWords[]): string =>
  [root, ...commands]
    .flatMap((c) => c.options.filter(takesValue).flatMap((o) => o.flags.map((f) => `${c === root ? '' : c.name} ${f}`)))
    .map(quoted)
    .join('|') || "''";

const takesValue = (option: OptionWords): boolean => option.values !== undefined && !option.value.startsWith('[');

const afterOption = (command: string, option: OptionWords): string[] =>
  option.values === undefined || !takesValue(option)
    ? []
    : [`    ${option.flags.map((f) => quoted(`${command} ${f}`)).join('|')}) ${offer(option.values)}; return;;`];

const commandWords = (command: CommandWords): string => {
  const other = argumentWords(command.arguments.map((a) => offer(a.values)));
  return `    ${quoted(command.name)}) if [[ $current == -* ]]; then _retrue_words ${words(flagsOf(command))}; else ${other}; fi;;`;
};

/** What is offered at each place; the last of them from there on. */
const argumentWords = (offers: readonly string[]): string => {
  const last = offers.at(-1) ?? ':';
  const before = offers.slice(0, -1);
  if (before.every((o) => o === last)) return last;
  return `case $place in ${before.map((o, i) => `${i}) ${o};;`).join(' ')} *) ${last};; esac`;
};

const offer = (values: Values): string => {
  switch (values.kind) {
    case 'words':
      return `_retrue_words ${words(values.words)}`;
    case 'files':
      return '_retrue_files .';
    case 'patterns':
      return "_retrue_files '\\.([dD][xX][fF]|[sS][vV][gG][zZ]?)$'";
    case 'folders':
      return "_retrue_files '^$'";
    case 'alterations':
      return '_retrue_alterations';
    case 'free':
      return ':';
  }
};

/** Commands that belong to another are offered behind it. */
const isFirst = (name: string): boolean => !name.includes(' ');
const flagsOf = (command: CommandWords): string[] => command.options.flatMap((o) => o.flags);
const words = (all: readonly string[]): string => all.map(quoted).join(' ');
