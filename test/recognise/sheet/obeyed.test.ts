import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../../src/formats/drawing.ts';
import { dxf } from '../../../src/formats/dxf/index.ts';
import { svg } from '../../../src/formats/svg/index.ts';
import { recognise } from '../../../src/recognise/index.ts';
import { readSheet } from '../../../src/recognise/sheet/read.ts';
import { writeSheet } from '../../../src/recognise/sheet/write.ts';

const folder = fileURLToPath(new URL('../../../fixtures/blocks/', import.meta.url));
const files = readdirSync(folder).filter((name) => /\.(?:dxf|svg)$/.test(name));

const drawingOf = (fileName: string): Drawing => {
  const format = fileName.endsWith('.svg') ? svg : dxf;
  const { drawing } = format.read(readFileSync(folder + fileName), { fileName });
  if (drawing === undefined) throw new Error(`${fileName} cannot be read`);
  return drawing;
};

/** A pattern as plain data, without the evidence. */
const meaning = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(meaning);
  if (value instanceof Map) return meaning([...value]);
  if (typeof value !== 'object' || value === null) return value;
  const kept = Object.entries(value).filter(([key]) => key !== 'evidence' && key !== 'confidence');
  return Object.fromEntries(kept.map(([key, v]) => [key, meaning(v)]));
};

/** Where two of them differ; lengths by more than a hundredth of a millimetre and the rounding of a written place. */
const apart = (a: unknown, b: unknown, at = ''): string[] => {
  if (typeof a === 'number' && typeof b === 'number') return Math.abs(a - b) <= 0.011 ? [] : [`${at}: ${b} for ${a}`];
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null)
    return a === b ? [] : [`${at}: ${String(b)} for ${String(a)}`];
  const [x, y] = [a, b] as Record<string, unknown>[] as [Record<string, unknown>, Record<string, unknown>];
  return [...new Set([...Object.keys(x), ...Object.keys(y)])].flatMap((key) => apart(x[key], y[key], `${at}.${key}`));
};

describe('a pattern sheet as it was written', () => {
  it('has patterns to be written of', () => expect(files.length).toBeGreaterThan(5));

  it.each(files)('is obeyed and gives the same pattern: %s', (fileName) => {
    const drawing = drawingOf(fileName);
    const { pattern } = recognise(drawing);
    const { sheet, findings } = readSheet(writeSheet(pattern, drawing), `${fileName}.sheet.yaml`);
    expect(findings).toEqual([]);
    if (sheet === undefined) throw new Error('a sheet without findings is there');
    const again = recognise(drawing, { sheet });
    expect(again.findings.filter((f) => f.code.includes('sheet'))).toEqual([]);
    const named = (p: typeof pattern) => meaning({ ...p, mates: p.mates.map(({ one, other }) => ({ one, other })) });
    expect(apart(named(pattern), named(again.pattern))).toEqual([]);
  });

  it.each(files)('is obeyed where it is corrected: %s', (fileName) => {
    const drawing = drawingOf(fileName);
    const { pattern } = recognise(drawing);
    const [first] = pattern.pieces;
    if (first === undefined) throw new Error('a pattern has pieces');
    const text = writeSheet(pattern, drawing)
      .replace(/^( +cut: )\d+/m, '$14')
      .replace(/^( +cloth: )\w+/m, '$1lining')
      .replace(/^pieces:/m, 'drafted for: { waist: 26½ in }\npieces:');
    const { sheet, findings } = readSheet(text, `${fileName}.sheet.yaml`);
    expect(findings).toEqual([]);
    const { pattern: corrected } = recognise(drawing, sheet === undefined ? {} : { sheet });
    expect(corrected.pieces[0]?.cut).toMatchObject({ count: 4, cloth: 'lining', confidence: 1 });
    expect(corrected.draftedFor).toEqual({ 'waist girth': 673.1 });
  });
});
