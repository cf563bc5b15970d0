import { execFileSync } from 'node:child_process';
import { Command, Option } from 'commander';
import { describe, expect, it } from 'vitest';
import { commandWords } from '../../src/cli/command-words.ts';
import { bashCompletion } from '../../src/cli/completion/bash.ts';
import { fishCompletion } from '../../src/cli/completion/fish.ts';
import { zshCompletion } from '../../src/cli/completion/zsh.ts';
import { manPage } from '../../src/cli/man.ts';

/** A program with every kind of word there is: commands that hold others, values, arguments of all kinds. */
const sample = (): Command => {
  const root = new Command('retrue').description('Alters patterns.');
  root
    .command('alter')
    .description("alter a singer's pattern: all of it")
    .argument('<pattern>', 'pattern file')
    .option('--out <folder>', 'folder')
    .addOption(new Option('--show <unit>', 'unit').choices(['in', 'mm']));
  root.command('catalogue').argument('[alteration]').option('--plot [formats]', 'formats');
  const tables = root.command('fittings').description('tables of wearers');
  tables.command('new').argument('<pattern...>').option('--notes', 'print how to measure');
  root.helpCommand(false);
  root.command('help').argument('[command...]').helpOption(false);
  tables
    .command('check')
    .description('look through a table')
    .argument('<table>')
    .argument('[pattern...]')
    .option('--chart <file>', 'a chart');
  return root;
};

const completed = { ...commandWords(sample()), alterations: ['hip', "singer's stance", 'full abdomen'] };

const offered = (...words: string[]): string[] => {
  const script =
    'source /dev/stdin <<<"$1"; shift; COMP_WORDS=(retrue "$@"); COMP_CWORD=$#; _retrue; (IFS=$\'\\n\'; echo "$' +
    '{COMPREPLY[*]}")';
  const printed = execFileSync('bash', ['-c', script, 'bash', bashCompletion(completed), ...words], {
    encoding: 'utf8',
  });
  return printed.split('\n').filter((line) => line !== '');
};

describe('completion in bash, on a program with commands within commands', () => {
  it('offers commands, and behind one that holds others these', () => {
    expect(offered('')).toEqual(expect.arrayContaining(['alter', 'catalogue', 'fittings', 'help', '--help']));
    expect(offered('')).not.toContain('fittings new');
    expect(offered('fittings', '')).toEqual(['new', 'check']);
    expect(offered('fittings', 'new', '--no')).toEqual(['--notes']);
    expect(offered('fittings', 'check', '--')).toEqual(['--chart', '--help']);
    expect(offered('help', '')).toEqual(['alter', 'catalogue', 'fittings', 'help']);
    expect(offered('help', 'fittings', '')).toEqual(['new', 'check']);
  });

  it('offers values after their option, names of several words quoted, and folders where a folder is meant', () => {
    expect(offered('alter', 'x.svg', '--show', 'm')).toEqual(['mm']);
    expect(offered('catalogue', 'full')).toEqual(['full\\ abdomen']);
    expect(offered('catalogue', 'singer')).toEqual(["singer\\'s\\ stance"]);
    expect(offered('alter', '--out', 'te')).toEqual(['test']);
    expect(offered('fittings', 'check', 'package.j')).toEqual(['package.json']);
    expect(offered('alter', 'package.j')).toEqual([]);
  });

  it('offers for each argument what it takes, whatever options stand before it', () => {
    const skirt = 'fixtures/blocks/skirt-cubics.sv';
    expect(offered('fittings', 'check', '--chart', 'c.csv', 'package.j')).toEqual(['package.json']);
    expect(offered('fittings', 'check', '--chart', '=', 'c.csv', 'package.j')).toEqual(['package.json']);
    expect(offered('fittings', 'check', 't.csv', 'package.j')).toEqual([]);
    expect(offered('fittings', 'check', 't.csv', skirt)).toEqual([`${skirt}g`]);
    expect(offered('fittings', 'check', 't.csv', '--chart', 'c.csv', 'a.svg', skirt)).toEqual([`${skirt}g`]);
  });
});

it('names every command and option in the other shells and in the manual', () => {
  const texts = [zshCompletion(completed), fishCompletion(completed), manPage(sample()).replaceAll('\\-', '-')];
  for (const text of texts) {
    for (const word of ['alter', 'catalogue', 'fittings', 'check', 'show', 'notes', 'chart'])
      expect(text).toContain(word);
  }
  expect(texts[2]).toContain('.SS retrue fittings check <table> [pattern...]');
});
