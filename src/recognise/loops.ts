import type { Finding } from '../finding.ts';
import type { PathDrawable } from '../formats/drawing.ts';
import type { Chain } from '../geometry/chain.ts';
import { chain } from '../geometry/chain.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { line, pointAt } from '../geometry/segment.ts';
import type { Span } from '../pattern/piece.ts';
import type { Trace } from './trace.ts';
import { reversedSpans, trace } from './trace.ts';

/** A closed line: one drawable, or several end to end. */
export interface Loop {
  readonly trace: Trace;
  /** The drawables that draw it, in its order. */
  readonly drawables: readonly PathDrawable[];
  readonly gaps: readonly Gap[];
}

/** Open lines end to end. */
export interface OpenChain {
  readonly spans: readonly Span[];
  readonly drawables: readonly PathDrawable[];
  readonly from: Point;
  readonly to: Point;
}

export interface Gap {
  readonly at: Point;
  /** mm */
  readonly width: number;
  /** Line in the source file. */
  readonly line: number;
}

/** Ends this near are taken to meet; what is nearer than `NOISE` is only the file's rounding. mm */
const MEET = 0.1;
const NOISE = 0.01;
/** Ends this near are taken to meet when a whole outline closes by it. mm */
const HAIR = 1;
/** What encloses less than this is a mark (arrow head, drill circle), not an outline or a pocket. mm² */
const LEAST_LOOP = 300;

/** Spans of a path drawable in its own direction. */
export const spansOf = (drawable: PathDrawable): Span[] =>
  drawable.path.segments.map((segment, index) => ({
    source: { drawable: drawable.id, index, reversed: false },
    segments: [segment],
  }));

const firstPoint = (spans: readonly Span[]): Point => ((spans[0] as Span).segments[0] as Segment).from;
const lastPoint = (spans: readonly Span[]): Point => ((spans[spans.length - 1] as Span).segments[0] as Segment).to;

/** Spans of a chain end to end; a gap wider than rounding gets a span of its own, that no drawable draws. */
const joinChain = (
  links: readonly { readonly drawable: PathDrawable; readonly reversed: boolean }[],
  closed: boolean,
): { spans: Span[]; gaps: Gap[] } => {
  const spans: Span[] = [];
  const gaps: Gap[] = [];
  const bridge = (from: Point, to: Point, at: number): void => {
    const width = distance(from, to);
    if (width <= NOISE) return;
    gaps.push({ at: from, width, line: at });
    spans.push({ segments: [line(from, to)] });
  };
  for (const link of links) {
    const own = link.reversed ? reversedSpans(spansOf(link.drawable)) : spansOf(link.drawable);
    if (spans.length > 0) bridge(lastPoint(spans), firstPoint(own), link.drawable.line);
    spans.push(...own);
  }
  if (closed) bridge(lastPoint(spans), firstPoint(spans), links[0]?.drawable.line ?? 0);
  return { spans, gaps };
};

const chainsAmong = (
  paths: readonly PathDrawable[],
  tolerance: number,
): { chain: Chain<PathDrawable>; links: Link[] }[] =>
  chain(
    paths.map((d) => ({ key: d, segments: d.path.segments })),
    tolerance,
  ).map((c) => ({ chain: c, links: c.links.map((l) => ({ drawable: l.key, reversed: l.reversed })) }));

/** The first of lines drawn one on the other, layer by layer: two of them make no outline, and thousands would take long to follow. */
export const withoutDoubles = (paths: readonly PathDrawable[]): PathDrawable[] => {
  const seen = new Set<string>();
  return paths.filter((d) => {
    const key = `${d.layer} ${wayOf(d)}`;
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew;
  });
};

/** Ends and middles of a path's segments to a thousandth of a millimetre, the same whichever way it runs. */
const wayOf = (d: PathDrawable): string => {
  const shown = (p: Point): string => `${Math.round(p.x * 1000)} ${Math.round(p.y * 1000)}`;
  const { segments } = d.path;
  const way = [
    ...segments.flatMap((s) => [shown(s.from), shown(pointAt(s, 0.5))]),
    shown((segments[segments.length - 1] as Segment).to),
  ];
  const ways = [way.join(), [...way].reverse().join()].sort();
  return ways[0] as string;
};

