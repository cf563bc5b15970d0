import { Bug } from '../../../finding.ts';
import type { Point } from '../../../geometry/point.ts';
import { distance } from '../../../geometry/point.ts';
import { pointAt, type Segment } from '../../../geometry/segment.ts';
import { decimalsIn, formatNumber, notationOf } from '../numbers.ts';
import { draw, type Pen, RESTING } from './draw.ts';
import type { Subpath } from './subpaths.ts';
import type { Command, PathTokens } from './tokens.ts';
import { type Precision, type Wording, wordings } from './wordings.ts';

/**
 * What a subpath shall be. `targets[i]` stands for `subpath.segments[i]`: the very same object where nothing moved,
 * otherwise what it becomes, in the axes and units of the data.
 */
export interface SubpathTargets {
  readonly subpath: Subpath;
  readonly targets: readonly (readonly Segment[])[];
  /** For a subpath that draws nothing but a dot: where it shall be. */
  readonly at?: Point;
}

/**
 * Path data with the wanted segments in it. Each command keeps its text when, drawn from where the pen now is,
 * it still gives what is wanted; else it gets new numbers, in its own letter when that can say it, else another letter.
 * So a subpath of relative commands that moves as a whole changes its M only, and what follows a change is put right.
 *
 * `neededDecimals`: those that 0.001 mm needs in units of the data. `tolerance`: half of 0.001 mm, in the same units.
 */
export const splicePath = (
  data: string,
  tokens: PathTokens,
  subpaths: readonly SubpathTargets[],
  neededDecimals: number,
  tolerance: number,
): string => {
  const { commands } = tokens;
  const notation = notationOf(
    commands.flatMap((c) => c.args.filter((a) => !a.flag).map((a) => data.slice(a.start, a.end))),
  );
  const decimals = decimalsIn(notation, neededDecimals);
  const precision: Precision = {
    decimals,
    tolerance,
    text: (value, extra = 0) => formatNumber(value, decimals + extra, notation),
  };
  const writer = new PathWriter(data, commands, precision);
  for (const wanted of subpaths) writer.subpath(wanted);
  const tail = data.slice(commands.at(-1)?.end ?? 0);
  return writer.text() + tail;
};

/** Path data from nothing, absolute: lines, cubics and circular arcs, Z where closed. */
export const composePath = (
  segments: readonly Segment[],
  closed: boolean,
  decimals: number,
  tolerance: number,
): string => {
  const notation = { decimals: 0, leadingZero: true, fixed: false };
  const text = (value: number, extra = 0): string => formatNumber(value, decimals + extra, notation);
  const writer = new PathWriter('', [], { decimals, tolerance, text });
  writer.whole(segments, closed);
  return writer.text();
};

/** Writes commands one after the other and knows where the pen is in what it wrote. */
class PathWriter {
  private readonly out: string[] = [];
  private pen: Pen = RESTING;
  /** The letter that a command without one would have now. */
  private implied = '';
  /** Text of the number just written, when nothing separates it from the next. */
  private openNumber = '';
  private readonly commas: boolean;
  private readonly spaced: boolean;
  private readonly data: string;
  private readonly commands: readonly Command[];
  private readonly places: ReadonlyMap<Command, number>;
  private readonly precision: Precision;

  constructor(data: string, commands: readonly Command[], precision: Precision) {
    this.data = data;
    this.commands = commands;
    this.places = new Map(commands.map((command, i) => [command, i]));
    this.precision = precision;
    this.commas = data === '' || data.includes(',');
    this.spaced = /[a-z]\s/i.test(data);
  }

  text(): string {
    return this.out.join('');
  }

  whole(segments: readonly Segment[], closed: boolean): void {
    const [first] = segments;
    if (first === undefined) return;
    this.fresh('M', [this.precision.text(first.from.x), this.precision.text(first.from.y)], '');
    const last = segments.at(-1);
    const drawn = closed && segments.length > 1 && last?.kind === 'line' ? segments.slice(0, -1) : segments;
    for (const segment of drawn) this.anew(segment, false, ' ');
    if (closed) this.push(' Z', '');
  }

