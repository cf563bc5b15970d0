import { PDFDocument, PDFHexString, PDFName, type PDFRef, PrintScaling } from 'pdf-lib';
import { hasErrors } from '../../finding.ts';
import type { Frame, Machine, Sheet, SheetFiles, SheetOptions } from '../sheet.ts';
import { leftOut, type ToolStroke, toolStrokes } from '../tool-strokes.ts';
import { numeral } from './content.ts';
import { drawn } from './drawing.ts';
import { addLayers, type Layers } from './layers.ts';
import { type Lettering, letteringFor } from './lettering.ts';
import { checkPages, type PageSize, pageSize } from './page.ts';
import { strokeState } from './strokes.ts';
import { faint, missingLetters } from './telling.ts';

/** A frame with what is drawn on it. */
interface Leaf {
  readonly frame: Frame;
  readonly strokes: readonly ToolStroke[];
}

/** What the pages share. */
interface Shared {
  readonly lettering: Lettering;
  readonly layers: Layers;
  readonly resources: PDFRef;
  /** Whether it is drawn and not cut. */
  readonly onPaper: boolean;
}

/** Whether lines are drawn and nothing is cut. */
const onPaper = ({ kind }: Machine): boolean => kind === 'printer' || kind === 'pen plotter';

/** An outline that does not close. On paper it is no fault: it goes on on the next sheet. */
const CUT_OFF = 'tool-cut-open';

/**
 * The whole sheet as one document, a page for each frame, everything at 72/25.4 units to the millimetre. The same
 * sheet gives the same bytes: the library numbers objects in order, and no date is written but the one given.
 */
export const writePdf = async (sheet: Sheet, machine: Machine, options: SheetOptions): Promise<SheetFiles> => {
  const name = `${options.name}.pdf`;
  const pages = checkPages(sheet.frames, options.userUnit ?? false);
  if (hasErrors(pages)) return { files: [], findings: pages };
  const leaves = sheet.frames.map((frame) => ({ frame, ...toolStrokes(frame, machine) }));
  const doc = await PDFDocument.create({ updateMetadata: false });
  describe(doc, sheet, options);
  const shared = await share(doc, leaves, machine);
  for (const leaf of leaves) addPage(doc, leaf, shared);
  const bytes = await doc.save({ useObjectStreams: false, addDefaultPage: false, updateFieldAppearances: false });
  const strokes = leaves.flatMap((l) => l.strokes);
  const findings = [
    ...pages,
    ...leftOut(sheet.frames, machine),
    ...leaves.flatMap((l) => l.findings).filter((f) => !(shared.onPaper && f.code === CUT_OFF)),
    ...faint(strokes, machine),
    ...missingLetters(strokes, shared.lettering),
  ];
  return { files: [{ name, bytes }], findings: findings.map((f) => ({ ...f, where: { file: name, ...f.where } })) };
};

/**
 * What the document says of itself, and how it wants to be printed: unscaled, on paper of its own size. Not every
 * viewer heeds the latter, hence the test squares on the sheet.
 */
const describe = (doc: PDFDocument, sheet: Sheet, options: SheetOptions): void => {
  doc.setTitle(sheet.title, { showInWindowTitleBar: true });
  doc.setProducer('retrue');
  doc.setCreator('retrue');
  if (options.date !== undefined) {
    doc.setCreationDate(new Date(options.date));
    doc.setModificationDate(new Date(options.date));
  }
  const viewer = doc.catalog.getOrCreateViewerPreferences();
  viewer.setPrintScaling(PrintScaling.None);
  viewer.setPickTrayByPDFSize(true);
  const labels = sheet.frames.flatMap((f, i) => [i, { P: PDFHexString.fromText(f.name) }]);
  doc.catalog.set(PDFName.of('PageLabels'), doc.context.obj({ Nums: labels }));
};

const share = async (doc: PDFDocument, leaves: readonly Leaf[], machine: Machine): Promise<Shared> => {
  const strokes = leaves.flatMap((l) => l.strokes);
  const layers = addLayers(doc, [...new Set(strokes.map((s) => s.look.layer))]);
  const texts = strokes.flatMap((s) => (s.kind === 'text' ? [s.text.text] : []));
  const lettering = await letteringFor(doc, texts);
  const resources = doc.context.obj({
    Font: Object.fromEntries([...lettering.fonts].map(([name, font]) => [name, font.ref])),
    Properties: Object.fromEntries([...layers.values()].map(({ name, group }) => [name, group])),
  });
  return { lettering, layers, resources: doc.context.register(resources), onPaper: onPaper(machine) };
};

const addPage = (doc: PDFDocument, leaf: Leaf, shared: Shared): void => {
  const { frame } = leaf;
  const size = pageSize(frame);
  const page = doc.addPage([units(size.width), units(size.height)]);
  page.setCropBox(0, 0, units(size.width), units(size.height));
  const trim = frame.trim ?? { x: 0, y: 0, width: frame.width, height: frame.height };
  const inUnits = (v: number): number => units(v * size.unitsPerMillimetre);
  page.setTrimBox(inUnits(trim.x), inUnits(trim.y), inUnits(trim.width), inUnits(trim.height));
  if (size.userUnit > 1) page.node.set(PDFName.of('UserUnit'), doc.context.obj(size.userUnit));
  page.node.set(PDFName.of('Resources'), shared.resources);
  const stream = doc.context.flateStream(content(leaf, size, shared));
  page.node.set(PDFName.of('Contents'), doc.context.register(stream));
};

/** Six decimals, rounded down: a viewer that rounds up to whole points of the screen must not get one more. */
const units = (value: number): number => Math.floor(value * 1e6 + 1e-3) / 1e6;

/** Everything on a page in mm, each run of strokes of one look in its layer. */
const content = ({ strokes }: Leaf, size: PageSize, shared: Shared): string => {
  const scale = numeral(size.unitsPerMillimetre, 10);
  const runs: ToolStroke[][] = [];
  for (const s of strokes) {
    const run = runs[runs.length - 1];
    if (run?.[0]?.look === s.look) run.push(s);
    else runs.push([s]);
  }
  return ['q', `${scale} 0 0 ${scale} 0 0 cm`, ...runs.map((run) => layered(run, shared)), 'Q'].join('\n');
};

const layered = (run: readonly ToolStroke[], shared: Shared): string => {
  const [first] = run as readonly [ToolStroke];
  const lines = run.map((s) => drawn(s, shared.onPaper, shared.lettering));
  const layer = shared.layers.get(first.look.layer)?.name;
  return [`/OC /${layer} BDC`, 'q', strokeState(first.look), ...lines, 'Q', 'EMC'].join('\n');
};
