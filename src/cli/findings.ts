import type { Finding, FindingLevel, Where } from '../finding.ts';
import type { Io } from './io.ts';
import { printable } from './printable.ts';

const COLOURS: Readonly<Record<FindingLevel, string>> = { error: '31', warning: '33', note: '36' };

/** Prints findings on stderr. What has been told already, but for the fitting, is not told again. */
export const findingPrinter = (io: Io): ((findings: readonly Finding[]) => void) => {
  const told = new Set<string>();
  return (findings) => {
    for (const finding of findings) {
      const key = JSON.stringify([finding.code, { ...finding.where, fitting: undefined }, finding.message]);
      if (finding.level !== 'error' && told.has(key)) continue;
      told.add(key);
      io.err(findingText(finding, io.colour));
    }
  };
};

/** Level, code and place on the first line; then what is the matter, and what to try. */
export const findingText = (finding: Finding, colour: boolean): string => {
  const said = (text: string): string => printable(text);
  const level = colour ? `\u001b[${COLOURS[finding.level]}m${finding.level}\u001b[0m` : finding.level;
  const place = placeText(finding.where);
  const excerpt = finding.where.excerpt ? `  | ${said(shortened(finding.where.excerpt))}\n` : '';
  const head = `${level} ${finding.code}${place ? `: ${said(place)}` : ''}`;
  return `${head}\n${excerpt}  ${said(finding.message)}\n  Try: ${said(finding.try)}\n`;
};

/** So much of a place is enough to find it by. */
const MOST_SHOWN = 160;
const shortened = (excerpt: string): string => {
  const text = excerpt.replace(/\s+/g, ' ');
  return text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN)}…` : text;
};

/** `skirt.dxf:120:4, skirt-front, waist edge`; in a table `fittings.csv, cell B7, column “waist girth (in)”`. */
const placeText = (where: Where): string => {
  const line = where.address === undefined ? where.line : undefined;
  const position = [where.file, line, where.column].filter((part) => part !== undefined).join(':');
  return [
    position,
    where.offset === undefined ? '' : `byte ${where.offset}`,
    where.row === undefined || where.address !== undefined ? '' : `row ${where.row}`,
    where.address === undefined ? '' : `cell ${where.address}`,
    where.cell === undefined ? '' : `column “${where.cell}”`,
    where.fitting === undefined ? '' : `fitting “${where.fitting}”`,
    where.piece ?? '',
    where.edge === undefined ? '' : `${where.edge} edge`,
    where.entity ?? '',
    where.alteration ?? '',
  ]
    .filter((part) => part !== '')
    .join(', ');
};