interface Link {
  readonly drawable: PathDrawable;
  readonly reversed: boolean;
}

const loopOf = (links: readonly Link[]): Loop => {
  const { spans, gaps } = joinChain(links, true);
  return { trace: trace(spans), drawables: links.map((l) => l.drawable), gaps };
};

const loopsAmong = (paths: readonly PathDrawable[], tolerance: number): Loop[] =>
  chainsAmong(paths, tolerance)
    .filter((c) => c.chain.closed)
    .map((c) => loopOf(c.links))
    .filter((l) => l.trace.area >= LEAST_LOOP);

export interface Sorted {
  readonly loops: readonly Loop[];
  /** Closed lines too small to be outlines. */
  readonly marks: readonly PathDrawable[];
  readonly open: readonly PathDrawable[];
}

/**
 * Sorts the paths of one container: closed lines, alone or end to end. Ends are joined first within a layer, then
 * across layers, among lines that may be part of an outline; first where they meet, then by a hair.
 */
export const sortLoops = (paths: readonly PathDrawable[], mayBeOutline: (d: PathDrawable) => boolean): Sorted => {
  const closed = paths.filter((d) => d.path.closed).map((d) => loopOf([{ drawable: d, reversed: false }]));
  const loops = closed.filter((l) => l.trace.area >= LEAST_LOOP);
  const marks = closed.filter((l) => l.trace.area < LEAST_LOOP).flatMap((l) => l.drawables);
  const lines = paths.filter((d) => !d.path.closed);
  let open = withoutDoubles(lines);
  const singles = new Set(open);
  const doubles = lines.filter((d) => !singles.has(d));
  const take = (found: readonly Loop[]): void => {
    loops.push(...found);
    const used = new Set(found.flatMap((l) => l.drawables));
    open = open.filter((d) => !used.has(d));
  };
  for (const tolerance of [MEET, HAIR]) {
    for (const layer of new Set(open.map((d) => d.layer))) {
      take(
        loopsAmong(
          open.filter((d) => d.layer === layer && mayBeOutline(d)),
          tolerance,
        ),
      );
    }
    take(loopsAmong(open.filter(mayBeOutline), tolerance));
  }
  // Where seam and cutting line run on one another, the second line closes the second outline.
  const seconds = withoutDoubles(doubles).filter(mayBeOutline);
  if (seconds.length > 0 && open.length > 0) {
    const firsts = new Set(open);
    const found = loopsAmong([...open.filter(mayBeOutline), ...seconds], MEET);
    take(found.filter((l) => l.drawables.some((d) => firsts.has(d))));
  }
  const used = new Set(loops.flatMap((l) => l.drawables));
  return { loops, marks, open: [...open, ...doubles.filter((d) => !used.has(d))] };
};

/** Open lines of one layer joined end to end. */
export const chainsOf = (paths: readonly PathDrawable[]): OpenChain[] =>
  [...new Set(paths.map((d) => d.layer))].flatMap((layer) =>
    chainsAmong(
      paths.filter((d) => d.layer === layer),
      MEET,
    ).map(({ links }) => {
      const { spans } = joinChain(links, false);
      return { spans, drawables: links.map((l) => l.drawable), from: firstPoint(spans), to: lastPoint(spans) };
    }),
  );

/** What to say of gaps that were closed. */
export const gapFindings = (loop: Loop, piece: string, file: string): Finding[] =>
  loop.gaps.map((gap) => ({
    code: 'recognise-gap-closed',
    level: 'warning',
    where: { file, line: gap.line, piece },
    message: `The outline of ${piece} is open by ${gap.width.toFixed(2)} mm at (${gap.at.x.toFixed(1)}, ${gap.at.y.toFixed(1)}) mm; it is read as closed there.`,
    try: 'Join the two ends in the drawing if they should meet elsewhere.',
  }));
