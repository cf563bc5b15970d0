import type { Command } from 'commander';
import { catalogue } from '../../job/catalogue.ts';
import { commandWords } from '../command-words.ts';
import { bashCompletion } from '../completion/bash.ts';
import type { Completed } from '../completion/completed.ts';
import { fishCompletion } from '../completion/fish.ts';
import { zshCompletion } from '../completion/zsh.ts';
import type { Io } from '../io.ts';

const SHELLS: Readonly<Record<string, (completed: Completed) => string>> = {
  bash: bashCompletion,
  zsh: zshCompletion,
  fish: fishCompletion,
};

/** Prints a script that makes a shell complete this program's words. */
export const completion = (shell: string, root: Command, io: Io): number => {
  const script = SHELLS[shell];
  if (!script) return 2;
  io.out(script({ ...commandWords(root), alterations: catalogue.map((card) => card.name) }));
  return 0;
};
