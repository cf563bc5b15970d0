import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { folderFor } from '../../src/job/folders.ts';

describe('folderFor', () => {
  it('keeps names that any file system takes', () => {
    for (const name of ['Dorothea Vance', 'order 12', 'Zoë', '合唱 3']) expect(folderFor(name)).toBe(name);
  });

  it('is one harmless folder name for every text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (name) => {
        const folder = folderFor(name);
        expect(folder).not.toBe('');
        expect(folder).not.toMatch(/[/\\:*?"<>|]|^[. ]|[. ]$/);
        expect([...folder].every((ch) => ch >= ' ')).toBe(true);
        expect([...folder].length).toBeLessThanOrEqual(81);
        expect(folderFor(folder)).toBe(folder);
      }),
    );
  });

  it('steps out of no folder and names no device', () => {
    expect(folderFor('../../etc')).toBe('-..-etc');
    expect(folderFor('..')).toBe('fitting');
    expect(folderFor('CON')).toBe('CON_');
    for (const own of ['manifest.jsonl', 'Manifest.2-of-4.jsonl', 'index.html']) expect(folderFor(own)).toBe(`${own}_`);
  });
});
