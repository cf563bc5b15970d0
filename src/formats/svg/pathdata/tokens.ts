/** One number of a command, with its span in the data. */
export interface Argument {
  readonly value: number;
  readonly start: number;
  readonly end: number;
  /** One of an arc's two flags: a single digit that needs no separator. */
  readonly flag: boolean;
}

/** One command; each repetition without its letter is a command of its own. */
export interface Command {
  readonly letter: string;
  /** Whether the letter is written. */
  readonly explicit: boolean;
  /** Where the command begins, after any separators: its letter, or its first number. */
  readonly start: number;
  readonly end: number;
  readonly args: readonly Argument[];
}

export interface PathTokens {
  readonly commands: readonly Command[];
  /** Where the data stops making sense, and why. What comes before stands (SVG 2, section 9.5.4). */
  readonly error?: { readonly at: number; readonly what: string };
}

export const ARGUMENTS: Readonly<Record<string, number>> = {
  m: 2,
  l: 2,
  h: 1,
  v: 1,
  c: 6,
  s: 4,
  q: 4,
  t: 2,
  a: 7,
  z: 0,
};

const NUMBER = /[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/y;
const SEPARATORS = /[\s]*,?[\s]*/y;
const SPACE = /\s*/y;

const skip = (pattern: RegExp, data: string, at: number): number => {
  pattern.lastIndex = at;
  pattern.exec(data);
  return pattern.lastIndex;
};

/** The number that stands at an offset, as it is written; undefined when none does. */
export const numberAt = (data: string, at: number): string | undefined => {
  NUMBER.lastIndex = at;
  return NUMBER.exec(data)?.[0];
};

/** The offset after white space with at most one comma. */
export const pastSeparators = (data: string, at: number): number => skip(SEPARATORS, data, at);

/** Path data by the grammar of SVG 2, section 9.3.9; positions are offsets in `data`. */
export const tokenise = (data: string): PathTokens => {
  const commands: Command[] = [];
  let at = skip(SPACE, data, 0);
  let letter = '';
  while (at < data.length) {
    const start = at;
    const written = data[at] ?? '';
    const explicit = ARGUMENTS[written.toLowerCase()] !== undefined;
    if (explicit) {
      letter = written;
      at = skip(SPACE, data, at + 1);
    } else if (letter === '' || letter === 'z' || letter === 'Z' || !/[-+.\d]/.test(written)) {
      return { commands, error: { at, what: `"${written}" is no path command` } };
    }
    if (commands.length === 0 && letter !== 'm' && letter !== 'M') {
      return { commands, error: { at: start, what: 'a path must begin with M' } };
    }
    const { args, end, error } = argumentsAt(data, at, letter);
    if (error !== undefined) return { commands, error };
    commands.push({ letter, explicit, start, end: args.length === 0 ? start + 1 : end, args });
    if (letter === 'm') letter = 'l';
    if (letter === 'M') letter = 'L';
    at = skip(letter === 'z' || letter === 'Z' ? SPACE : SEPARATORS, data, args.length === 0 ? start + 1 : end);
  }
  return { commands };
};

const argumentsAt = (
  data: string,
  from: number,
  letter: string,
): { args: Argument[]; end: number; error?: PathTokens['error'] } => {
  const args: Argument[] = [];
  const count = ARGUMENTS[letter.toLowerCase()] ?? 0;
  let at = from;
  let end = from;
  for (let i = 0; i < count; i++) {
    if (i > 0) at = skip(SEPARATORS, data, at);
    const flag = count === 7 && (i === 3 || i === 4);
    let text: string | undefined;
    if (flag) text = /[01]/.test(data[at] ?? '') ? data[at] : undefined;
    else text = numberAt(data, at);
    const value = Number(text);
    if (text === undefined)
      return {
        args,
        end,
        error: { at, what: at >= data.length ? 'the data stops early' : 'a number is missing here' },
      };
    if (!Number.isFinite(value)) return { args, end, error: { at, what: 'the number is too large' } };
    end = at + text.length;
    args.push({ value, start: at, end, flag });
    at = end;
  }
  return { args, end };
};
