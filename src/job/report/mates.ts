import { notchPlaces } from '../../checks/walk.ts';
import { edgeCalled, edgeLength } from '../../pattern/edges.ts';
import { type Pattern, pieceCalled, type SewnEdge } from '../../pattern/pattern.ts';
import { lengthOf, mateFigure, type Row } from '../../picture/mate-figure.ts';
import { edgeWords } from '../../picture/piece-figure.ts';
import { seamEnds } from '../../picture/seam-ends.ts';
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
import type { LedgerMates } from '../ledger.ts';
import { evenness } from '../summary.ts';
import { taped } from '../tape.ts';
import { sewnRow } from '../words.ts';
import { headed, type ReportParts, type Telling } from './parts.ts';
import { scaleFor } from './pieces.ts';

/* Edges that are sewn together, walked on the altered pieces. */

/** How much of the neighbouring edges is drawn at the ends of a seam, mm. */
const STUB = 60;
/** Room for both rows on a sheet, mm. */
const ROOM = { width: 178, height: 100 };

export const matesSection = ({ ledger, after }: ReportParts, telling: Telling): Section[] => {
  if (!after || ledger.mates.length === 0) return [];
  const walked = ledger.mates.flatMap((mates) => {
    const [one, other] = [rowOf(after, mates.one, telling), rowOf(after, mates.other, telling)];
    return one && other ? [{ mates, one, other }] : [];
  });
  const longest = Math.max(0, ...walked.flatMap(({ one, other }) => [lengthOf(one), lengthOf(other)]));
  const scale = scaleFor([{ width: longest + 2 * STUB, height: 0 }], ROOM);
  const says = `Both edges are drawn out straight at 1:${scale} and laid together: the first above the seam, the second below it, from their lower ends on, several edges one after the other. Strokes are notches. At the ends of a single pair the neighbouring edges leave at their true angles, so one sees whether the line runs on across the seam.`;
  const items = walked.map(({ mates, one, other }): GalleryItem => {
    const title = `${rowWords(mates.one, telling)} to ${rowWords(mates.other, telling)}`;
    const verdict = evenness(mates, telling.show, taped);
    const figure = mateFigure({ one, other, scale, title, describes: `Walked: ${verdict}.` });
    return { heading: title, figure, caption: `${headed(verdict)}.` };
  });
  return [
    {
      id: 'mates',
      heading: 'Edges sewn together',
      blocks: [matesTable(ledger.mates, telling), words(says), { kind: 'gallery', items }],
    },
  ];
};

const matesTable = (mates: readonly LedgerMates[], telling: Telling): Table => ({
  kind: 'table',
  caption: 'Walked edge to edge, on the written file',
  columns: [
    start('First', 2),
    start('Second', 2),
    end('Difference as drafted', 1),
    end('As altered', 1),
    start('Result', 1.4),
  ],
  rows: mates.map((m) => [
    strongCell(rowWords(m.one, telling)),
    cell(rowWords(m.other, telling)),
    cell(taped(m.differenceBefore, telling.show)),
    cell(taped(m.differenceAfter, telling.show)),
    cell(evenness(m, telling.show, taped)),
  ]),
});

/** 'Skirt front waist × 2 + Skirt back waist × 2'. */
const rowWords = (row: readonly SewnEdge[], { names }: Telling): string =>
  sewnRow(
    row.map((e) => ({ ...e, edge: edgeWords(e.edge) })),
    names,
  );

const rowOf = (pattern: Pattern, row: readonly SewnEdge[], { names }: Telling): Row | undefined => {
  const found = row.flatMap(({ piece: id, edge: edgeId, times }) => {
    const piece = pieceCalled(pattern, id);
    const edge = piece && edgeCalled(piece, edgeId);
    return piece && edge ? [{ piece, edge, times }] : [];
  });
  const [first] = found;
  if (!first || found.length < row.length) return undefined;
  const stretches = found.flatMap(({ piece, edge, times }) =>
    Array.from({ length: times }, () => ({
      name: `${names.get(piece.id) ?? piece.id} ${edgeWords(edge.id)}`,
      length: edgeLength(piece, edge),
    })),
  );
  if (stretches.length > 1) return { stretches, notches: [] };
  return { stretches, notches: notchPlaces(first), ends: seamEnds(first.piece, first.edge, STUB) };
};
