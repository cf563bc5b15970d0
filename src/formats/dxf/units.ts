import type { DrawingUnits, ReadOptions } from '../drawing.ts';
import type { Header } from './header.ts';
import { type Report, type Tags, whereOf } from './tags.ts';

interface Unit {
  readonly name: string;
  readonly millimetresPerUnit: number;
}

const unit = (name: string, millimetresPerUnit: number): Unit => ({ name, millimetresPerUnit });

/** `$INSUNITS` (AutoCAD DXF reference, HEADER section; from memory). Lengths: SI, and the inch of 25.4 mm of 1959. */
const INSERT_UNITS: Readonly<Record<number, Unit>> = {
  1: unit('in', 25.4),
  2: unit('ft', 304.8),
  3: unit('mi', 1_609_344),
  4: unit('mm', 1),
  5: unit('cm', 10),
  6: unit('m', 1000),
  7: unit('km', 1_000_000),
  8: unit('µin', 25.4e-6),
  9: unit('mil', 0.0254),
  10: unit('yd', 914.4),
  13: unit('µm', 0.001),
  14: unit('dm', 100),
  15: unit('dam', 10_000),
  16: unit('hm', 100_000),
};

/** A text of the drawing that states the units, and its first tag. */
export interface UnitsText {
  readonly text: string;
  readonly tag: number;
}

const UNITS_TEXT =
  /^\s*units?\s*[:=]?\s*(english|imperial|metric|inch(?:es)?|in|millimet(?:er|re)s?|mm|centimet(?:er|re)s?|cm)\s*\.?\s*$/i;

/** Whether a text states the units, as the apparel layout does (`Units: ENGLISH`). */
export const statesUnits = (text: string): boolean => UNITS_TEXT.test(text);

const unitOfText = (text: string): Unit | undefined => {
  const word = UNITS_TEXT.exec(text)?.[1]?.toLowerCase();
  if (word === undefined) return undefined;
  if (/^(?:english|imperial|in)/.test(word)) return unit('in', 25.4);
  return word.startsWith('c') ? unit('cm', 10) : unit('mm', 1);
};

/**
 * What one unit of the file is: the option, else `$INSUNITS`, else the units text. The reading of the words ENGLISH
 * (inch) and METRIC (millimetre) in ASTM D6673 files is from memory, and so it is told.
 */
export const unitsOf = (
  tags: Tags,
  header: Header,
  texts: readonly UnitsText[],
  option: ReadOptions['units'],
  report: Report,
): DrawingUnits => {
  const stated = INSERT_UNITS[header.insertUnits];
  const spoken = texts.map((t) => ({ ...t, unit: unitOfText(t.text) })).find((t) => t.unit !== undefined);
  const contradicts = (a: Unit | undefined, b: Unit | undefined): boolean =>
    a !== undefined && b !== undefined && a.millimetresPerUnit !== b.millimetresPerUnit;
  if (option !== undefined) {
    const other = contradicts(stated, option) ? stated : contradicts(spoken?.unit, option) ? spoken?.unit : undefined;
    if (other !== undefined) {
      report(
        'dxf-units-overruled',
        'warning',
        whereOf(tags, other === stated ? header.insertUnitsTag : (spoken?.tag ?? 0)),
        `The file says its unit is ${other.name}; it is read as ${option.name}, as asked.`,
        'Leave out --units to follow the file.',
      );
    }
    return { ...option, statedBy: 'option' };
  }
  if (stated !== undefined && contradicts(stated, spoken?.unit)) {
    report(
      'dxf-units-contradict',
      'error',
      whereOf(tags, spoken?.tag ?? 0),
      `The file contradicts itself: its header says ${stated.name}, its text “${spoken?.text.trim() ?? ''}” says ${spoken?.unit?.name ?? ''}.`,
      `Measure one line you know, then say which is right: --units ${stated.name} or --units ${spoken?.unit?.name ?? ''}.`,
    );
  }
  if (stated !== undefined) return { ...stated, statedBy: 'file' };
  if (spoken?.unit !== undefined) {
    report(
      'dxf-units-text',
      'note',
      whereOf(tags, spoken.tag),
      `The unit is taken from the text “${spoken.text.trim()}”: one unit is one ${spoken.unit.name === 'in' ? 'inch' : spoken.unit.name}.`,
      'If the sizes come out wrong, state the unit with --units.',
    );
    return { ...spoken.unit, statedBy: 'text' };
  }
  return { millimetresPerUnit: 1, statedBy: 'unstated', name: 'mm' };
};

/** Tells that no unit is stated, with the size the drawing would have in each. */
export const reportUnstated = (width: number, height: number, header: Header, report: Report): void => {
  const size = (factor: number, name: string): string =>
    `${round(width * factor)} × ${round(height * factor)} mm if in ${name}`;
  const hint =
    header.measurement === undefined
      ? ''
      : ` Its $MEASUREMENT hints at ${header.measurement === 1 ? 'metric' : 'inches'}.`;
  report(
    'dxf-units-unstated',
    'error',
    {},
    `The file does not say what its unit is; it is read as millimetres.${hint}`,
    `State the unit: --units mm, cm or in. All of the drawing would measure ${size(1, 'mm')}, ${size(10, 'cm')}, ${size(25.4, 'in')}.`,
  );
};

const round = (n: number): string => (n >= 100 ? n.toFixed(0) : n.toFixed(1));
