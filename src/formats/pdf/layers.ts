import { type PDFDocument, PDFHexString, PDFName, type PDFRef } from 'pdf-lib';

/** Layers by the name that a viewer shows: how the pages' resources call them, and the group itself. */
export type Layers = ReadonlyMap<string, { readonly name: string; readonly group: PDFRef }>;

/**
 * Optional content groups (ISO 32000-1, 8.11), which a viewer lists as layers to switch on and off: one for each name,
 * in this order, all on.
 */
export const addLayers = (doc: PDFDocument, names: readonly string[]): Layers => {
  const { context } = doc;
  const groups = names.map((n) => context.register(context.obj({ Type: 'OCG', Name: PDFHexString.fromText(n) })));
  const shown = { Name: PDFHexString.fromText('Layers'), BaseState: 'ON', ON: groups, Order: groups };
  doc.catalog.set(PDFName.of('OCProperties'), context.obj({ OCGs: groups, D: { ...shown, ListMode: 'AllPages' } }));
  return new Map(groups.map((group, i) => [names[i] as string, { name: `L${i + 1}`, group }]));
};
