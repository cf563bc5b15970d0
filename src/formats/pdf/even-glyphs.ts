/**
 * A TrueType font with every glyph's data padded to an even length, nothing else changed; the same bytes where they
 * are even already. The subsetter of the font library halves the offsets of glyphs when they fit 16 bits and so spoils
 * each glyph that follows one of odd length: without this, letters vanish from the page.
 * Tables and their layout: OpenType specification, chapters 'The OpenType font file', 'glyf', 'loca', 'head', 'maxp'.
 */
export const evenGlyphs = (font: Uint8Array): Uint8Array => {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const tables = tablesOf(view);
  const [glyf, loca, head, maxp] = ['glyf', 'loca', 'head', 'maxp'].map((tag) => tables.get(tag));
  if (!glyf || !loca || !head || !maxp) return font;
  const long = view.getInt16(head.offset + 50) === 1;
  if (!long) return font;
  const count = view.getUint16(maxp.offset + 4) + 1;
  const starts = Array.from({ length: count }, (_, i) => view.getUint32(loca.offset + 4 * i));
  if (starts.every((s) => s % 2 === 0)) return font;
  return withGlyphs(font, tables, padded(font, glyf.offset, starts));
};

interface Table {
  /** Of its entry in the directory. */
  readonly entry: number;
  readonly offset: number;
  readonly length: number;
}

const tablesOf = (view: DataView): ReadonlyMap<string, Table> => {
  const tables = new Map<string, Table>();
  for (let i = 0; i < view.getUint16(4); i++) {
    const entry = 12 + 16 * i;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(entry + k)));
    tables.set(tag, { entry, offset: view.getUint32(entry + 8), length: view.getUint32(entry + 12) });
  }
  return tables;
};

interface Glyphs {
  readonly glyf: Uint8Array;
  readonly loca: Uint8Array;
}

const padded = (font: Uint8Array, base: number, starts: readonly number[]): Glyphs => {
  const loca = new DataView(new ArrayBuffer(4 * starts.length));
  const glyf = new Uint8Array((starts[starts.length - 1] as number) + starts.length);
  let at = 0;
  starts.forEach((start, i) => {
    loca.setUint32(4 * i, at);
    const end = starts[i + 1];
    if (end === undefined) return;
    glyf.set(font.subarray(base + start, base + end), at);
    at += end - start + ((end - start) % 2);
  });
  return { glyf: glyf.subarray(0, at), loca: new Uint8Array(loca.buffer) };
};

/** The font with both tables put behind the others. Checksums stay: they are for files, and this one is none. */
const withGlyphs = (font: Uint8Array, tables: ReadonlyMap<string, Table>, { glyf, loca }: Glyphs): Uint8Array => {
  const glyfAt = 4 * Math.ceil(font.length / 4);
  const locaAt = 4 * Math.ceil((glyfAt + glyf.length) / 4);
  const out = new Uint8Array(locaAt + loca.length);
  out.set(font);
  out.set(glyf, glyfAt);
  out.set(loca, locaAt);
  const view = new DataView(out.buffer);
  for (const [tag, offset, length] of [
    ['glyf', glyfAt, glyf.length],
    ['loca', locaAt, loca.length],
  ] as const) {
    const entry = (tables.get(tag) as Table).entry;
    view.setUint32(entry + 8, offset);
    view.setUint32(entry + 12, length);
  }
  return out;
};
