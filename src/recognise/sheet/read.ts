import { type Finding, hasErrors } from '../../finding.ts';
import { checkBody } from '../../measurements/plausible.ts';
import { measurementCalled, nearestTerm } from '../../measurements/terms.ts';
import type { LengthUnit } from '../../measurements/units.ts';
import type { View } from '../../pattern/pattern.ts';
import { edgeRoles, parseSewn } from './edge-names.ts';
import { type RawPiece, readPieces } from './read-pieces.ts';
import { givenTwice, lengthAt, positiveLengthAt, type Reading } from './reading.ts';
import { parseSource, type SheetPath } from './source.ts';
import { checkStructure } from './structure.ts';
import type { LabelSubject, PatternSheet, SheetMates, SheetSewn } from './types.ts';

/**
 * Reads a pattern sheet. Whatever is wrong is a finding with line and column, and then there is no sheet: a sheet is
 * used whole or not at all, since half of one would alter by what the user did not mean.
 */
export const readSheet = (
  text: string,
  fileName: string,
): { readonly sheet?: PatternSheet; readonly findings: readonly Finding[] } => {
  const source = parseSource(text.replace(/^\uFEFF/, ''), fileName);
  if ('code' in source) return { findings: [source] };
  if (source.value === null || source.value === undefined)
    return { sheet: emptySheet(fileName), findings: [empty(fileName)] };
  const structure = checkStructure(source);
  if (hasErrors(structure)) return { findings: structure };
  const findings: Finding[] = [];
  const sheet = sheetOf(source.value as RawSheet, { source, fileName, findings });
  return hasErrors(findings) ? { findings } : { sheet, findings };
};

/** What the schema lets through. */
interface RawSheet {
  readonly units?: 'mm' | 'cm' | 'in';
  readonly style?: string | number;
  readonly size?: string | number;
  readonly 'drafted for'?: Readonly<Record<string, string>>;
  readonly allowance?: string;
  readonly 'outline is'?: 'cutting line' | 'seam line';
  readonly pieces?: Readonly<Record<string, RawPiece>>;
  readonly mates?: readonly RawMates[];
  readonly views?: Readonly<Record<string, readonly (string | number)[]>>;
  readonly labels?: Readonly<Partial<Record<LabelSubject, readonly (string | number)[]>>>;
}
interface RawMates {
  readonly name?: string | number;
  readonly sew: readonly (string | readonly string[])[];
}

const emptySheet = (fileName: string): PatternSheet => ({
  ...{ fileName, draftedFor: {}, pieces: [], mates: [], views: [], labels: {} },
});

const empty = (file: string): Finding => ({
  code: 'sheet-empty',
  level: 'warning',
  where: { file },
  message: 'The pattern sheet says nothing.',
  try: 'Take the # away from the lines that should count, or take the file away.',
});

const sheetOf = (raw: RawSheet, reading: Reading): PatternSheet => {
  const { source, fileName } = reading;
  const given = Object.values(raw.pieces ?? {}).flatMap((piece) =>
    (piece.edges ?? []).flatMap((edge) => edge.id ?? []),
  );
  const allowance = raw.allowance === undefined ? undefined : lengthAt(['allowance'], raw.allowance, reading);
  return {
    fileName,
    ...(raw.units === undefined ? {} : { units: raw.units }),
    ...(raw.style === undefined ? {} : { style: source.written(['style']) }),
    ...(raw.size === undefined ? {} : { size: source.written(['size']) }),
    draftedFor: draftedForOf(raw['drafted for'] ?? {}, reading),
    ...(allowance === undefined ? {} : { allowance }),
    ...(raw['outline is'] === undefined ? {} : { outlineIs: raw['outline is'] }),
    pieces: readPieces(raw.pieces ?? {}, reading),
    mates: matesOf(raw.mates ?? [], given, reading),
    views: Object.entries(raw.views ?? {}).map(
      ([name, needs]): View => ({ name, needs: needs.map((_, i) => source.written(['views', name, i])) }),
    ),
    labels: Object.fromEntries(
      Object.entries(raw.labels ?? {}).map(([name, words]) => [
        name,
        words.map((_, i) => source.written(['labels', name, i])),
      ]),
    ),
  };
};

const draftedForOf = (raw: Readonly<Record<string, string>>, reading: Reading): Readonly<Record<string, number>> => {
  const measurements: Record<string, number> = {};
  const writtenIn: Record<string, LengthUnit> = {};
  const writtenAs: Record<string, string> = {};
  for (const [word, text] of Object.entries(raw)) {
    const name = measurementCalled(word);
    const where = reading.source.where(['drafted for'], word);
    if (name === undefined) {
      const near = nearestTerm(word);
      reading.findings.push({
        code: 'sheet-measurement-unknown',
        level: 'error',
        where,
        message: `'${word}' under 'drafted for' is not a body measurement known here.`,
        try:
          near === undefined
            ? `Use names such as 'waist girth', 'hip girth', 'waist to hip'.`
            : `Did you mean '${near}'?`,
      });
      continue;
    }
    if (name in measurements) {
      reading.findings.push(givenTwice(`The ${name}`, where));
      continue;
    }
    const mm = positiveLengthAt(['drafted for', word], text, reading);
    if (mm === undefined) continue;
    measurements[name] = mm.mm;
    writtenIn[name] = mm.unit;
    writtenAs[name] = word;
  }
  const where = (name: string) => reading.source.where(['drafted for', writtenAs[name] ?? name]);
  reading.findings.push(...checkBody({ measurements, writtenIn, where }));
  return measurements;
};

const matesOf = (raw: readonly RawMates[], given: readonly string[], reading: Reading): readonly SheetMates[] =>
  raw.map(({ name, sew }, i): SheetMates => {
    const side = (n: 0 | 1): readonly SheetSewn[] => {
      const texts = sew[n] ?? [];
      return typeof texts === 'string'
        ? sewnAt(['mates', i, 'sew', n], texts, given, reading)
        : texts.flatMap((text, j) => sewnAt(['mates', i, 'sew', n, j], text, given, reading));
    };
    return {
      ...(name === undefined ? {} : { name: reading.source.written(['mates', i, 'name']) }),
      one: side(0),
      other: side(1),
      line: reading.source.where(['mates', i]).line ?? 1,
    };
  });

const sewnAt = (path: SheetPath, text: string, given: readonly string[], reading: Reading): readonly SheetSewn[] => {
  const sewn = parseSewn(text, given);
  if (sewn !== undefined) return [sewn];
  reading.findings.push({
    code: 'sheet-edge-unknown',
    level: 'error',
    where: reading.source.where(path),
    message: `'${text}' does not name a piece and one of its edges.`,
    try: `Write the piece and then the edge: 'front side', 'waistband band seam', 'back waist x2'. Edges: ${edgeRoles.join(', ')}.`,
  });
  return [];
};
