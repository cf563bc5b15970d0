import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { folderCollisions, folderFor } from '../../src/job/folders.ts';

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
    expect(folderFor('manifest.jsonl')).toBe('manifest.jsonl_');
  });
});

describe('folderCollisions', () => {
  it('finds names that differ only where folders cannot', () => {
    expect(folderCollisions(['Ann', 'Bea', 'Cléo'])).toEqual([]);
    expect(folderCollisions(['Ann', 'ann'])[0]?.code).toBe('job-folder-collision');
    expect(folderCollisions(['a/b', 'a:b'])).toHaveLength(1);
    expect(folderCollisions(['Cle\u0301o', 'Cl\u00e9o'])).toHaveLength(1);
  });
});
