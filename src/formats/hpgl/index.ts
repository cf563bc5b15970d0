import type { SheetWriter } from '../sheet.ts';
import { writeHpgl } from './write.ts';

/** HP-GL/2 for roll printers, pen plotters and cutters, and plain HP-GL for old ones. */
export const hpgl: SheetWriter = { name: 'hpgl', extension: 'plt', write: async (...given) => writeHpgl(...given) };
