import type { CodeMeaning, Finding, Where } from '../../finding.ts';

/** Every finding of the SVG format, with how much it matters. */
export const svgCodes: Record<string, CodeMeaning> = {
  'svg-empty': { level: 'error', means: 'The file has no content.' },
  'svg-not-svg': { level: 'error', means: 'The file is something other than an SVG drawing.' },
  'svg-unpack-failed': { level: 'error', means: 'A compressed SVG could not be unpacked.' },
  'svg-compressed': {
    level: 'note',
    means: 'The file was compressed; it is read unpacked and written compressed again.',
  },
  'svg-encoding-unknown': {
    level: 'warning',
    means: 'The stated character encoding is unknown or does not fit the bytes.',
  },
  'svg-not-well-formed': { level: 'error', means: 'The XML has a mistake, so nothing in the file can be relied on.' },
  'svg-truncated': { level: 'error', means: 'The file stops before its end.' },
  'svg-junk-after-end': {
    level: 'warning',
    means: 'There is something after the end of the drawing; it is left out of account.',
  },
  'svg-entity-bomb': { level: 'error', means: 'Text replacements in the head of the file grow without bound.' },
  'svg-entity-external': { level: 'warning', means: 'A text replacement lies in another file, which is not fetched.' },
  'svg-entity-markup': { level: 'error', means: 'A text replacement contains drawing elements, which are not read.' },
  'svg-namespace-missing': { level: 'note', means: 'The file does not say that it is SVG; it is read as such.' },
  'svg-units-unstated': { level: 'error', means: 'The file has no physical size.' },
  'svg-units-px': { level: 'warning', means: 'The size is stated in px only, which programs take differently.' },
  'svg-units-contradict': { level: 'warning', means: 'The unit given for the run differs from what the file states.' },
  'svg-aspect': { level: 'warning', means: 'Stated size and coordinate range have different proportions.' },
  'svg-viewbox': { level: 'error', means: 'The coordinate range (viewBox) cannot be read or is empty.' },
  'svg-length': { level: 'error', means: 'A length cannot be read.' },
  'svg-number-range': { level: 'error', means: 'A number is too large to be a measure.' },
  'svg-path-broken': { level: 'error', means: 'Path data has a mistake; the line is read up to it.' },
  'svg-points-broken': { level: 'error', means: 'A list of points has a mistake; the line is read up to it.' },
  'svg-transform-unreadable': { level: 'error', means: 'A transform cannot be read; what it applies to is left out.' },
  'svg-transform-singular': { level: 'error', means: 'A transform squeezes its content to nothing; it is left out.' },
  'svg-transform-origin': { level: 'error', means: 'A transform turns about a place that is not stated as a length.' },
  'svg-style-unreadable': { level: 'note', means: 'Part of the style sheet is of a kind that is not read.' },
  'svg-geometry-in-style': { level: 'error', means: 'A style sets a place or size of a shape, which is not read.' },
  'svg-hidden': { level: 'note', means: 'Hidden elements are not taken as lines.' },
  'svg-clipped': { level: 'note', means: 'A line is clipped or masked; it is read whole.' },
  'svg-picture': { level: 'warning', means: 'Pictures and foreign content hold no lines that can be altered.' },
  'svg-element-unknown': { level: 'note', means: 'An element is no SVG shape, and is left as it is.' },
  'svg-use-missing': { level: 'error', means: 'A placed shape does not exist in the file.' },
  'svg-use-external': { level: 'error', means: 'A placed shape lies in another file, which is not fetched.' },
  'svg-use-cycle': { level: 'error', means: 'A placed shape contains itself.' },
  'svg-use-bomb': { level: 'error', means: 'Placed shapes multiply without bound.' },
  'svg-text-on-path': { level: 'warning', means: 'A text runs along a line; it goes where that line goes.' },
  'svg-no-lines': { level: 'warning', means: 'The drawing has no lines.' },
  'svg-more-decimals': { level: 'note', means: 'Changed numbers got more decimals than the file had.' },
  'svg-shape-became-path': { level: 'note', means: 'A basic shape could not stay what it was, and became a path.' },
  'svg-shared-shape': { level: 'error', means: 'A shape is placed several times, and the changes asked for differ.' },
  'svg-shared-shape-followed': {
    level: 'note',
    means: 'A shape placed several times was changed once; all its placements follow.',
  },
  'svg-kept-with-others': {
    level: 'warning',
    means: 'What no longer holds shares its element with what does, and was left.',
  },
  'svg-page-grown': { level: 'note', means: 'The page was made larger for pieces that grew past its edge.' },
  'svg-off-page': { level: 'warning', means: 'Altered lines lie off the page, where they are not shown.' },
  'svg-text-immovable': { level: 'error', means: 'A text could not be moved or turned in its file.' },
  'svg-like-missing': {
    level: 'error',
    means: 'Something new could not be placed, for the line it goes with cannot be found.',
  },
};

/** A finding of this format; its level is the table's. */
export const report = (code: string, where: Where, message: string, tryThis: string): Finding => ({
  code,
  level: svgCodes[code]?.level ?? 'error',
  where,
  message,
  try: tryThis,
});
