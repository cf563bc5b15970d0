import type { Figure, LineMark, Mark } from './figure.ts';
import { looksCss } from './looks.ts';
import { escaped, pathData, written } from './path-data.ts';

/** Decimals of a coordinate: 0.001 mm printed is a two-hundredth of a millimetre of a piece drawn at a fifth. */
const DECIMALS = 3;

/** What a page that holds figures puts in its style sheet, once. */
export const FIGURE_STYLE = `${looksCss()}.figure path{stroke-linejoin:round}`;

/**
 * A figure as an SVG element in its printed size. It is one picture to those who hear the page: title and description
 * are read, the parts are not. The id must be the page's only one of that name.
 */
export const figureSvg = (figure: Figure, id: string): string => {
  const [w, h] = [written(figure.width, DECIMALS), written(figure.height, DECIMALS)];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" class="figure" role="img" aria-labelledby="${id}-title ${id}-desc"`,
    ` width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}">`,
    `<title id="${id}-title">${escaped(figure.title)}</title><desc id="${id}-desc">${escaped(figure.describes)}</desc>`,
    '<g aria-hidden="true">',
    ...figure.marks.map(markSvg),
    '</g></svg>',
  ].join('');
};

const markSvg = (mark: Mark): string => {
  if (mark.kind === 'line') return lineSvg(mark);
  if (mark.kind === 'area') {
    const data = mark.rings.map((ring) => pathData(ring, true, DECIMALS)).join('');
    return `<path class="f-${mark.look}" fill-rule="evenodd" d="${data}"/>`;
  }
  const anchor = mark.anchor === 'start' ? '' : ` text-anchor="${mark.anchor}"`;
  return `<text class="f-${mark.look}" x="${written(mark.at.x)}" y="${written(mark.at.y)}"${anchor}>${escaped(mark.words)}</text>`;
};

const lineSvg = ({ look, segments, closed, of }: LineMark): string => {
  if (segments.length === 0) return '';
  const path = `<path class="f-${look}" d="${pathData(segments, closed, DECIMALS)}"`;
  if (!of) return `${path}/>`;
  const names = `data-piece="${escaped(of.piece)}" data-edge="${escaped(of.edge)}" data-when="${of.when}"`;
  return `${path} ${names}><title>${escaped(of.says)}</title></path>`;
};
