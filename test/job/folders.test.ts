import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { folderBesideFiles, folderFor } from '../../src/job/folders.ts';

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
  });

  it('is named like no file that a run writes beside it', () => {
    const names = [
      'manifest.jsonl',
      'Manifest.2-of-4.jsonl',
      'index.html',
      'Index.PDF',
      'index.pdf.unfinished-4711abcd',
      'manifest.jsonl.lock',
      'layout.json',
    ];
    for (const own of [...names, 'skirt.pdf', 'skirt 1.plt', 'skirt.svg', 'skirt Alma.apparel.dxf']) {
      expect(folderBesideFiles(own)).toBe(`${own}_`);
    }
    for (const name of ['Dorothea', 'Heron no. 2', 'index', 'pdf']) expect(folderBesideFiles(name)).toBe(name);
  });

  it('is no longer than file systems take (255 bytes), and cuts no character apart', () => {
    for (const letter of ['x', 'é', '合', '👑', '🏳️‍🌈', '👩‍👩‍👧‍👦']) {
      const folder = folderBesideFiles(`${letter.repeat(120)}.pdf`);
      expect(new TextEncoder().encode(folder).length).toBeLessThanOrEqual(255);
      expect(folder.replaceAll(letter.normalize('NFC'), '')).toBe('');
    }
  });
});
