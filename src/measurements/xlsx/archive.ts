import { type Unzipped, unzipSync } from 'fflate';

/** A workbook larger than this when unpacked is no table of fittings. Bytes; ours. */
const MOST_UNPACKED = 256 * 1024 * 1024;

/** Why a workbook cannot be read, in words that end the sentence 'the table cannot be read'. */
export class Unreadable extends Error {}

/** The parts of a workbook that a table needs, by path in the archive. Throws `Unreadable`. */
export const unpacked = (bytes: Uint8Array): ReadonlyMap<string, Uint8Array> => {
  let size = 0;
  let files: Unzipped;
  try {
    files = unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (!/\.(?:xml|rels)$|^mimetype$/i.test(name)) return false;
        size += originalSize;
        if (size > MOST_UNPACKED) throw new Unreadable('unpacked, it is larger than 256 MB.');
        return true;
      },
    });
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    throw new Unreadable('the workbook is damaged or was cut off.');
  }
  return new Map(Object.entries(files).map(([name, content]) => [name.replace(/^\//, ''), content]));
};
