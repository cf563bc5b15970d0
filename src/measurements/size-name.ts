import { plainWords } from './words.ts';

/** What may stand before a size, by language; without accents. */
const BEFORE = /^(?:size|sz|grosse|gr|taille|talla|taglia|tamanho|maat)(?:\s+(?=\S)|(?=\d))/;

/**
 * A size as it is compared: `Size 14`, `14.0` (what a spreadsheet makes of 14) and `014` are 14; a size 0 and a size 00
 * are two.
 */
export const sizeKey = (size: string): string =>
  plainWords(size.trim().replace(/(\d)[.,]0+$/, '$1'))
    .replace(BEFORE, '')
    .replace(/^0+(?=[1-9])/, '');
