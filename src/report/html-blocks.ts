import { escaped } from '../picture/path-data.ts';
import { figureSvg } from '../picture/svg.ts';
import type { Block, Cell, Column, Gallery, Notice, Notices, Row, Table } from './content.ts';
import { tied } from './tied.ts';

/* The blocks of a page as HTML that is well-formed XML too, so that any reader can check it. */

/** Gives every part that is pointed at a name of its own on the page. */
export type Names = (kind: string) => string;

export const namesOfPage = (): Names => {
  let count = 0;
  return (kind) => `${kind}-${++count}`;
};

/** Texts may be in any script: each finds its own direction. */
export const text = (words: string): string => escaped(tied(words));

/** An address, untouched but for what HTML cannot hold. */
export const address = (href: string): string => escaped(href);

export const blockHtml = (block: Block, names: Names): string => {
  switch (block.kind) {
    case 'words':
      return `<p dir="auto">${text(block.text)}</p>`;
    case 'points':
      return `<ul class="points">${block.items.map((i) => `<li dir="auto">${text(i)}</li>`).join('')}</ul>`;
    case 'notices':
      return noticesHtml(block);
    case 'table':
      return tableHtml(block, names);
    case 'gallery':
      return galleryHtml(block, names);
    case 'under':
      return `<h3 dir="auto">${text(block.heading)}</h3>${block.blocks.map((b) => blockHtml(b, names)).join('\n')}`;
  }
};

const LEVELS: Readonly<Record<Notice['level'], string>> = { error: 'Error', warning: 'Warning', note: 'Note' };

const noticesHtml = ({ items }: Notices): string => `<ul class="notices">${items.map(noticeHtml).join('\n')}</ul>`;

const noticeHtml = (notice: Notice): string => {
  const where = notice.where === '' ? '' : ` <bdi>${text(notice.where)}</bdi>`;
  return [
    `<li class="${notice.level}"><p><span class="level">${LEVELS[notice.level]}.</span>${where}</p>`,
    `<p dir="auto">${text(notice.message)}</p><p dir="auto"><span class="level">Try:</span> ${text(notice.try)}</p><p class="code">${text(notice.code)}</p>`,
    '</li>',
  ].join('');
};

const tableHtml = ({ caption, columns, rows }: Table, names: Names): string => {
  const [before, after] = tableFrame(caption, columns, names);
  return [before, ...rows.map((row) => rowHtml(row, columns, names)), after].join('\n');
};

/** A table of more columns is scrolled by itself where the screen is small, by keyboard too. */
const NARROW = 4;

/** What stands before and after the rows. */
export const tableFrame = (caption: string, columns: readonly Column[], names: Names): readonly [string, string] => {
  const id = names('table');
  const head = columns.map((c) => `<th scope="col"${classOf(c)}>${text(c.heading)}</th>`).join('');
  return [
    [
      columns.length > NARROW
        ? `<div class="table wide" role="group" aria-labelledby="${id}" tabindex="0"><table>`
        : '<div class="table"><table>',
      `<caption id="${id}" dir="auto">${text(caption)}</caption>`,
      `<thead><tr>${head}</tr></thead><tbody>`,
    ].join(''),
    '</tbody></table></div>',
  ];
};

const classOf = (column: Column | undefined, strong = false): string => {
  const classes = [...(column?.align === 'end' ? ['end'] : []), ...(strong ? ['strong'] : [])];
  return classes.length === 0 ? '' : ` class="${classes.join(' ')}"`;
};

export const rowHtml = (row: Row, columns: readonly Column[], names: Names): string => {
  const cells = row.map((cell, i) => {
    const inside = cellHtml(cell, names);
    const looks = classOf(columns[i], cell.strong);
    return i === 0 ? `<th scope="row"${looks}>${inside}</th>` : `<td${looks}>${inside}</td>`;
  });
  return `<tr>${cells.join('')}</tr>`;
};

const cellHtml = (cell: Cell, names: Names): string => {
  const lines = cell.lines.map((line) => {
    const words = cell.link === undefined ? text(line) : `<a href="${address(cell.link)}">${text(line)}</a>`;
    return `<span class="line" dir="auto">${words}</span>`;
  });
  const boxes = (cell.boxes ?? []).map((label) => boxHtml(label, names));
  return [...lines, ...(cell.used === undefined ? [] : [barHtml(cell.used)]), ...boxes].join('');
};

const boxHtml = (label: string, names: Names): string => {
  const id = names('tick');
  return `<label class="box" for="${id}"><input type="checkbox" id="${id}"/><bdi>${text(label)}</bdi></label>`;
};

/** How much of the customary most is used; the words beside it say the same, so it is not read aloud. */
const barHtml = (used: number): string => {
  const width = Math.round(Math.min(1, Math.max(0, used)) * 98);
  const look = used > 1 ? 'used over' : 'used';
  return [
    '<svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">',
    `<rect class="${look}" x="1" y="1" width="${width}" height="8"/><rect x="1" y="1" width="98" height="8"/></svg>`,
  ].join('');
};

const galleryHtml = ({ items }: Gallery, names: Names): string => {
  const shown = items.map(({ heading, figure, caption, table }) => {
    const picture = figureSvg(figure, names('figure'));
    const said = `<figcaption dir="auto">${text(caption)}</figcaption>`;
    const headed = heading === undefined ? '' : `<h3 dir="auto">${text(heading)}</h3>`;
    return `<div class="item">${headed}<figure>${said}${picture}</figure>${table ? tableHtml(table, names) : ''}</div>`;
  });
  return `<div class="gallery">${shown.join('\n')}</div>`;
};
