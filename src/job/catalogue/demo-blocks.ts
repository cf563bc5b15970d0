import { readFile } from 'node:fs/promises';
import { Bug } from '../../finding.ts';

/** Blocks that come with the program, for pictures and for trying it out: files committed among the fixtures. */
export const demoBlocks = ['skirt-cubics.svg', 'bodice-cubics.svg', 'trousers-cubics-inches.svg', 'dress-cubics.svg'];

/**
 * Path of a demo block. The build lays the blocks beside the entry file, one folder above the parts it is split into;
 * where the program runs unbuilt they are the fixtures.
 */
export const demoBlockPath = async (file: string): Promise<URL> => {
  const folders = ['../blocks', 'blocks', '../../../fixtures/blocks'];
  for (const place of folders.map((f) => new URL(`${f}/${file}`, import.meta.url))) {
    if (await readFile(place).then(Boolean, () => false)) return place;
  }
  throw new Bug(`The block ${file} is not where the program was installed`);
};
