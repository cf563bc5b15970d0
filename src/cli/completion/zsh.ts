import type { CommandWords, OptionWords, Values } from '../command-words.ts';
import { type Completed, quoted } from './completed.ts';

/** A completion script for zsh: a file `_retrue` on the fpath, or sourced. */
export const zshCompletion = ({ root, commands, alterations }: Completed): string =>
  [
    '#compdef retrue',
    '# Completion of retrue for zsh. Put into your ~/.zshrc, after compinit:  source <(retrue completion zsh)',
    '_retrue() {',
    '  local context state state_descr line',
    '  typeset -A opt_args',
    `  _arguments -C ${specs(root)} '1:command:->command' '*::argument:->argument'`,
    '  case $state in',
    '    command)',
    '      local -a commands',
    `      commands=(${commands
      .filter((c) => !c.name.includes(' '))
      .map((c) => quoted(`${c.name}:${c.says}`))
      .join(' ')})`,
    "      _describe 'command' commands;;",
    '    argument)',
    '      case $words[1] in',
    ...commands.filter((c) => !c.name.includes(' ')).map((c) => `        ${c.name}) ${argumentsOf(c, commands)};;`),
    '      esac;;',
    '  esac',
    '}',
    '_retrue_alterations() {',
    '  local -a alterations',
    `  alterations=(${alterations.map(quoted).join(' ')})`,
    '  compadd -a alterations',
    '}',
    'if [[ $funcstack[1] == _retrue ]]; then _retrue "$@"; else compdef _retrue retrue; fi',
    '',
  ].join('\n');

const argumentsOf = (command: CommandWords, all: readonly CommandWords[]): string => {
  if (command.parts.length === 0)
    return `_arguments ${[specs(command), argumentSpecs(command)].filter(Boolean).join(' ')}`;
  const inner = all.filter((c) => command.parts.some((part) => c.name === `${command.name} ${part}`));
  return [
    `_arguments -C ${specs(command)} '1:command:(${command.parts.join(' ')})' '*::argument:->part'`,
    `if [[ $state == part ]]; then case $words[1] in`,
    ...inner.map((c) => `${c.name.split(' ').at(-1)}) ${argumentsOf(c, all)};;`),
    'esac; fi',
  ].join('\n          ');
};

const specs = (command: CommandWords): string => command.options.map((o) => optionSpec(o)).join(' ');

const optionSpec = (option: OptionWords): string => {
  const told = `[${escaped(option.says).replace(/[[\]]/g, '\\$&')}]`;
  const optional = option.value.startsWith('[') ? '::' : ':';
  const value = option.values ? `${optional}${escaped(placeholder(option.value))}:${action(option.values)}` : '';
  return option.flags.map((flag) => quoted(`${flag}${told}${value}`)).join(' ');
};

const argumentSpecs = (command: CommandWords): string =>
  command.arguments
    .map((a, i) => {
      const place = a.shown.includes('...') ? '*' : String(i + 1);
      const optional = a.shown.startsWith('[') && place !== '*' ? '::' : ':';
      return quoted(`${place}${optional}${placeholder(a.shown)}:${action(a.values)}`);
    })
    .join(' ');

const action = (values: Values): string => {
  switch (values.kind) {
    case 'words':
      return `(${values.words.join(' ')})`;
    case 'files':
      return '_files';
    case 'patterns':
      return '_files -g "(#i)*.(dxf|svg|svgz)"';
    case 'folders':
      return '_files -/';
    case 'alterations':
      return '_retrue_alterations';
    case 'free':
      return '';
  }
};

const placeholder = (shown: string): string => shown.replace(/[<>[\].]/g, '');
/** A colon parts the fields of a spec. */
const escaped = (text: string): string => text.replaceAll(':', '\\:');
