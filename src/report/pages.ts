import type { Measure, PrintMark, PrintPage } from '../formats/print.ts';
import type { Block, Cell, Content, Row, Section } from './content.ts';
import type { ListContent } from './list-content.ts';
import { headSlabs, sectionSlabs } from './set-blocks.ts';
import { broken, FACES, ruleMark, wordMark } from './set-words.ts';
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
  return sheets(slabs, content, paper, measure);
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
  measure: Measure,
): PrintPage[] => {
  const dealtOut = dealt(slabs, paper.height - MARGIN.top - MARGIN.foot);
  return dealtOut.map((placed, i) => ({
    ...paper,
    marks: [
      ...placed.flatMap(({ y, slab }: Placed) => shifted(slab.marks, MARGIN.side, MARGIN.top + y)),
      ...footMarks([heading, foot[0] ?? '', `${i + 1} of ${dealtOut.length}`], paper, measure),
    ],
  }));
};

/** Whose sheet it is, as far as there is room, what made it, and which of how many. */
const footMarks = (
  [name, made, number]: readonly [string, string, string],
  { width, height }: Paper,
  measure: Measure,
): PrintMark[] => {
  const y = height - 9;
  const [line, ...more] = broken(name, width / 2 - MARGIN.side, FACES.soft, measure);
  return [
    ruleMark(MARGIN.side, width - MARGIN.side, y - 4, LIGHT.rule),
    wordMark(`${line}${more.length > 0 ? ' …' : ''}`, MARGIN.side, y, FACES.soft),
    wordMark(made, width / 2 + MARGIN.side, y, FACES.soft),
    wordMark(number, width - MARGIN.side, y, FACES.soft, 'end'),
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
    '0123456789 of•…\u00a0',
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
    for (const { heading, caption, figure, table } of block.items) {
      yield* [heading ?? '', caption];
      yield* figure.marks.flatMap((m) => (m.kind === 'words' ? [m.words] : []));
      if (table) yield* textsIn(table);
    }
  }
}

const textsInCell = ({ lines, boxes }: Cell): readonly string[] => [...lines, ...(boxes ?? [])];
