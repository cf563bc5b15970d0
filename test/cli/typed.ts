import { run } from '../../src/cli/run.ts';

/** What a command line prints and exits with, run in this process. */
export const type = async (...args: string[]) => {
  const out: string[] = [];
  const err: string[] = [];
  const io = { out: (text: string) => void out.push(text), err: (text: string) => void err.push(text), colour: false };
  const exit = await run(args, io);
  return { exit, out: out.join(''), err: err.join('') };
};
