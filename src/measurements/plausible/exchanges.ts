import { list } from '../list.ts';
import { type MeasurementName, terms } from '../terms.ts';
import { asWritten, type Body, type Doubt, inCell, measuredOf, OR_CHECKED } from './body.ts';
import { orderDoubts } from './order.ts';
import { proportionDoubts } from './proportions.ts';
import { isInside, rangeDoubts } from './range.ts';
import { likelyFirst, otherReadings } from './readings.ts';
import { relatedDoubts } from './related.ts';
import { changed, type Given, isTied, strainOf, without } from './strain.ts';

/**
 * Girths have to go together so much better the other way round before an exchange is asked about: e³, twenty times, as
 * likely; ours. The tests hold it against the people who were measured.
 */
const BETTER = 6;
/** So much rarer it is, as a strain, that three are in the wrong cells and not two; ours. */
const THREE = 3;
/** And all within so much of the best are told: it is not e times as likely as they. */
const AS_GOOD = 2;

/** The value of one measurement put into the cell of another. */
interface Move {
  readonly to: MeasurementName;
  readonly from: MeasurementName;
}
type Rearrangement = readonly Move[];

/**
 * Girths of which each is believable, but in the cell of another. A bust and a hip that differ little cannot be told
 * from those of a body built the other way; the other rows of a table and the pattern tell more of them.
 */
export const exchangeDoubts = (body: Body): readonly Doubt[] => {
  const given: Given = new Map(measuredOf(body));
  const strain = oddnessOf(given);
  if (strain < BETTER) return [];
  const ranked = rearrangements(given)
    .map((way) => ({ way, strain: oddnessOf(changed(given, valuesOf(way, given))) + (way.length > 2 ? THREE : 0) }))
    .filter((r) => strain - r.strain >= BETTER)
    .toSorted((a, b) => a.strain - b.strain);
  const best = ranked.find(({ way }) => isMended(body, way));
  if (best === undefined) return [];
  const misread = oneMisread(given, body);
  if (best.strain - misread.strain >= AS_GOOD) return [];
  const others = ranked.filter((r) => r !== best && r.strain - best.strain < AS_GOOD && isMended(body, r.way));
  const ways = [best, ...others.slice(0, 1)].map(({ way }) => way);
  const orElse = misread.strain - best.strain < AS_GOOD ? `; or was ${misread.said} meant?` : '.';
  return [exchanged(ways, orElse, body)];
};

/** With one value read otherwise, in another unit or with its digits in order, all may go together as well or better. */
const oneMisread = (given: Given, body: Body): { readonly strain: number; readonly said: string } => {
  const readings = [...given].flatMap(([name, mm]) => {
    const outside = outsideRange(without(given, name)) * BETTER;
    return likelyFirst(name, otherReadings(mm, body.writtenIn?.[name]), body)
      .filter((r) => isInside(name, r.mm))
      .map(({ strain, text }) => ({ strain: strain + outside, said: `a ${name} of ${text}` }));
  });
  const none = { strain: Number.POSITIVE_INFINITY, said: '' };
  return readings.reduce((best, r) => (r.strain < best.strain ? r : best), none);
};

/** The strain of a body, and what is outside the range of adults besides: that alone is reason to ask. */
const oddnessOf = (given: Given): number => strainOf(given) + outsideRange(given) * BETTER;

const outsideRange = (given: Given): number => [...given].filter(([name, mm]) => !isInside(name, mm)).length;

/**
 * Two girths exchanged, or any two measurements of which one is outside its range; or bust, waist and hip all moved on by
 * a column.
 */
const rearrangements = (given: Given): readonly Rearrangement[] => {
  const all = [...given.keys()];
  const isGirth = (name: MeasurementName) => terms[name].kind === 'girth' && isTied(given, name);
  const isOutside = (name: MeasurementName) => !isInside(name, given.get(name) ?? 0);
  const pairs = all.flatMap((a, i) =>
    all
      .slice(i + 1)
      .filter((b) => (isGirth(a) && isGirth(b)) || isOutside(a) || isOutside(b))
      .map((b) => turned([a, b])),
  );
  return ROUND.every((name) => given.has(name)) ? [...pairs, turned(ROUND), turned(ROUND.toReversed())] : pairs;
};
const ROUND = ['bust girth', 'waist girth', 'hip girth'] as const satisfies readonly MeasurementName[];

/** Each gets the value of the next, the last that of the first. */
const turned = (names: readonly MeasurementName[]): Rearrangement =>
  names.map((to, i) => ({ to, from: names[(i + 1) % names.length] ?? to }));

const valuesOf = (way: Rearrangement, given: Given) => way.map(({ to, from }) => [to, given.get(from) ?? 0] as const);

/** Once exchanged, a girth is within three spreads of what the others lead to expect; squared. */
const NEAR = 9;

/** Whether nothing is odd any more about the measurements that were exchanged. */
const isMended = (body: Body, way: Rearrangement): boolean => {
  const given: Given = new Map(measuredOf(body));
  const values = valuesOf(way, given);
  const right = changed(given, values);
  const strain = strainOf(right);
  if (way.some(({ to }) => strain - strainOf(without(right, to)) > NEAR)) return false;
  const mended: Body = { ...body, measurements: { ...body.measurements, ...Object.fromEntries(values) } };
  const doubts = RULES.flatMap((rule) => rule(mended, new Set()));
  return !doubts.some(({ about }) => way.some(({ to }) => about.includes(to)));
};
const RULES = [rangeDoubts, orderDoubts, proportionDoubts, relatedDoubts];

const exchanged = (ways: readonly Rearrangement[], orElse: string, body: Body): Doubt => {
  const names = measuredOf(body).flatMap(([name]) => (ways.flat().some(({ to }) => to === name) ? [name] : []));
  const value = (name: MeasurementName) => asWritten(body, name, body.measurements[name] ?? 0);
  const standing = names.map((name) => `${name} ${value(name)}${inCell(body, name)}`);
  const right = ways.map((way) => list(way.map(({ to, from }) => `${to} ${value(from)}`)));
  // Refused as it would be for the values alone.
  const refused = rangeDoubts(body).filter(
    ({ finding, about }) => finding.level === 'error' && names.some((name) => about.includes(name)),
  );
  const impossible = refused.find(({ finding }) => finding.code === 'measure-impossible');
  return {
    about: names,
    finding: {
      code: impossible?.finding.code ?? 'measure-exchanged',
      level: refused.length > 0 ? 'error' : 'warning',
      where: body.where(names[0] ?? ''),
      message: `These hardly belong to one body: ${list(standing)}. In each other's place they do.`,
      try: `If they were exchanged, put them right: ${right.join('; or ')}${orElse}${impossible === undefined ? ` ${OR_CHECKED}` : ''}`,
    },
  };
};
