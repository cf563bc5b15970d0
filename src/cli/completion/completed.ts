import type { CommandWords } from '../command-words.ts';

/** All that can be completed. */
export interface Completed {
  readonly root: CommandWords;
  readonly commands: readonly CommandWords[];
  /** Names of the alterations. */
  readonly alterations: readonly string[];
}

/** A word as a shell takes it literally; plain words as they are. */
export const quoted = (word: string): string =>
  /^[\w@%+=:,./-]+$/.test(word) ? word : `'${word.replaceAll("'", `'\\''`)}'`;
