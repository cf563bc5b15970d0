/** Colours that are put around words on a terminal (ECMA-48, SGR): the only sequences that go out. */
const COLOUR = new RegExp(`(${String.fromCharCode(0x1b)}\\[(?:0|31|33|36)m)`);
/** All controls (ISO 6429) but line ends and tabs, and what turns the direction of a line (Unicode, UAX #9). */
const CONTROLS = /(?!\r?\n|\t)[\p{Cc}\u202a-\u202e\u2066-\u2069]/gu;

/**
 * A text as it may go to a terminal. Names and cells of a file may hold characters that a terminal obeys: of a control its
 * picture is shown (U+2400 and following), or that something stood there.
 *
 * @param coloured whether colours of the program's own may stand in it
 */
export const printable = (text: string, coloured = false): string =>
  coloured
    ? text
        .split(COLOUR)
        .map((part, i) => (i % 2 === 1 ? part : shown(part)))
        .join('')
    : shown(text);

const shown = (text: string): string => text.replace(CONTROLS, pictureOf);

const pictureOf = (control: string): string => {
  const code = control.charCodeAt(0);
  if (code < 0x20) return String.fromCharCode(0x2400 + code);
  return code === 0x7f ? '\u2421' : '\ufffd';
};
