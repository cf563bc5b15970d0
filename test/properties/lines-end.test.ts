import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { catalogue } from '../../src/alterations/index.ts';
import { distanceToPath } from '../../src/geometry/path.ts';
import type { Point } from '../../src/geometry/point.ts';
import { readPatternFile } from '../../src/job/patternfile.ts';
import { outlineSegments } from '../../src/pattern/edges.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { InnerLine, Outline, Piece } from '../../src/pattern/piece.ts';
import { alteredBy } from '../alterations/altering.ts';

/*
 * Lines that end on the seam line or on the cutting line (levels, adjustment lines, mirror lines on a fold, notches, legs
 * of darts) end on it after every alteration.
 */

const FIXTURES = join(import.meta.dirname, '../../fixtures');
const PATTERNS = [
  'jobs/opera/chorus-skirt.dxf',
  'blocks/skirt-apparel-japanese-back-seam.dxf',
  'blocks/skirt-lines-and-arcs.dxf',
  'blocks/bodice-apparel-mm.dxf',
  'blocks/bodice-splines-turned-german.dxf',
  'blocks/dress-two-tiers-apparel-inches.dxf',
  'blocks/trousers-apparel-mm.dxf',
  'blocks/trousers-cubics-inches.svg',
];
/** Asked for of each alteration, mm. */
const AMOUNT = 8;
/** What ends on an outline lies no further from it as drawn, and afterwards, mm. */
const [ON_IT, STILL_ON_IT] = [0.1, 0.3];

const endsOf = (line: InnerLine): (Point | undefined)[] => [
  line.spans[0]?.segments[0]?.from,
  line.spans.at(-1)?.segments.at(-1)?.to,
];

const away = (outline: Outline | undefined, p: Point): number =>
  (outline && distanceToPath({ segments: outlineSegments(outline), closed: true }, p)) ?? Number.POSITIVE_INFINITY;

/** What ended on an outline of a piece and does not any more. */
const looseEnds = (was: Piece, now: Piece): string[] =>
  was.lines.flatMap((line) => {
    const twin = now.lines.find((l) => l.id === line.id);
    if (!twin || line.closed) return [];
    return endsOf(line).flatMap((p, i) => {
      const q = endsOf(twin)[i];
      if (!p || !q) return [];
      return (['seamLine', 'cuttingLine'] as const)
        .filter((outline) => away(was[outline], p) < ON_IT && away(now[outline], q) > STILL_ON_IT)
        .map((outline) => `${was.name}: ${line.kind}, ${away(now[outline], q).toFixed(2)} mm off the ${outline}`);
    });
  });

/** The pattern altered by one amount; undefined where it takes no such alteration. */
const altered = (pattern: Pattern, alteration: string, amount: number): Pattern | undefined => {
  const done = alteredBy(pattern, { [alteration]: amount });
  return [...done.plan.findings, ...done.findings].some((f) => f.level === 'error') ? undefined : done.pattern;
};

describe.each(PATTERNS)('lines of %s', (name) => {
  it('end on the outlines they ended on, whatever is altered', { timeout: 120_000 }, async () => {
    const { file } = await readPatternFile(join(FIXTURES, name), {});
    if (!file) throw new Error(`${name} cannot be read`);
    let tried = 0;
    const loose = catalogue.flatMap((card) =>
      [AMOUNT, -AMOUNT].flatMap((amount) => {
        const now = altered(file.pattern, card.name, amount);
        if (!now) return [];
        tried++;
        return now.pieces.flatMap((piece, i) =>
          looseEnds(file.pattern.pieces[i] as Piece, piece).map((told) => `${card.name} ${amount}: ${told}`),
        );
      }),
    );
    expect(loose).toEqual([]);
    expect(tried).toBeGreaterThan(8);
  });
});
