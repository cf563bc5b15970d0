import type { Measure } from '../formats/print.ts';
import type { Block, Content, GalleryItem, Notice, Section, Tone } from './content.ts';
import { figureSlab } from './set-figure.ts';
import { tableSlabs } from './set-table.ts';
import { FACES, type Face, ruleMark, wordMark, wordSlab } from './set-words.ts';
import { type Slab, shifted, stacked } from './slab.ts';
import { LIGHT } from './style.ts';

/* The blocks of a page stacked down a printed sheet of `room` mm of width. */

const TONES: Readonly<Record<Tone, string>> = { good: LIGHT.good, bad: LIGHT.bad, plain: LIGHT.soft };
/** Words are easier to read in lines not too long, mm. */
const LINE = 150;
const INDENT = 4;

type Head = Pick<Content, 'kicker' | 'heading' | 'facts' | 'verdict' | 'lead'>;

export const headSlabs = (content: Head, room: number, measure: Measure): Slab[] => {
  const { kicker, heading, facts, verdict, lead } = content;
  const terms = Math.max(0, ...facts.map((f) => measure(f.term, FACES.cell.size, false))) + 5;
  const tone: Face = { ...FACES.under, colour: TONES[verdict.tone] };
  return [
    wordSlab(kicker, 0, room, FACES.kicker, measure),
    wordSlab(heading, 0, room, FACES.heading, measure),
    ...facts.map(({ term, says }, i): Slab => {
      const slab = wordSlab(says, terms, room - terms, FACES.cell, measure, i === 0 ? 2 : 0);
      return { ...slab, marks: [wordMark(term, 0, FACES.cell.size, FACES.soft), ...slab.marks] };
    }),
    barred(wordSlab(verdict.words, INDENT, room - INDENT, tone, measure), tone.colour, 4),
    ...lead.map((said) => wordSlab(said, 0, room, FACES.lead, measure, 1.5)),
  ];
};

/** With a bar down its left side. */
const barred = (slab: Slab, colour: string, over: number): Slab => ({
  ...slab,
  over,
  marks: [verticalMark(0.6, slab.height, colour), ...slab.marks],
});
const verticalMark = (x: number, height: number, colour: string) => ({
  ...ruleMark(x, x, 0, colour, 1.2),
  rings: [[{ kind: 'line', from: { x, y: 0 }, to: { x, y: height } } as const]],
});

export const sectionSlabs = (section: Section, room: number, measure: Measure): Slab[] => {
  const heading = wordSlab(section.heading, 0, room, FACES.section, measure);
  const ruled: Slab = {
    height: heading.height + 3.4,
    marks: [ruleMark(0, room, 0, LIGHT.ink), ...shifted(heading.marks, 0, 2.2)],
    ...{ over: 8, keep: true, fresh: section.ownSheet ?? false },
  };
  return [ruled, ...section.blocks.flatMap((b) => blockSlabs(b, room, measure))];
};

const blockSlabs = (block: Block, room: number, measure: Measure): Slab[] => {
  switch (block.kind) {
    case 'words':
      return [{ ...wordSlab(block.text, 0, Math.min(room, LINE), FACES.body, measure, 1), keep: true }];
    case 'points':
      return block.items.map((item) => {
        const slab = wordSlab(item, INDENT, Math.min(room, LINE) - INDENT, FACES.body, measure, 1);
        return { ...slab, marks: [wordMark('•', 0.8, FACES.body.size, FACES.body), ...slab.marks] };
      });
    case 'notices':
      return block.items.map((notice) => noticeSlab(notice, Math.min(room, LINE), measure));
    case 'table':
      return tableSlabs(block, 0, room, measure);
    case 'gallery':
      return gallerySlabs(block.items, room, measure);
    case 'under':
      return [
        { ...wordSlab(block.heading, 0, room, FACES.under, measure, 5), keep: true },
        ...block.blocks.flatMap((b) => blockSlabs(b, room, measure)),
      ];
  }
};

const LEVELS: Readonly<Record<Notice['level'], { readonly word: string; readonly colour: string }>> = {
  error: { word: 'Error', colour: LIGHT.bad },
  warning: { word: 'Warning', colour: LIGHT.warn },
  note: { word: 'Note', colour: LIGHT.soft },
};

const noticeSlab = (notice: Notice, room: number, measure: Measure): Slab => {
  const { word, colour } = LEVELS[notice.level];
  const said = (text: string, face: Face): Slab => wordSlab(text, INDENT, room - INDENT, face, measure);
  const whole = stacked([
    said(notice.where === '' ? word : `${word}. ${notice.where}`, { ...FACES.strong, colour }),
    said(notice.message, FACES.body),
    said(`Try: ${notice.try}`, FACES.body),
    said(notice.code, FACES.soft),
  ]);
  return barred(whole, colour, 3);
};

/** A table beside its figure is at least so wide, mm. */
const BESIDE = 68;
/** Between what stands side by side, mm. */
const GAP = 5;

/** A column of its own is at least so wide, and at most so high: room for it on a sheet of Letter, mm. */
const COLUMN = { width: 76, height: 235 };

/** Two items with their tables side by side where there is room for both, the others one below the other. */
const gallerySlabs = (items: readonly GalleryItem[], room: number, measure: Measure): Slab[] => {
  const slabs: Slab[] = [];
  for (let i = 0; i < items.length; ) {
    const [item, next] = items.slice(i) as [GalleryItem, GalleryItem?];
    const pair = next && pairSlab(item, next, room, measure);
    slabs.push(...(pair ? [pair] : itemSlabs(item, room, measure)));
    i += pair ? 2 : 1;
  }
  return slabs;
};

const pairSlab = (one: GalleryItem, other: GalleryItem, room: number, measure: Measure): Slab | undefined => {
  const [left, right] = [one, other].map(({ figure }) => Math.max(figure.width, COLUMN.width)) as [number, number];
  if (!one.table || !other.table || left + GAP + right > room) return undefined;
  // Their columns have no room for a table beside the figure, so it comes below.
  const columns = [stacked(itemSlabs(one, left, measure)), stacked(itemSlabs(other, right, measure))] as const;
  const height = Math.max(...columns.map((c) => c.height));
  if (height > COLUMN.height) return undefined;
  return { height, marks: [...columns[0].marks, ...shifted(columns[1].marks, left + GAP, 0)], over: 5 };
};

/** A figure with its caption over it, and its table beside it or, where there is no room, below. */
const itemSlabs = ({ heading, figure, caption, table }: GalleryItem, room: number, measure: Measure): Slab[] => {
  const said: Slab = {
    ...wordSlab(caption, 0, room, FACES.cell, measure, heading === undefined ? 5 : 0.5),
    keep: true,
  };
  const over: Slab[] =
    heading === undefined ? [] : [{ ...wordSlab(heading, 0, room, FACES.under, measure, 5), keep: true }];
  const picture = { ...figureSlab(figure, 0), over: 1.5 };
  if (!table) return [...over, said, picture];
  const x = figure.width + GAP;
  if (room - x < BESIDE) return [...over, said, { ...picture, keep: true }, ...tableSlabs(table, 0, room, measure)];
  const beside = stacked(tableSlabs(table, x, room - x, measure));
  return [
    ...over,
    said,
    { height: Math.max(picture.height, beside.height), marks: [...picture.marks, ...beside.marks], over: 1.5 },
  ];
};
