/** How much a finding matters: an error refuses what it touches, a warning is to be read, a note is for the record. */
export type FindingLevel = 'error' | 'warning' | 'note';

/** Where a finding is, as far as it is known. Every field is for a person to look up. */
export interface Where {
  /** File name as the user gave it. */
  readonly file?: string;
  /** 1-based line and column in a text file. */
  readonly line?: number;
  readonly column?: number;
  /** 0-based byte offset, for binary files. */
  readonly offset?: number;
  /** The text at that place, shortened. */
  readonly excerpt?: string;
  readonly piece?: string;
  readonly edge?: string;
  /** Entity or element, as the file names it. */
  readonly entity?: string;
  /** Row (1-based, as a spreadsheet counts) and column heading of a table. */
  readonly row?: number;
  readonly cell?: string;
  /** The cell as a spreadsheet calls it: `B7`. */
  readonly address?: string;
  readonly fitting?: string;
  readonly alteration?: string;
}

/** Something the user should know. `code` is never reused for another meaning; each folder lists its codes in `codes.ts`. */
export interface Finding {
  readonly code: string;
  readonly level: FindingLevel;
  readonly where: Where;
  /** What is the matter, in one or two sentences a dressmaker understands. */
  readonly message: string;
  /** What to try. */
  readonly try: string;
}

/** What a code means, for the generated list of findings. Exported by each folder as a table `code → CodeMeaning`. */
export interface CodeMeaning {
  readonly level: FindingLevel;
  readonly means: string;
}

/** Whether what came back is the finding that tells why there is nothing else. */
export const isFinding = (value: unknown): value is Finding =>
  typeof value === 'object' && value !== null && 'code' in value && 'try' in value;

export const hasErrors = (findings: readonly Finding[]): boolean => findings.some((f) => f.level === 'error');

/** Thrown when the program itself is at fault; never for bad input. */
export class Bug extends Error {
  override readonly name = 'Bug';
}
