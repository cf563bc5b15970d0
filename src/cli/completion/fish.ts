import type { CommandWords, OptionWords, Values } from '../command-words.ts';
import type { Completed } from './completed.ts';

/** A completion script for fish: a file `retrue.fish` in ~/.config/fish/completions, or sourced. */
export const fishCompletion = ({ root, commands, alterations }: Completed): string =>
  [
    '# Completion of retrue for fish:  retrue completion fish > ~/.config/fish/completions/retrue.fish',
    'complete -c retrue -f',
    ...root.options.map((o) => optionLine(o, '__fish_use_subcommand', alterations)),
    ...commands
      .filter((c) => !c.name.includes(' '))
      .map((c) => `complete -c retrue -n __fish_use_subcommand -a ${c.name} -d ${single(c.says)}`),
    ...commands.flatMap((c) => linesOf(c, alterations)),
    '',
  ].join('\n');

const linesOf = (command: CommandWords, alterations: readonly string[]): string[] => {
  const path = command.name.split(' ').map((word) => `__fish_seen_subcommand_from ${word}`);
  const beyond = command.parts.length > 0 ? [`not __fish_seen_subcommand_from ${command.parts.join(' ')}`] : [];
  // Behind help the name of a command asks for nothing that it takes itself.
  const alone = command.name.startsWith('help') ? [] : ['not __fish_seen_subcommand_from help'];
  const seen = single([...path, ...beyond, ...alone].join('; and '));
  // Which of several arguments is typed fish does not tell: what any of them may be is offered.
  const offers = new Set(command.arguments.map((a) => offer(a.values, alterations)));
  const takes = [...offers].map((offered) => `complete -c retrue -n ${seen} ${offered}`);
  return [...command.options.map((o) => optionLine(o, seen, alterations)), ...takes];
};

const optionLine = (option: OptionWords, when: string, alterations: readonly string[]): string => {
  const flags = option.flags.map((f) => (f.startsWith('--') ? `-l ${f.slice(2)}` : `-s ${f.slice(1)}`)).join(' ');
  const required = option.values && !option.value.startsWith('[') ? ' -r' : '';
  const values = option.values ? ` ${offer(option.values, alterations)}` : '';
  return `complete -c retrue -n ${when} ${flags}${required}${values} -d ${single(option.says)}`;
};

const offer = (values: Values, alterations: readonly string[]): string => {
  switch (values.kind) {
    case 'words':
      return `-f -a ${single(values.words.join(' '))}`;
    case 'files':
      return '-F';
    case 'patterns':
      return `-f -a ${single('(__fish_complete_suffix .dxf; __fish_complete_suffix .svg; __fish_complete_suffix .svgz)')}`;
    case 'folders':
      return `-f -a ${single('(__fish_complete_directories)')}`;
    case 'alterations':
      return `-f -a ${single(alterations.map((a) => `"${a}"`).join(' '))}`;
    case 'free':
      return '-f';
  }
};

/** A text as fish takes it literally. */
const single = (text: string): string => `'${text.replace(/[\\']/g, '\\$&')}'`;
