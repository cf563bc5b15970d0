import type { Content, Fact, Link, Section } from './content.ts';
import { address, blockHtml, type Names, namesOfPage, rowHtml, tableFrame, text } from './html-blocks.ts';
import type { ListContent } from './list-content.ts';
import { STYLE } from './style.ts';

/**
 * A page that needs nothing but itself: no script, no font, no picture from elsewhere. It is HTML by the living
 * standard and well-formed as XML.
 */
export const htmlPage = (content: Content): string => {
  const names = namesOfPage();
  return [
    ...pageHead(content.title),
    ...(content.up ? [upHtml(content.up)] : []),
    '<main id="main">',
    ...headerHtml(content),
    contentsHtml(content.sections),
    ...content.sections.map((s) => sectionHtml(s, names)),
    ...pageTail(content.foot),
  ].join('\n');
};

/** The same for a list, piece by piece as its rows come. */
export async function* htmlList(content: ListContent): AsyncGenerator<string> {
  const names = namesOfPage();
  const { list, columns } = content;
  yield [...pageHead(content.title), '<main id="main">', ...headerHtml(content), ''].join('\n');
  yield `<section aria-labelledby="${list.id}"><h2 id="${list.id}">${text(list.heading)}</h2>\n`;
  const [before, after] = tableFrame(list.caption, columns, names);
  yield `${before}\n`;
  for await (const row of content.rows) yield `${rowHtml(row, columns, names)}\n`;
  yield `${after}\n</section>\n`;
  for (const section of content.after()) yield `${sectionHtml(section, names)}\n`;
  yield pageTail(content.foot).join('\n');
}

/** What tells a page of ours from another's file of that name. */
export const GENERATOR = '<meta name="generator" content="retrue"/>';

const pageHead = (title: string): string[] => [
  '<!DOCTYPE html>',
  '<html lang="en" xmlns="http://www.w3.org/1999/xhtml">',
  '<head>',
  '<meta charset="utf-8"/>',
  `<title>${text(title)}</title>`,
  '<meta name="viewport" content="width=device-width, initial-scale=1"/>',
  GENERATOR,
  `<style>${STYLE}</style>`,
  '</head>',
  '<body>',
  '<a class="skip" href="#main">Skip to the content</a>',
];

const pageTail = (foot: readonly string[]): string[] => [
  '</main>',
  `<footer>${foot.map((line) => `<p dir="auto">${text(line)}</p>`).join('')}</footer>`,
  '</body>',
  '</html>',
  '',
];

const upHtml = ({ href, words }: Link): string =>
  `<nav aria-label="Run"><p class="up"><a href="${address(href)}">${text(words)}</a></p></nav>`;

const headerHtml = (content: Pick<Content, 'kicker' | 'heading' | 'facts' | 'verdict' | 'lead'>): string[] => [
  '<header>',
  `<p class="kicker">${text(content.kicker)}</p>`,
  `<h1 dir="auto">${text(content.heading)}</h1>`,
  factsHtml(content.facts),
  `<p class="verdict ${content.verdict.tone}">${text(content.verdict.words)}</p>`,
  ...content.lead.map((said) => `<p class="lead" dir="auto">${text(said)}</p>`),
  '</header>',
];

const sectionHtml = (section: Section, names: Names): string =>
  [
    `<section${section.ownSheet ? ' class="sheet"' : ''} aria-labelledby="${section.id}"><h2 id="${section.id}">${text(section.heading)}</h2>`,
    ...section.blocks.map((b) => blockHtml(b, names)),
    '</section>',
  ].join('\n');

const factsHtml = (facts: readonly Fact[]): string =>
  facts.length === 0
    ? ''
    : `<dl class="facts">${facts.map(({ term, says }) => `<dt>${text(term)}</dt><dd dir="auto">${text(says)}</dd>`).join('')}</dl>`;

const contentsHtml = (sections: readonly Section[]): string =>
  sections.length < 2
    ? ''
    : `<nav aria-label="On this page"><ul>${sections.map((s) => `<li><a href="#${s.id}">${text(s.heading)}</a></li>`).join('')}</ul></nav>`;
