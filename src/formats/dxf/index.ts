import type { Format } from '../drawing.ts';
import { looksLikeDxf } from './bytes.ts';
import { patchDxf } from './patch.ts';
import { readDxf } from './read.ts';
import { writeDxf } from './write.ts';

/** DXF, R12 to R2018, ASCII and binary. */
export const dxf: Format = {
  name: 'dxf',
  extensions: ['.dxf'],
  sniff: looksLikeDxf,
  read: readDxf,
  patch: patchDxf,
  write: writeDxf,
};
