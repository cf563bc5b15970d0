import { list } from '../list.ts';
import type { MeasurementName } from '../terms.ts';
import { formatLength, type LengthUnit } from '../units.ts';
import { asWritten, type Body, type Doubt, inCell, measuredOf, OR_CHECKED } from './body.ts';
import { isInside, likelyMeant, rangeDoubts } from './range.ts';
import { otherUnits } from './readings.ts';
import { changed, strainOf } from './strain.ts';

/** Of many values the first few tell enough. */
const MOST_NAMED = 4;
const UNIT_WORDS = { in: 'inches', cm: 'centimetres', mm: 'millimetres' } as const satisfies Record<LengthUnit, string>;
const UNITS = ['in', 'cm', 'mm'] as const;

type Values = readonly (readonly [MeasurementName, number])[];

/**
 * A row that was written in another unit than its headings say: as it stands no adult's, and read in the other unit a body
 * that goes together. That is one mistake and not several, so it is asked about before any of its cells.
 */
export const wholeRowDoubts = (body: Body): readonly Doubt[] =>
  UNITS.flatMap((unit) => {
    const written = measuredOf(body).filter(([name]) => body.writtenIn?.[name] === unit);
    const outside = written.filter(([name, mm]) => !isInside(name, mm));
    if (written.length < 2 || outside.length === 0) return [];
    const read = UNITS.filter((other) => other !== unit)
      .map((meant) => ({ meant, values: readAs(written, unit, meant) }))
      .find(({ values }) => values.length === written.length && goesTogether(body, values, outside));
    return read ? [inAnotherUnit(body, read.meant, outside, read.values)] : [];
  });

/** All of the values in another unit, as far as they would be an adult's then. */
const readAs = (written: Values, unit: LengthUnit, meant: LengthUnit): Values =>
  written.flatMap(([name, mm]) => {
    const reading = otherUnits(mm, unit).find((r) => r.text === formatLength(r.mm, meant));
    return reading && isInside(name, reading.mm) ? [[name, reading.mm] as const] : [];
  });

/** Whether the row so read is believed at least as easily as with nothing but its impossible cells put right one by one. */
const goesTogether = (body: Body, values: Values, outside: Values): boolean => {
  const given = new Map(measuredOf(body));
  if (outside.length === values.length) return true;
  const mended = outside.flatMap(([name, mm]) => {
    const [best] = likelyMeant(name, mm, body);
    return best ? [[name, best.mm] as const] : [];
  });
  if (mended.length < outside.length) return true;
  return strainOf(changed(given, values)) <= strainOf(changed(given, mended));
};

const inAnotherUnit = (body: Body, meant: LengthUnit, outside: Values, values: Values): Doubt => {
  const named = outside.slice(0, MOST_NAMED);
  const standing = named.map(([name, mm]) => `${name} ${asWritten(body, name, mm)}${inCell(body, name)}`);
  const right = values.slice(0, MOST_NAMED).map(([name, mm]) => `${name} ${formatLength(mm, meant)}`);
  const more = values.length > MOST_NAMED ? ', and so on' : '';
  const alone = rangeDoubts(body).some(({ finding }) => finding.level === 'error');
  return {
    about: values.map(([name]) => name),
    finding: {
      code: 'measure-row-unit',
      // Two that no adult measures, and both mended by one thing, are as certain as one that nobody does.
      level: alone || outside.length > 1 ? 'error' : 'warning',
      where: body.where(outside[0]?.[0] ?? ''),
      message: `No adult measures so: ${list(standing)}. In ${UNIT_WORDS[meant]} the whole row goes together: ${right.join(', ')}${more}.`,
      try: `If the row was written in ${UNIT_WORDS[meant]}, write “${meant}” behind each number of it. ${OR_CHECKED}`,
    },
  };
};
