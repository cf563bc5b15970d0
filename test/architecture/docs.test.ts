import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { generated } from '../../scripts/docs.ts';

it('keeps the generated parts of the documents as the source has them (npm run docs)', async () => {
  for (const [path, text] of await generated()) {
    expect(await readFile(join(import.meta.dirname, '../..', path), 'utf8'), path).toBe(text);
  }
});
