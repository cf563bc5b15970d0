/** Where a command reads its surroundings from and writes to; tests put their own in. */
export interface Io {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Whether findings may be coloured: only for a terminal, and never under NO_COLOR (no-color.org). */
  readonly colour: boolean;
  /** Where progress can be shown: the standard error, when it is a terminal. */
  readonly terminal?: NodeJS.WriteStream | undefined;
}

export const processIo = (): Io => ({
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  colour: process.stderr.isTTY === true && !process.env.NO_COLOR,
  terminal: process.stderr.isTTY === true && process.env.TERM !== 'dumb' ? process.stderr : undefined,
});
