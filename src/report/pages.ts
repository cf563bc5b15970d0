import type { Measure, PrintMark, PrintPage } from '../formats/print.ts';
import type { Block, Cell, Content, Row, Section } from './content.ts';
import type { ListContent } from './list-content.ts';
import { headSlabs, sectionSlabs } from './set-blocks.ts';
import { FACES, ruleMark, wordMark } from './set-words.ts';
import { dealt, type Placed, type Slab, shifted } from './slab.ts';
import { LIGHT } from './style.ts';

/* What a page says, laid out on sheets of paper. */

export interface Paper {
  readonly width: number;
  readonly height: number;
}

/** ISO 216, and ANSI/ASME Y14.1. */
export const PAPERS = { A4: { width: 210, height: 297 }, Letter: { width: 215.9, height: 279.4 } } satisfies Readonly<
  Record<string, Paper>
>;

const MARGIN = { side: 14, top: 14, foot: 18 };

export const pagesOf = (content: Content, paper: Paper, measure: Measure): PrintPage[] => {
  const room = paper.width - 2 * MARGIN.side;
  const slabs = [
    ...headSlabs(content, room, measure),
    ...content.sections.flatMap((s) => sectionSlabs(s, room, measure)),
  ];
  return sheets(slabs, content, paper);
};

/** The list with its rows, which have to be at hand all at once. */
export const listPages = (content: ListContent, rows: readonly Row[], paper: Paper, measure: Measure): PrintPage[] =>
  pagesOf({ ...content, sections: listSections(content, rows) }, paper, measure);

const listSections = (content: ListContent, rows: readonly Row[]): Section[] => {
  const { list, columns } = content;
  const table = { kind: 'table', caption: list.caption, columns, rows } as const;
  return [{ id: list.id, heading: list.heading, blocks: [table] }, ...content.after()];
};

const sheets = (
  slabs: readonly Slab[],
  { heading, foot }: Pick<Content, 'heading' | 'foot'>,
  paper: Paper,
): PrintPage[] => {
  const dealtOut = dealt(slabs, paper.height - MARGIN.top - MARGIN.foot);
  return dealtOut.map((placed, i) => ({
    ...paper,
    marks: [
      ...placed.flatMap(({ y, slab }: Placed) => shifted(slab.marks, MARGIN.side, MARGIN.top + y)),
      ...footMarks(`${heading} · ${i + 1} of ${dealtOut.length}`, foot[0] ?? '', paper),
    ],
  }));
};

const footMarks = (left: string, right: string, { width, height }: Paper): PrintMark[] => {
  const y = height - 9;
  return [
    ruleMark(MARGIN.side, width - MARGIN.side, y - 4, LIGHT.rule),
    wordMark(left, MARGIN.side, y, FACES.soft),
    wordMark(right, width - MARGIN.side, y, FACES.soft, 'end'),
  ];
};

/** Every text that is set for a page, so that the type for it can be made ready. */
export function* textsOf(
  content: Pick<Content, 'kicker' | 'heading' | 'facts' | 'verdict' | 'lead' | 'sections' | 'foot'>,
): Generator<string> {
  yield* [
    content.kicker,
    content.heading,
    content.verdict.words,
    ...content.lead,
    ...content.foot,
    '0123456789· of•\u00a0',
  ];
  for (const { term, says } of content.facts) yield* [term, says];
  for (const section of content.sections) {
    yield section.heading;
    for (const block of section.blocks) yield* textsIn(block);
  }
}

/** The same for a list. */
export const textsOfList = (content: ListContent, rows: readonly Row[]): Iterable<string> =>
  textsOf({ ...content, sections: listSections(content, rows) });

function* textsIn(block: Block): Generator<string> {
  if (block.kind === 'words') yield block.text;
  else if (block.kind === 'points') yield* block.items;
  else if (block.kind === 'notices')
    for (const n of block.items) yield* [n.level, n.where, n.message, n.try, n.code, 'EWNTry:.'];
  else if (block.kind === 'table') {
    yield block.caption;
    yield* block.columns.map((c) => c.heading);
    for (const row of block.rows) yield* row.flatMap(textsInCell);
  } else if (block.kind === 'under') {
    yield block.heading;
    for (const inner of block.blocks) yield* textsIn(inner);
  } else {
    for (const { caption, figure, table } of block.items) {
      yield caption;
      yield* figure.marks.flatMap((m) => (m.kind === 'words' ? [m.words] : []));
      if (table) yield* textsIn(table);
    }
  }
}

const textsInCell = ({ lines, boxes }: Cell): readonly string[] => [...lines, ...(boxes ?? [])];
