import type { Finding } from '../../finding.ts';
import { type Machine, PURPOSES } from '../sheet.ts';
import type { ToolStroke } from '../tool-strokes.ts';
import { report } from './codes.ts';
import type { Lettering } from './lettering.ts';
import { isFaint } from './strokes.ts';

/** Colours that will hardly show in print. What a colour means to a machine that cuts is that machine's affair. */
export const faint = (strokes: readonly ToolStroke[], machine: Machine): Finding[] => {
  if (machine.kind !== 'printer') return [];
  return PURPOSES.flatMap((purpose) => {
    const look = strokes.find((s) => s.purpose === purpose)?.look;
    if (!look || !isFaint(look.colour)) return [];
    return report(
      'pdf-faint',
      {},
      `The lines for ${purpose} are drawn in ${look.colour}, which is hard to see on white paper.`,
      "Give them a darker colour in the machine's row.",
    );
  });
};

/** Each text with letters that no font has, once. */
export const missingLetters = (strokes: readonly ToolStroke[], lettering: Lettering): Finding[] => {
  const told = new Set<string>();
  return strokes.flatMap((s) => {
    if (s.kind !== 'text' || told.has(s.text.text)) return [];
    told.add(s.text.text);
    const letters = lettering.set(s.text.text).missing;
    if (letters.length === 0) return [];
    return report(
      'pdf-letters-missing',
      { excerpt: s.text.text, ...(s.piece === undefined ? {} : { piece: s.piece }) },
      `No font at hand has ${letters.map(named).join(', ')}; a box stands in ${letters.length === 1 ? 'its' : 'their'} place.`,
      'Write the text in Latin, Greek, Cyrillic, Hebrew, Arabic or Japanese letters.',
    );
  });
};

/** '縫 (U+7E2B)'. */
const named = (letter: string): string => {
  const code = `U+${(letter.codePointAt(0) as number).toString(16).toUpperCase().padStart(4, '0')}`;
  return /\p{C}/u.test(letter) ? code : `${letter} (${code})`;
};
