import { svg } from '../../src/formats/svg/index.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { Recognised } from '../../src/recognise/index.ts';
import { recognise } from '../../src/recognise/index.ts';

/** One piece drawn by hand: y up, mm. */
export interface HandDrawn {
  /** Path data of the outline, y up. */
  readonly outline: string;
  /** Further lines, y up: grain, darts. */
  readonly lines?: readonly string[];
  readonly grain?: string;
  /** Words, and where they begin. */
  readonly texts?: readonly (readonly [words: string, x: number, y: number])[];
}

/** A drawing of the pieces side by side, each turned by an angle (degrees), in one SVG without layers. */
export const readByHand = (pieces: readonly HandDrawn[], angle = 0, allowance = ''): Recognised => {
  const groups = pieces.map(({ outline, lines = [], grain, texts = [] }, i) => {
    const shafts = grain ? [`<path d="${grain}" marker-start="url(#a)" marker-end="url(#a)"/>`] : [];
    const words = texts.map(([t, x, y]) => `<text x="${x}" y="${-y}" font-size="7">${t}</text>`);
    const paths = [outline, ...lines].map((d) => `<path d="${d}"/>`);
    return `<g transform="translate(${i * 2000} 0) rotate(${angle})"><g transform="scale(1 -1)">${[...paths, ...shafts].join('')}</g>${words.join('')}</g>`;
  });
  const note = allowance === '' ? '' : `<text x="0" y="3000" font-size="8">${allowance}</text>`;
  const text = `<svg xmlns="http://www.w3.org/2000/svg" width="9000mm" height="6000mm" viewBox="-3000 -3000 9000 6000" fill="none" stroke="black">${groups.join('')}${note}</svg>`;
  const { drawing, findings } = svg.read(new TextEncoder().encode(text), { fileName: 'by-hand.svg' });
  if (!drawing) throw new Error(findings.map((f) => f.message).join(' '));
  return recognise(drawing);
};

/** Roles round the piece, anticlockwise or clockwise, from the role named. */
export const ring = (piece: Piece | undefined, from: string): string => {
  const roles = piece?.edges.map((e) => e.role as string) ?? [];
  const at = roles.indexOf(from);
  const round = [...roles.slice(at), ...roles.slice(0, at)];
  const back = [from, ...round.slice(1).reverse()];
  return [round.join(', '), back.join(', ')].sort()[0] as string;
};

export const partsOf = (pattern: Pattern): string[] => pattern.pieces.map((p) => p.part);
