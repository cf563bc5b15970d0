import type { MultiBar } from 'cli-progress';
import type { Io } from './io.ts';

/** How far a run is, in one line at the foot of a terminal. Without a terminal nothing is shown, and nothing changes. */
export interface Progress {
  /** The same streams; what is written stands above the line. */
  readonly io: Io;
  /** `kept`: how many of those that have ended cost no time. */
  readonly show: (ended: number, of: number, kept: number) => void;
  readonly stop: () => void;
}

const FORMAT = '{value} of {total} fittings  {bar}  {pace}';
const CLEAR_LINE = '\r\u001b[K';

export const progressOn = async (io: Io): Promise<Progress> => {
  const { terminal } = io;
  if (!terminal) return { io, show: () => undefined, stop: () => undefined };
  const { MultiBar } = (await import('cli-progress')).default;
  const line = new MultiBar({
    stream: terminal,
    format: FORMAT,
    barsize: 24,
    barCompleteChar: '#',
    barIncompleteChar: '.',
    clearOnComplete: true,
    forceRedraw: true,
    linewrap: true,
  });
  return onTerminal(io, terminal, line);
};

const onTerminal = (io: Io, terminal: NonNullable<Io['terminal']>, line: MultiBar): Progress => {
  /** When the first was told, and how many had been worked on by then. */
  let first: { readonly at: number; readonly worked: number } | undefined;
  let bar: ReturnType<MultiBar['create']> | undefined;
  const above = (write: (text: string) => void) => (text: string) => {
    if (bar) terminal.write(CLEAR_LINE);
    write(text);
    if (bar) line.update();
  };
  return {
    io: { ...io, out: above(io.out), err: above(io.err) },
    show: (ended, of, kept) => {
      if (of < 2) return;
      const worked = ended - kept;
      first ??= { at: Date.now(), worked };
      const told = { pace: pace(worked - first.worked, of - ended, Date.now() - first.at) };
      if (bar) bar.update(ended, told);
      else bar = line.create(of, ended, told);
      line.update();
    },
    stop: () => {
      if (bar) line.stop();
      // What is written from now on must not draw the line, nor start its timer, again.
      bar = undefined;
    },
  };
};

/** `3.2 a second, 40 s left`; nothing before there is something to reckon from. */
export const pace = (done: number, left: number, ms: number): string => {
  if (done < 1 || ms < 1) return '';
  const each = ms / done;
  const rate = each <= 1000 ? `${(1000 / each).toFixed(1)} a second` : `${(each / 1000).toFixed(1)} s each`;
  return `${rate}, ${timeText((left * each) / 1000)} left`;
};

/** `40 s`, `3 min 20 s`, `2 h 5 min`. */
const timeText = (seconds: number): string => {
  const whole = Math.ceil(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min`;
};
