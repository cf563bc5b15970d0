import type { Finding } from '../finding.ts';
import { Bug } from '../finding.ts';
import type { Drawing, Format, WriteResult } from '../formats/drawing.ts';
import type { Pattern } from '../pattern/pattern.ts';
import { sha256 } from './digest.ts';
import type { LedgerOutput } from './ledger.ts';
import { recorded } from './ledger.ts';
import type { PatternFile } from './patternfile.ts';
import { differing, readBack, sizeDifference } from './readback.ts';
import { changesBetween } from './redraw.ts';

export interface OutputFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Files made of one altered pattern. */
export interface Made {
  readonly files: readonly OutputFile[];
  readonly records: readonly LedgerOutput[];
  /** The pattern as the written file has it. */
  readonly measured: Pattern;
  readonly findings: readonly Finding[];
}

/**
 * Writes the altered pattern in its own format by patching the source, reads it again, and makes the other formats
 * from what was read, so that every file says what the patched one says.
 */
export const makeFiles = (file: PatternFile, formats: readonly Format[], altered: Pattern): Made => {
  const changes = changesBetween(file.drawing, file.pattern, altered);
  const patched = file.format.patch(file.drawing, changes);
  const written = again(file.format, patched.bytes, file.fileName, file.units);
  const back = readBack(altered, file.drawing, written);
  const files: OutputFile[] = [];
  const records: LedgerOutput[] = [];
  const findings = [...patched.findings, ...back.findings];
  for (const format of formats) {
    const own = format.name === file.format.name;
    const name = own ? file.fileName : withEnding(file.fileName, format);
    const result = own ? patched : format.write(written);
    const deviation = own ? back.deviation : sizeDifference(written, again(format, result.bytes, name, undefined));
    files.push({ name, bytes: result.bytes });
    records.push(recordOf(name, format, result, deviation, own ? file.drawing : undefined));
    if (!own) findings.push(...result.findings, ...differing(name, deviation));
  }
  return { files, records, measured: back.pattern, findings };
};

const again = (format: Format, bytes: Uint8Array, fileName: string, units: PatternFile['units']): Drawing => {
  const { drawing, findings } = format.read(bytes, { fileName, ...(units ? { units } : {}) });
  if (!drawing) throw new Bug(`the file just written cannot be read: ${findings.map((f) => f.message).join(' ')}`);
  return drawing;
};

/** `skirt.dxf` as SVG is `skirt.svg`. */
export const withEnding = (fileName: string, format: Format): string => {
  const ending = format.extensions[0] ?? `.${format.name}`;
  return fileName.replace(/(\.[^.]*)?$/, ending.startsWith('.') ? ending : `.${ending}`);
};

const recordOf = (
  name: string,
  format: Format,
  result: WriteResult,
  deviation: number,
  drawing: Drawing | undefined,
): LedgerOutput => ({
  file: name,
  format: format.name,
  sha256: sha256(result.bytes),
  bytes: result.bytes.length,
  deviation: recorded(deviation),
  addedVertices: [...result.addedVertices].flatMap(([id, added]) => {
    if (added === 0) return [];
    const drawable = drawing?.drawables.find((d) => d.id === id);
    return drawable ? [{ entity: drawable.entity, line: drawable.line, added }] : [];
  }),
});
