import { Bug } from '../../finding.ts';
import { MM_PER_INCH } from '../../measurements/units.ts';
import type { PartName, Piece } from '../../pattern/piece.ts';
import { keyFigure, withBar } from '../../picture/key-figure.ts';
import { edgeWords, pieceFigure, standingBox } from '../../picture/piece-figure.ts';
import {
  cell,
  end,
  type GalleryItem,
  type Section,
  start,
  strongCell,
  type Table,
  words,
} from '../../report/content.ts';
import type { Ledger, LedgerEdge } from '../ledger.ts';
import { isToldApart, ruled, taped, tapedAfter, tapedChange, tapedFromTo } from '../tape.ts';
import { cutWords } from './cutting.ts';
import { headed, type ReportParts, type Telling } from './parts.ts';

/* Each piece before and after, laid over each other at one scale. */

/** How small pieces may be drawn: the first at which all fit on a sheet of A4 or Letter. */
const SCALES = [5, 8, 10, 15, 20, 25, 50, 100];
interface Room {
  readonly width: number;
  readonly height: number;
}
/** Room for a figure with its words on a sheet, and for the piece alone, mm. */
const SHEET: Room = { width: 181, height: 232 };
const ROOM: Room = { width: 165, height: 222 };

interface Drawn {
  readonly scale: number;
  readonly item: GalleryItem;
}

interface Pair {
  readonly before: Piece;
  readonly after: Piece;
}

export const scaleFor = (boxes: readonly Room[], room: Room = ROOM): number =>
  SCALES.find((s) => boxes.every((b) => b.width / s <= room.width && b.height / s <= room.height)) ?? 100;

export const piecesSection = ({ ledger, before, after }: ReportParts, telling: Telling): Section[] => {
  const pairs = before.pieces.flatMap((piece) => {
    const twin = after?.pieces.find((p) => p.id === piece.id);
    return twin ? [{ before: piece, after: twin }] : [];
  });
  if (pairs.length === 0) return [];
  const { scale, items } = drawnTogether(pairs, ledger, telling);
  const key: GalleryItem = {
    figure: keyFigure({
      scale,
      bar: barFor(telling),
    }),
    heading: 'Key to the pictures',
    caption: 'What the lines mean, and a bar to measure the print by.',
  };
  const says = `Drawn at 1:${scale} when printed at full size, unless a caption says otherwise; measure the bar of the key first. The dashed line is the piece as drafted, the heavy line the piece as altered, and what lies between them is tinted. An amount beside a dot says how far that place moved, and which way. The pictures are for looking at, not for cutting.`;
  return [
    {
      id: 'pieces',
      heading: 'Pieces, before and after',
      blocks: [words(says), { kind: 'gallery', items: [key, ...items] }],
    },
  ];
};

/** The first scale, from `least` on, at which the figure fits on a sheet, words and all. */
const drawnToFit = (pair: Pair, least: number, ledger: Ledger, telling: Telling): Drawn => {
  const fits = ({ figure }: GalleryItem): boolean => figure.width <= SHEET.width && figure.height <= SHEET.height;
  for (const scale of SCALES.filter((s) => s >= least)) {
    const item = pieceItem(pair, scale, ledger, telling);
    if (fits(item) || scale === SCALES.at(-1)) return { scale, item };
  }
  throw new Bug(`no scale for the picture of ${pair.after.id}`);
};

/** Long and narrow: they may be drawn smaller than the rest, lest all be drawn too small for their sake. */
const BANDS: readonly PartName[] = ['waistband', 'collar', 'cuff', 'facing'];
const isBand = ({ after }: Pair): boolean => BANDS.includes(after.part);

/** All pieces at one scale, but for bands that need a smaller one and say so. */
const drawnTogether = (
  pairs: readonly Pair[],
  ledger: Ledger,
  telling: Telling,
): { scale: number; items: GalleryItem[] } => {
  const body = pairs.some((p) => !isBand(p)) ? pairs.filter((p) => !isBand(p)) : pairs;
  const roomy = scaleFor(body.flatMap((p) => [standingBox(p.before), standingBox(p.after)]));
  const first = new Map(body.map((p) => [p, drawnToFit(p, roomy, ledger, telling)]));
  const scale = Math.max(...[...first.values()].map((d) => d.scale));
  const items = pairs.map((p) => {
    const own = first.get(p);
    const drawn = own?.scale === scale ? own : drawnToFit(p, scale, ledger, telling);
    if (drawn.scale === scale) return drawn.item;
    const { figure, caption } = drawn.item;
    return {
      ...drawn.item,
      figure: withBar(figure, { scale: drawn.scale, bar: barFor(telling) }),
      caption: `${caption} Drawn at 1:${drawn.scale}.`,
    };
  });
  return { scale, items };
};

const barFor = ({ show }: Telling): { readonly mm: number; readonly words: string } =>
  show === 'in' ? { mm: 4 * MM_PER_INCH, words: '4 in' } : { mm: 100, words: '10 cm' };

const pieceItem = ({ before, after }: Pair, scale: number, ledger: Ledger, telling: Telling): GalleryItem => {
  const name = telling.names.get(after.id) ?? after.id;
  const edges = ledger.edges.filter((e) => e.piece === after.id);
  const altered = edges.filter((e) => isToldApart(e.before, e.after, telling.show));
  const told = altered
    .map((e) => `${edgeWords(e.edge)} ${fromTo(e, telling)} (${tapedChange(e.before, e.after, telling.show)})`)
    .join('; ');
  const describes = altered.length === 0 ? 'No edge changed its length.' : `Edges that changed: ${told}.`;
  const figure = pieceFigure({
    ...{ before, after, scale, describes },
    title: `${name}, as drafted and as altered`,
    show: (mm) => ruled(mm, telling.show),
    says: (id) => {
      const edge = edges.find((e) => e.edge === id);
      return edge ? `${edgeWords(id)}: ${fromTo(edge, telling)}` : edgeWords(id);
    },
  });
  return {
    figure,
    heading: name,
    caption: `${headed(cutWords(after))}.`,
    ...(edges.length === 0 ? {} : { table: edgeTable(name, edges, telling) }),
  };
};

const fromTo = ({ before, after }: LedgerEdge, { show }: Telling): string => tapedFromTo(before, after, show);

const edgeTable = (name: string, edges: readonly LedgerEdge[], { show }: Telling): Table => ({
  kind: 'table',
  caption: `${name}: edges as sewn`,
  columns: [start('Edge', 1.3), end('As drafted'), end('As altered'), end('Change')],
  rows: edges.map((e) => {
    const row = isToldApart(e.before, e.after, show) ? strongCell : cell;
    return [
      row(headed(edgeWords(e.edge))),
      row(taped(e.before, show)),
      row(tapedAfter(e.before, e.after, show)),
      row(tapedChange(e.before, e.after, show)),
    ];
  }),
});
