import type { Format } from '../drawing.ts';
import { patch } from './patch.ts';
import { read } from './read.ts';
import { looksLikeSvg } from './source.ts';
import { write } from './write.ts';

export { svgCodes } from './codes.ts';

/** Scalable Vector Graphics: SVG 1.1 and the geometry of SVG 2, plain or compressed. */
export const svg: Format = { name: 'svg', extensions: ['.svg', '.svgz'], sniff: looksLikeSvg, read, patch, write };
