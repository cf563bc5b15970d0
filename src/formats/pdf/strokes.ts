import { Bug } from '../../finding.ts';
import type { LineType, Stroke } from '../sheet.ts';
import { numeral } from './content.ts';

/** On and off along the line, mm. With round ends a very short dash is a dot; one of no length at all MuPDF leaves out. */
const DASHES: Readonly<Record<LineType, readonly number[]>> = {
  solid: [],
  dashed: [6, 3],
  'dash-dot': [10, 3, 0.1, 3],
  dotted: [0.1, 2],
};

/** Operators that set width, ends, dashes and colour of line and letters. In mm. */
export const strokeState = (stroke: Stroke): string =>
  [
    `${numeral(stroke.width)} w 1 J 1 j`,
    `[${DASHES[stroke.line].join(' ')}] 0 d`,
    `${colour(stroke.colour, 'G', 'RG')} ${colour(stroke.colour, 'g', 'rg')}`,
  ].join('\n');

/** Lines that stay whole whatever the purpose's line type: notches, crosses and dots. */
export const SOLID = '[] 0 d';

const channels = (hex: string): [number, number, number] => {
  const found = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (!found) throw new Bug(`A colour of a machine is no #rrggbb: ${hex}`);
  const [r, g, b] = found.slice(1).map((c) => Number.parseInt(c, 16) / 255);
  return [r as number, g as number, b as number];
};

/** Greys are stated as grey, so that a printer takes black ink for them and mixes none. */
export const colour = (hex: string, grey: string, rgb: string): string => {
  const [r, g, b] = channels(hex);
  return r === g && g === b ? `${numeral(r)} ${grey}` : `${[r, g, b].map((c) => numeral(c)).join(' ')} ${rgb}`;
};

/** Contrast that graphics need to be made out: WCAG 2.1, success criterion 1.4.11. */
const LEAST_CONTRAST = 3;

/** Whether the colour is hard to see on white paper, printed in grey too: by WCAG 2.1's contrast of luminance. */
export const isFaint = (hex: string): boolean => {
  const [r, g, b] = channels(hex).map((c) => (c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  const luminance = 0.2126 * (r as number) + 0.7152 * (g as number) + 0.0722 * (b as number);
  return 1.05 / (luminance + 0.05) < LEAST_CONTRAST;
};
