import { PDFDocument, PDFName, type PDFRef } from 'pdf-lib';
import { Bug } from '../../finding.ts';
import type { Segment } from '../../geometry/segment.ts';
import { transformPath } from '../../geometry/transform.ts';
import type { OpenPrinter, PrintDocument, PrintMark, PrintPage, PrintPath, PrintText } from '../print.ts';
import { numeral, pathOperators } from './content.ts';
import { BOLD_FACES } from './font-files.ts';
import { type Lettering, letteringFor } from './lettering.ts';
import { colour } from './strokes.ts';

/* Sheets for people as PDF. The same sheets give the same bytes: no clock, and objects are numbered in order. */

const UNITS_PER_MM = 72 / 25.4;

interface Type {
  readonly plain: Lettering;
  readonly bold: Lettering;
}

export const openPrinter: OpenPrinter = async (texts) => {
  const doc = await PDFDocument.create({ updateMetadata: false });
  const letters = [...new Set([...texts].flatMap((t) => [...t.normalize('NFC')]))].join('');
  const type: Type = {
    plain: await letteringFor(doc, [letters]),
    bold: await letteringFor(doc, [letters], BOLD_FACES, 'B'),
  };
  const widths = { plain: remembered(type.plain.width), bold: remembered(type.bold.width) };
  let written = false;
  return {
    measure: (words, size, bold) => (bold ? widths.bold : widths.plain)(words) * size,
    missing: type.plain.set(letters).missing,
    write: async (document) => {
      if (written) throw new Bug('a printer writes one document');
      written = true;
      return save(doc, type, document);
    },
  };
};

/** Letters are shaped to be measured, which takes its time, and the same words come again and again. */
const remembered = (width: (words: string) => number): ((words: string) => number) => {
  const known = new Map<string, number>();
  return (words) => {
    const found = known.get(words) ?? width(words);
    known.set(words, found);
    return found;
  };
};

const widthOf = (runs: readonly { readonly width: number }[]): number => runs.reduce((sum, r) => sum + r.width, 0);

const save = async (doc: PDFDocument, type: Type, { title, pages, date }: PrintDocument): Promise<Uint8Array> => {
  doc.setTitle(title, { showInWindowTitleBar: true });
  doc.setProducer('retrue');
  doc.setCreator('retrue');
  doc.setLanguage('en');
  if (date !== undefined) {
    doc.setCreationDate(new Date(date));
    doc.setModificationDate(new Date(date));
  }
  const fonts = [...type.plain.fonts, ...type.bold.fonts].map(([name, font]) => [name, font.ref] as const);
  const resources = doc.context.register(doc.context.obj({ Font: Object.fromEntries(fonts) }));
  for (const page of pages) addPage(doc, page, type, resources);
  return doc.save({ useObjectStreams: false, addDefaultPage: false, updateFieldAppearances: false });
};

const addPage = (doc: PDFDocument, sheet: PrintPage, type: Type, resources: PDFRef): void => {
  const page = doc.addPage([sheet.width * UNITS_PER_MM, sheet.height * UNITS_PER_MM]);
  page.node.set(PDFName.of('Resources'), resources);
  const scale = numeral(UNITS_PER_MM, 10);
  const lines = ['q', `${scale} 0 0 ${scale} 0 0 cm`, '1 j', ...sheet.marks.map((m) => mark(m, sheet, type)), 'Q'];
  page.node.set(PDFName.of('Contents'), doc.context.register(doc.context.flateStream(lines.join('\n'))));
};

const mark = (m: PrintMark, sheet: PrintPage, type: Type): string =>
  m.kind === 'text' ? text(m, sheet, m.bold ? type.bold : type.plain) : path(m, sheet);

const text = ({ at, anchor, words, size, colour: ink, halo }: PrintText, sheet: PrintPage, type: Lettering): string => {
  const { runs } = type.set(words);
  const back = anchor === 'start' ? 0 : (widthOf(runs) * size) / (anchor === 'middle' ? 2 : 1);
  const place = `1 0 0 1 ${numeral(at.x - back)} ${numeral(sheet.height - at.y)} Tm`;
  const shown = runs.map((r) => `/${r.font} ${numeral(size)} Tf ${r.glyphs} Tj`);
  // Text rendering modes: ISO 32000-1, table 106. 1 strokes, 0 fills.
  const rim = halo === undefined ? [] : ['1 Tr', '1 G', `${numeral(halo)} w`, '[] 0 d', place, ...shown];
  return ['BT', ...rim, '0 Tr', colour(ink, 'g', 'rg'), place, ...shown, 'ET'].join('\n');
};

/** Operators that fill, stroke or both: ISO 32000-1, table 60. */
const path = ({ rings, closed, stroke, fill }: PrintPath, sheet: PrintPage): string => {
  const up = (segments: readonly Segment[]): string =>
    pathOperators(transformPath({ a: 1, b: 0, c: 0, d: -1, e: 0, f: sheet.height }, { segments, closed }));
  const state = [
    ...(fill ? [colour(fill, 'g', 'rg')] : []),
    ...(stroke
      ? [
          colour(stroke.colour, 'G', 'RG'),
          `${numeral(stroke.width)} w`,
          `[${(stroke.dash ?? []).map((d) => numeral(d)).join(' ')}] 0 d`,
        ]
      : []),
  ];
  const paint = fill && stroke ? 'B*' : fill ? 'f*' : 'S';
  return [...state, ...rings.filter((r) => r.length > 0).map(up), paint].join('\n');
};