  subpath({ subpath, targets, at }: SubpathTargets): void {
    const wanted = targets.flat();
    if (wanted.length === 0 && subpath.segments.length > 0) return;
    const begin = wanted[0]?.from ?? at;
    const opener = this.commands[subpath.first];
    if (opener === undefined) throw new Bug('a subpath without commands');
    let index = subpath.first;
    if (/m/i.test(opener.letter)) {
      this.move(opener, begin);
      index += 1;
    } else if (begin !== undefined && distance(begin, this.pen.at) > this.precision.tolerance) {
      this.fresh('M', [this.precision.text(begin.x), this.precision.text(begin.y)], '');
    }
    let next = 0;
    for (; index < subpath.past; index++) {
      const command = this.commands[index];
      if (command === undefined) throw new Bug('a subpath beyond its commands');
      const before: Segment[] = [];
      const after: Segment[] = [];
      for (; subpath.owners[next] === index; next++) {
        before.push(subpath.segments[next] as Segment);
        after.push(...(targets[next] ?? []));
      }
      this.command(command, before, after);
    }
  }

  /** A move: to the start of what follows, or (drawing nothing) where it was. */
  private move(command: Command, begin: Point | undefined): void {
    const to = begin ?? this.originalEnd(command);
    const kept = draw(command.letter, values(command), this.pen);
    const base = command.letter === 'm' ? this.pen.at : { x: 0, y: 0 };
    if (distance(kept.pen.at, to) <= this.precision.tolerance / 1000) this.verbatim(command, kept.pen);
    else this.sameLetter(command, [to.x - base.x, to.y - base.y]);
  }

  private originalEnd(command: Command): Point {
    let pen = RESTING;
    for (const c of this.commands) {
      pen = draw(c.letter, values(c), pen).pen;
      if (c === command) break;
    }
    return pen.at;
  }

  private command(command: Command, before: readonly Segment[], after: readonly Segment[]): void {
    const closes = /z/i.test(command.letter);
    if (!closes && after.length === 0) {
      if (before.length === 0) this.standingStill(command);
      return;
    }
    const kept = draw(command.letter, values(command), this.pen);
    const done = after.length === 0 || alike(kept.segments, after, this.precision.tolerance);
    if (done) this.verbatim(command, kept.pen);
    else if (closes || !this.reworded(command, before, after)) this.respelt(command, after, closes);
  }

  /** In one command, of its own letter where that can be; false when no single command says it. */
  private reworded(command: Command, before: readonly Segment[], after: readonly Segment[]): boolean {
    for (const wording of wordings(command, before, after, this.pen, this.precision)) {
      if (!this.says(wording, after)) continue;
      if (wording.letter === command.letter) this.sameLetter(command, wording.texts.map(Number), wording.texts);
      else this.fresh(wording.letter, wording.texts, this.gapBefore(command));
      return true;
    }
    return false;
  }

  private says({ letter, texts }: Wording, wanted: readonly Segment[]): boolean {
    return alike(draw(letter, texts.map(Number), this.pen).segments, wanted, this.precision.tolerance);
  }

  /** Each segment in a command of its own, and the Z behind them where there was one. */
  private respelt(command: Command, after: readonly Segment[], closes: boolean): void {
    let gap = this.gapBefore(command);
    for (const segment of after) {
      this.anew(segment, command.letter !== command.letter.toUpperCase() && !closes, gap);
      gap = '';
    }
    if (closes) this.verbatim(command, draw(command.letter, [], this.pen).pen);
  }

  /** A segment in the letter of its kind; an arc that no single command can say within tolerance, in two. */
  private anew(segment: Segment, relative: boolean, gap: string): void {
    const letters: Record<Segment['kind'], string> = { line: 'L', cubic: 'C', arc: 'A' };
    const letter = relative ? letters[segment.kind].toLowerCase() : letters[segment.kind];
    const blank: Command = { letter, explicit: true, start: 0, end: 0, args: [] };
    const tries = [...wordings(blank, [], [segment], this.pen, this.precision)];
    const whole = segment.kind !== 'arc' || Math.abs(segment.sweep) < SHORT_ARC;
    const best = tries.find((w) => this.says(w, [segment])) ?? (whole ? tries.at(-1) : undefined);
    if (best !== undefined) {
      this.fresh(best.letter, best.texts, gap);
      return;
    }
    if (whole) throw new Bug(`no way to write a ${segment.kind} as path data`);
    const middle = pointAt(segment, 0.5);
    this.anew({ ...segment, to: middle, sweep: segment.sweep / 2 }, relative, gap);
    this.anew({ ...segment, from: middle, sweep: segment.sweep / 2 }, relative, gap);
  }

