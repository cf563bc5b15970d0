import { randomUUID } from 'node:crypto';
import { renameSync, writeFileSync } from 'node:fs';
import type { DrawingChanges } from '../../src/formats/drawing.ts';

/*
 * The least that writing an altered file can cost: as many values as the alteration moved, formatted, spliced into the
 * bytes of the source and written whole, with nothing reckoned at all.
 */

/** How many coordinates a change writes. */
export const valuesIn = (changes: DrawingChanges): number => {
  let points = changes.texts.size + changes.points.size;
  for (const { segments } of changes.paths.values()) {
    for (const s of segments.flat()) points += s.kind === 'cubic' ? 3 : s.kind === 'arc' ? 1.5 : 1;
  }
  return 2 * Math.ceil(points);
};

/** Formats so many values, splices them in evenly over the bytes, and writes the file under a name of its own first. */
export const floor = (source: Uint8Array, values: number, path: string): void => {
  const text = Buffer.from(source).toString('latin1');
  const step = Math.max(1, Math.floor(text.length / values));
  const parts: string[] = [];
  for (let i = 0; i < values; i++) {
    const formatted = (i * 1.2345678).toFixed(3);
    const at = Math.min(text.length, i * step);
    parts.push(text.slice(at, Math.max(at, Math.min(text.length, at + step) - formatted.length)), formatted);
  }
  const bytes = Buffer.from(parts.join(''), 'latin1');
  const fresh = `${path}.${randomUUID()}`;
  writeFileSync(fresh, bytes);
  renameSync(fresh, path);
};
