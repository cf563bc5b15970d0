import type { SheetFormatName, SheetWriter } from '../../formats/sheet.ts';

/** Loaded when needed: each brings packages of its own. */
const loaders: Readonly<Record<SheetFormatName, () => Promise<SheetWriter>>> = {
  pdf: async () => (await import('../../formats/pdf/index.ts')).pdf,
  hpgl: async () => (await import('../../formats/hpgl/index.ts')).hpgl,
  svg: async () => (await import('../../formats/svg/sheet.ts')).svgSheet,
  dxf: async () => (await import('../../formats/dxf/sheet.ts')).dxfSheet,
};

export const sheetFormatNames = Object.keys(loaders) as readonly SheetFormatName[];

export const sheetWriterCalled = (name: SheetFormatName): Promise<SheetWriter> => loaders[name]();
