import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ReadResult } from '../../../src/formats/drawing.ts';
import { dxfCodes } from '../../../src/formats/dxf/codes.ts';
import { dxf } from '../../../src/formats/dxf/index.ts';
import { isFiniteSegment } from '../../../src/geometry/segment.ts';
import { bytesOf, dxfText, NOTHING, tagText } from './tools.ts';

const FOLDER = join(import.meta.dirname, '../../../fixtures/broken');

interface Expected {
  /** Codes of the findings the file must give; warnings and errors beyond these are not allowed. */
  readonly codes: readonly string[];
  /** How many things are still drawn. */
  readonly draws?: number;
  /** Line at which the first of them must point. */
  readonly line?: number;
}

const expected = JSON.parse(readFileSync(join(FOLDER, 'dxf.json'), 'utf8')) as Record<string, Expected>;
const files = readdirSync(FOLDER).filter((n) => n.endsWith('.dxf'));

/** The longest any broken file may take, ms; the arrays of arrays would take hours if they were unfolded. */
const PATIENCE = 3000;

describe('broken DXF files', () => {
  it('are all described, and no other', () => expect(files.sort()).toEqual(Object.keys(expected).sort()));

  it.each(files)('%s gives its findings', (name) => {
    const bytes = readFileSync(join(FOLDER, name));
    const start = performance.now();
    const { drawing, findings } = dxf.read(bytes, { fileName: name });
    expect(performance.now() - start).toBeLessThan(PATIENCE);
    const want = expected[name] as Expected;
    const found = findings.map((f) => f.code);
    for (const code of want.codes) expect(found).toContain(code);
    const grave = findings.filter((f) => f.level !== 'note').map((f) => f.code);
    expect(grave.filter((code) => !want.codes.includes(code))).toEqual([]);
    for (const f of findings) {
      expect(dxfCodes[f.code], f.code).toBeDefined();
      expect(f.where.file).toBe(name);
      expect(f.message.length).toBeGreaterThan(10);
      expect(f.try.length).toBeGreaterThan(5);
    }
    if (want.line !== undefined) expect(findings.find((f) => f.code === want.codes[0])?.where.line).toBe(want.line);
    expect(drawing?.drawables.length).toBe(want.draws);
    if (drawing !== undefined) expect(Buffer.compare(bytes, dxf.patch(drawing, NOTHING).bytes)).toBe(0);
  });
});

const sound = ({ drawing, findings }: ReadResult): void => {
  if (drawing === undefined) expect(findings.some((f) => f.level === 'error')).toBe(true);
  for (const d of drawing?.drawables ?? []) {
    if (d.kind === 'path') expect(d.path.segments.length > 0 && d.path.segments.every(isFiniteSegment)).toBe(true);
    else expect(Number.isFinite(d.at.x + d.at.y)).toBe(true);
  }
};

const WHOLE = dxfText({
  blocks:
    tagText(0, 'BLOCK', 8, '0', 2, 'FRONT', 70, 0, 10, '0.0', 20, '0.0') +
    tagText(
      0,
      'LWPOLYLINE',
      5,
      '2A',
      8,
      '1',
      90,
      3,
      70,
      1,
      10,
      '0.0',
      20,
      '0.0',
      42,
      '0.5',
      10,
      '50.0',
      20,
      '0.0',
      10,
      '50.0',
      20,
      '80.0',
    ) +
    tagText(
      0,
      'POLYLINE',
      8,
      '1',
      66,
      1,
      70,
      0,
      0,
      'VERTEX',
      8,
      '1',
      10,
      '1.0',
      20,
      '2.0',
      0,
      'VERTEX',
      8,
      '1',
      10,
      '3.0',
      20,
      '2.0',
      0,
      'SEQEND',
    ) +
    tagText(0, 'ENDBLK'),
  entities:
    tagText(0, 'INSERT', 8, '0', 2, 'FRONT', 10, '5.0', 20, '6.0', 41, '-1.0', 50, '30.0') +
    tagText(0, 'ARC', 8, '1', 10, '0.0', 20, '0.0', 40, '5.0', 50, '0.0', 51, '90.0') +
    tagText(
      0,
      'SPLINE',
      8,
      '1',
      70,
      8,
      71,
      3,
      72,
      8,
      73,
      4,
      40,
      0,
      40,
      0,
      40,
      0,
      40,
      0,
      40,
      1,
      40,
      1,
      40,
      1,
      40,
      1,
      10,
      '0.0',
      20,
      '0.0',
      10,
      '5.0',
      20,
      '9.0',
      10,
      '9.0',
      20,
      '9.0',
      10,
      '14.0',
      20,
      '0.0',
    ) +
    tagText(
      0,
      'TEXT',
      8,
      '1',
      10,
      '0.0',
      20,
      '0.0',
      40,
      '5.0',
      1,
      'Front',
      0,
      'ELLIPSE',
      8,
      '1',
      10,
      '0.0',
      20,
      '0.0',
      11,
      '5.0',
      21,
      '1.0',
      40,
      '0.5',
      41,
      '0.0',
      42,
      '3.0',
    ),
});

describe('damaged at random', () => {
  const whole = bytesOf(WHOLE);

  it('a file cut off anywhere is told of, and never read as whole', () => {
    const all = dxf.read(whole, { fileName: 'x' }).drawing?.drawables.length ?? 0;
    for (let n = 0; n < whole.length - 12; n++) {
      const result = dxf.read(whole.subarray(0, n), { fileName: 'x' });
      sound(result);
      expect(
        result.findings.some((f) => f.level !== 'note'),
        `cut at ${n}`,
      ).toBe(true);
      expect(result.drawing?.drawables.length ?? 0).toBeLessThanOrEqual(all);
    }
  });

  it('a file with bytes changed is read soundly or refused', () => {
    const change = fc.tuple(
      fc.nat({ max: whole.length - 1 }),
      fc.oneof(fc.integer({ min: 32, max: 126 }), fc.constantFrom(10, 13, 0, 255)),
    );
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 6 }), (edits) => {
        const bytes = Uint8Array.from(whole);
        for (const [at, value] of edits) bytes[at] = value;
        const result = dxf.read(bytes, { fileName: 'x' });
        sound(result);
        if (result.drawing !== undefined)
          expect(Buffer.compare(bytes, dxf.patch(result.drawing, NOTHING).bytes)).toBe(0);
      }),
      { numRuns: 400 },
    );
  });

  it('a file with lines dropped or doubled is read soundly or refused', () => {
    const lines = WHOLE.split('\n');
    fc.assert(
      fc.property(fc.nat({ max: lines.length - 3 }), fc.boolean(), (at, twice) => {
        const damaged = [...lines.slice(0, at), ...(twice ? [lines[at], lines[at]] : []), ...lines.slice(at + 1)];
        const result = dxf.read(bytesOf(damaged.join('\n')), { fileName: 'x' });
        sound(result);
        expect(
          result.findings.some((f) => f.level !== 'note'),
          damaged.slice(Math.max(0, at - 6), at + 6).join('|'),
        ).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});
