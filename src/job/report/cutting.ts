import type { Cloth, Piece } from '../../pattern/piece.ts';
import { cell, end, type Section, start, strongCell, type Table, words } from '../../report/content.ts';
import { plural } from '../words.ts';
import { headed, type ReportParts } from './parts.ts';

/* The list for the cutting table: what is cut of which cloth, how often, with a box to tick for each. */

const CLOTHS: readonly Cloth[] = ['shell', 'lining', 'facing', 'interlining'];

export const cuttingSection = ({ ledger, before, after }: ReportParts): Section[] => {
  const { pieces } = after ?? before;
  if (ledger.status !== 'done' || pieces.length === 0) return [];
  const tables = CLOTHS.flatMap((cloth) => {
    const own = pieces.filter((p) => p.cut.cloth === cloth);
    return own.length === 0 ? [] : [clothTable(cloth, own)];
  });
  const says =
    'Tick each piece of cloth as it is cut. How often a piece is cut comes from its label or the pattern sheet.';
  return [{ id: 'cutting', heading: 'Cutting list', blocks: [words(says), ...tables], ownSheet: true }];
};

const clothTable = (cloth: Cloth, pieces: readonly Piece[]): Table => {
  const count = pieces.reduce((sum, p) => sum + p.cut.count, 0);
  return {
    kind: 'table',
    caption: `${headed(cloth)}: ${plural(count, 'piece')} of cloth`,
    columns: [start('Pattern piece', 2), end('Times', 0.6), start('How', 2), start('Cut', 3)],
    rows: pieces.map((piece) => [
      strongCell(piece.name || piece.id),
      cell(String(piece.cut.count)),
      cell(how(piece), allowance(piece)),
      { lines: [], boxes: boxesOf(piece) },
    ]),
  };
};

/** 'cut 2 of shell, in mirrored pairs'. */
export const cutWords = (piece: Piece): string => `cut ${piece.cut.count} of ${piece.cut.cloth}, ${how(piece)}`;

const how = ({ half, cut }: Piece): string =>
  half ? 'on the fold' : cut.mirrored && cut.count > 1 ? 'in mirrored pairs' : 'as drawn';

const allowance = (piece: Piece): string =>
  piece.cuttingLine ? 'cutting line drawn' : 'seam line only: add the allowance';

/** A box for each piece of cloth, named so that a pair's two are told apart. */
const boxesOf = (piece: Piece): string[] => {
  const { count, mirrored } = piece.cut;
  const name = (i: number): string => {
    if (count === 1) return 'cut';
    if (!mirrored || piece.half) return `${i + 1} of ${count}`;
    return `${i % 2 === 0 ? 'as drawn' : 'mirrored'}${count > 2 ? ` ${Math.floor(i / 2) + 1}` : ''}`;
  };
  return Array.from({ length: count }, (_, i) => `${name(i)}`);
};