  /** A command that drew nothing goes on drawing nothing, from wherever the pen is now. */
  private standingStill(command: Command): void {
    const kept = draw(command.letter, values(command), this.pen);
    const relative = command.letter === command.letter.toLowerCase();
    const { x, y } = relative ? { x: 0, y: 0 } : this.pen.at;
    if (kept.segments.length === 0) this.verbatim(command, kept.pen);
    else if (/[lt]/i.test(command.letter)) this.sameLetter(command, [x, y]);
    else if (/h/i.test(command.letter)) this.sameLetter(command, [x]);
    else if (/v/i.test(command.letter)) this.sameLetter(command, [y]);
  }

  private gapBefore(command: Command): string {
    const previous = this.commands[(this.places.get(command) ?? 0) - 1];
    return this.data.slice(previous?.end ?? 0, command.start);
  }

  private verbatim(command: Command, pen: Pen): void {
    this.opening(command);
    const body = this.data.slice(command.explicit ? command.start + 1 : command.start, command.end);
    const last = command.args.at(-1);
    this.push(body, last === undefined || last.flag ? '' : this.data.slice(last.start, last.end));
    this.pen = pen;
  }

  /** The command's own text with new numbers where they differ. */
  private sameLetter(command: Command, wanted: readonly number[], texts?: readonly string[]): void {
    this.opening(command);
    let at = command.explicit ? command.start + 1 : command.start;
    const written: number[] = [];
    for (const [i, arg] of command.args.entries()) {
      const value = wanted[i] ?? 0;
      const same = Math.abs(value - arg.value) <= 1e-9 * Math.max(1, Math.abs(value));
      const old = this.data.slice(arg.start, arg.end);
      const text = same ? old : arg.flag ? String(value) : (texts?.[i] ?? this.precision.text(value));
      this.push(this.data.slice(at, arg.start), '');
      this.push(text, arg.flag ? '' : text);
      written.push(Number(text));
      at = arg.end;
    }
    this.pen = draw(command.letter, written, this.pen).pen;
  }

  private opening(command: Command): void {
    const gap = this.gapBefore(command);
    if (command.explicit) {
      this.push(gap + command.letter, '');
    } else {
      this.push(gap, '');
      if (this.implied !== command.letter) this.push(command.letter, '');
    }
    this.implied = IMPLIED[command.letter] ?? command.letter;
  }

  private fresh(letter: string, texts: readonly string[], gap: string): void {
    const pairs: string[] = [];
    const arc = /a/i.test(letter);
    const groups = arc
      ? [2, 1, 2, 2]
      : texts.length === 1
        ? [1]
        : texts
            .map((_, i) => i)
            .filter((i) => i % 2 === 0)
            .map(() => 2);
    let at = 0;
    for (const n of groups) {
      pairs.push(texts.slice(at, at + n).join(this.commas ? ',' : ' '));
      at += n;
    }
    this.push(`${gap.replace(',', ' ')}${letter}${this.spaced ? ' ' : ''}${pairs.join(' ')}`, texts.at(-1) ?? '');
    this.pen = draw(letter, texts.map(Number), this.pen).pen;
    this.implied = IMPLIED[letter] ?? letter;
  }

  /** Appends, with a space where two numbers would otherwise run together. */
  private push(text: string, lastNumber: string): void {
    if (text === '') return;
    const first = text[0] ?? '';
    const runs = /\d/.test(first) || (first === '.' && !/[.e]/i.test(this.openNumber));
    if (this.openNumber !== '' && runs) this.out.push(' ');
    this.out.push(text);
    this.openNumber = lastNumber;
  }
}

/** Radians; an arc as flat as this is never cut in two to be written. */
const SHORT_ARC = 0.1;

const IMPLIED: Readonly<Record<string, string>> = { M: 'L', m: 'l', z: '', Z: '' };

const values = (command: Command): number[] => command.args.map((a) => a.value);

/** Whether two runs of segments are the same line to within a tolerance. */
export const alike = (a: readonly Segment[], b: readonly Segment[], tolerance: number): boolean =>
  a.length === b.length && a.every((s, i) => alikeOne(s, b[i] as Segment, tolerance));

const alikeOne = (a: Segment, b: Segment, tolerance: number): boolean => {
  if (a === b) return true;
  if (a.kind !== b.kind || distance(a.from, b.from) > tolerance || distance(a.to, b.to) > tolerance) return false;
  if (a.kind === 'cubic' && b.kind === 'cubic') {
    return distance(a.control1, b.control1) <= tolerance && distance(a.control2, b.control2) <= tolerance;
  }
  if (a.kind !== 'arc' || b.kind !== 'arc') return true;
  return [0.25, 0.5, 0.75].every((t) => distance(pointAt(a, t), pointAt(b, t)) <= 2 * tolerance);
};
