import { CHILDREN_CAUTION } from '../../measurements/children.ts';
import type { LengthUnit } from '../../measurements/units.ts';
import { measured, table, wrapped } from '../words.ts';
import type { NewColumn } from './columns.ts';

/* How the columns of a table of fittings are to be measured and filled in. */

/** What holds for all measurements. Common practice of fitters; ISO 8559-1 has the wearer stand upright and at ease too. */
export const GENERAL_NOTES: readonly string[] = [
  'Measure the body itself, over what will be worn under the garment. Add no ease: the pattern has it.',
  'The wearer stands upright and at ease, feet together, arms hanging, and breathes quietly.',
  'Tie a narrow tape round the waist first and let it settle. Lengths from and to the waist start at it.',
  'The tape lies level and close, and presses nowhere. Arm lengths are taken with the elbow a little bent.',
  'Measure twice. Where left and right differ, write the larger and say so in the note.',
  'Leave blank what was not measured: nothing is altered for it.',
];

const HOW_TO_WRITE: Readonly<Record<LengthUnit, string>> = {
  in: 'Write inches as 27 1/2, 27½ or 27.5. Another unit may stand behind the number: 70.5 cm.',
  cm: 'Write centimetres as 70.5 or 70,5. Another unit may stand behind the number: 27 1/2 in.',
  mm: 'Write millimetres as 705. Another unit may stand behind the number: 70.5 cm.',
};

export const notesFor = (unit: LengthUnit): readonly string[] => [
  ...GENERAL_NOTES,
  HOW_TO_WRITE[unit],
  'A column headed with an alteration asks for a change directly: full abdomen (mm). retrue catalogue lists them.',
  'retrue fittings check FILE finds slips of the pen before anything is cut.',
  CHILDREN_CAUTION,
];

/** A row of the notes: column, number and term in the standard (the number from a secondary source), where it is taken, what would do instead, what it was drafted for. */
export const noteHead = ['column', 'ISO 8559-1', 'where it is taken', 'instead of it', 'drafted for'] as const;

export const noteRow = ({ heading, means, measure }: NewColumn): readonly string[] => [
  heading,
  measure?.iso === undefined ? '' : `${measure.iso} ${measure.name}`,
  means,
  measure?.orElse.join(' or ') ?? '',
  measure === undefined ? '' : draftedText(measure.draftedFor, measure.unit),
];

const draftedText = (draftedFor: Readonly<Record<string, number>>, unit: LengthUnit): string => {
  const bodies = Object.entries(draftedFor);
  const values = new Set(bodies.map(([, mm]) => measured(mm, unit)));
  if (values.size < 2) return [...values].join('');
  return bodies.map(([file, mm]) => `${file}: ${measured(mm, unit)}`).join('; ');
};

/** The notes as a text for people. */
export const notesText = (columns: readonly NewColumn[], unit: LengthUnit): string => {
  const rows = [noteHead, ...columns.map(noteRow)];
  const used = rows.map((row) => row.filter((_, c) => c < 3 || rows.some((r, i) => i > 0 && r[c] !== '')));
  const head = noteHead.filter((_, c) => c < 3 || rows.some((r, i) => i > 0 && r[c] !== ''));
  return [
    'How to measure',
    '',
    ...notesFor(unit).flatMap((note) => wrapped(note, 98).map((line, i) => `${i === 0 ? '- ' : '  '}${line}`)),
    '',
    ...table([head, ...used.slice(1)]),
    '',
  ].join('\n');
};
