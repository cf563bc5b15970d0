import { type Usable, usableOn } from '../../alterations/usable.ts';
import { type MeasurementName, measurementNames, terms } from '../../measurements/terms.ts';
import type { LengthUnit } from '../../measurements/units.ts';
import type { PatternFile } from '../patternfile.ts';

/** A column of an empty table of fittings. */
export interface NewColumn {
  readonly heading: string;
  /** What goes into it, in one line. */
  readonly means: string;
  /** Absent for columns of text. */
  readonly measure?: MeasureColumn;
}

export interface MeasureColumn {
  readonly name: MeasurementName;
  /** Number of the term in ISO 8559-1:2017, where one is known. */
  readonly iso?: string;
  readonly unit: LengthUnit;
  /** Measurements that may be given in its place. */
  readonly orElse: readonly MeasurementName[];
  /** Pattern files whose pieces use it. */
  readonly patterns: readonly string[];
  /** Bodies that the patterns were drafted for, mm, by pattern file. */
  readonly draftedFor: Readonly<Record<string, number>>;
}

/** The columns of a table of fittings for these patterns: whose it is, then what their pieces can use. */
export const columnsFor = (files: readonly PatternFile[], unit: LengthUnit): readonly NewColumn[] => {
  const sizes = new Set(files.map((f) => f.pattern.size.trim()).filter((s) => s !== ''));
  return [
    { heading: 'fitting', means: 'a name of its own for each order; the files written for it go by that name' },
    { heading: 'wearer', means: 'who it is for, where the order has another name' },
    { heading: 'note', means: 'anything to be kept with the order' },
    ...(files.length > 1
      ? [{ heading: 'pattern', means: `which pattern it is for: ${files.map((f) => f.fileName).join(', ')}` }]
      : []),
    ...(sizes.size > 1 ? [{ heading: 'size', means: `which size the pattern has: ${[...sizes].join(', ')}` }] : []),
    ...measureColumns(files, unit),
    {
      heading: 'checked',
      means: 'yes, when odd values were measured again and stand; or the names of those that stand',
    },
  ];
};

const measureColumns = (files: readonly PatternFile[], unit: LengthUnit): readonly NewColumn[] => {
  const usable = files.flatMap((file) => usableOn(file.pattern).map((u) => ({ ...u, file })));
  return measurementNames
    .map((name) => ({ name, own: usable.filter((u) => u.measurement === name) }))
    .filter(({ own }) => own.length > 0)
    .map(({ name, own }) => measureColumn(name, own, unit));
};

const measureColumn = (
  name: MeasurementName,
  own: readonly (Usable & { readonly file: PatternFile })[],
  unit: LengthUnit,
): NewColumn => {
  const { iso, taken } = terms[name];
  const drafted = own.flatMap(({ file }) => {
    const mm = file.pattern.draftedFor[name];
    return mm === undefined ? [] : [[file.fileName, mm] as const];
  });
  return {
    heading: `${name} (${unit})`,
    means: taken,
    measure: {
      name,
      ...(iso === undefined ? {} : { iso }),
      unit,
      orElse: [...new Set(own.flatMap((u) => u.orElse))],
      patterns: own.map(({ file }) => file.fileName),
      draftedFor: Object.fromEntries(drafted),
    },
  };
};
