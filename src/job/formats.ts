import { extname } from 'node:path';
import type { Format, FormatName } from '../formats/drawing.ts';

/** Loaded when needed: a run that reads SVG does not wait for what DXF needs. */
const loaders: Readonly<Record<FormatName, () => Promise<Format>>> = {
  dxf: async () => (await import('../formats/dxf/index.ts')).dxf,
  svg: async () => (await import('../formats/svg/index.ts')).svg,
};

export const formatNames = Object.keys(loaders) as readonly FormatName[];

export const formatCalled = (name: FormatName): Promise<Format> => loaders[name]();

/** The format the bytes look like; the file's ending only says which to ask first, and decides when none looks right. */
export const formatOf = async (bytes: Uint8Array, fileName: string): Promise<Format | undefined> => {
  const ending = extname(fileName).slice(1).toLowerCase();
  const names = formatNames.toSorted((a, b) => Number(b === ending) - Number(a === ending));
  for (const name of names) {
    const format = await formatCalled(name);
    if (format.sniff(bytes)) return format;
  }
  const byEnding = names.find((name) => name === ending);
  return byEnding && formatCalled(byEnding);
};
