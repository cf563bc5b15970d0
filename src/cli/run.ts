import { CommanderError } from 'commander';
import { faultText } from './fault.ts';
import type { Io } from './io.ts';
import { printable } from './printable.ts';
import { program } from './program.ts';

/**
 * Runs one command line.
 *
 * @param args what was typed after `retrue`
 * @returns exit code: 0 all done, 1 some refused or failed, 2 nothing could be done, 3 the program is at fault
 */
export const run = async (args: readonly string[], plain: Io): Promise<number> => {
  const io = onlyPrintable(plain);
  let exit = 0;
  try {
    await program(io, (code) => {
      exit = code;
    }).parseAsync(args, { from: 'user' });
    return exit;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    io.err(faultText(error, args));
    return 3;
  }
};

/** The same streams; whatever a command says, nothing that a terminal would obey gets to them. */
const onlyPrintable = (io: Io): Io => ({
  ...io,
  out: (text) => io.out(printable(text)),
  err: (text) => io.err(printable(text, io.colour)),
});
