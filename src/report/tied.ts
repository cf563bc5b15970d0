/**
 * A text with its amounts tied together, so that no line ends between a number, its fraction and its unit: '27 7/16 in'
 * stays whole.
 */
export const tied = (words: string): string =>
  words
    .replace(/(?<=[+−≈]) (?=[+−]?[\d½¼¾⅛⅜⅝⅞⅓⅔])/g, NO_BREAK)
    .replace(/(?<=\d) (?=\d+\/\d)/g, NO_BREAK)
    .replace(/(?<=[\d½¼¾⅛⅜⅝⅞⅓⅔]) (?=(?:in|cm|mm|%)(?![\p{L}\d]))/gu, NO_BREAK)
    .replace(/ (?=× \d)|(?<= ×) (?=\d)/g, NO_BREAK);

const NO_BREAK = '\u00a0';
