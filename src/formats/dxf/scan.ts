import { type BinaryKind, binaryKind, type Report, type Tags } from './tags.ts';

const LF = 10;
const CR = 13;
const SENTINEL = 'AutoCAD Binary DXF\r\n\x1a\0';

export const latin1 = (bytes: Uint8Array): string =>
  Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');

export const isBinaryDxf = (bytes: Uint8Array): boolean => latin1(bytes.subarray(0, SENTINEL.length)) === SENTINEL;

/** Growing columns of tags while a file is scanned. */
interface Columns {
  code: Int32Array;
  start: Uint32Array;
  valueStart: Uint32Array;
  valueEnd: Uint32Array;
  line: Uint32Array;
  count: number;
}

const columns = (capacity: number): Columns => ({
  code: new Int32Array(capacity),
  start: new Uint32Array(capacity + 1),
  valueStart: new Uint32Array(capacity),
  valueEnd: new Uint32Array(capacity),
  line: new Uint32Array(capacity),
  count: 0,
});

const widened = (c: Columns): Columns => {
  const wider = columns(c.code.length * 2);
  wider.code.set(c.code);
  wider.start.set(c.start);
  wider.valueStart.set(c.valueStart);
  wider.valueEnd.set(c.valueEnd);
  wider.line.set(c.line);
  wider.count = c.count;
  return wider;
};

/** The tags of a whole file, and whether it ended in the middle of one. */
export interface Scan {
  readonly tags: Tags;
  readonly cutShort: boolean;
}

/**
 * Scans an ASCII DXF: a line with the code, a line with the value, any line ends. Stops at EOF; what follows it
 * is told and kept. When code and value lines fall out of step it looks for the next entity and goes on there.
 */
export const scanAscii = (bytes: Uint8Array, report: Report): Scan => {
  const text = latin1(bytes);
  const damaged = new Set<number>();
  let c = columns(Math.max(64, Math.ceil(bytes.length / 8)));
  let at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  let line = 1;
  // Blank lines before the first tag mean nothing.
  while (at < bytes.length && text.slice(at, endOfLine(bytes, at)).trim() === '') {
    at = afterLine(bytes, endOfLine(bytes, at));
    line += 1;
  }
  let cutShort = false;
  let ended = false;
  while (at < bytes.length && !ended) {
    const codeEnd = endOfLine(bytes, at);
    const code = codeOf(bytes, at, codeEnd);
    if (code === undefined) {
      const blank = text.slice(at, codeEnd).trim() === '';
      const resumed = blank && isBlankFrom(text, at) ? undefined : nextEntity(bytes, text, at);
      if (resumed === undefined) {
        cutShort = !(blank && isBlankFrom(text, at));
        if (cutShort) reportOutOfStep(report, text, at, codeEnd, line);
        break;
      }
      reportOutOfStep(report, text, at, codeEnd, line);
      damaged.add(c.count - 1);
      line += linesBetween(bytes, at, resumed);
      at = resumed;
      continue;
    }
    const valueStart = afterLine(bytes, codeEnd);
    if (valueStart >= bytes.length) {
      reportCut(report, text, at, line);
      cutShort = true;
      break;
    }
    const valueEnd = endOfLine(bytes, valueStart);
    if (c.count >= c.code.length) c = widened(c);
    const i = c.count++;
    c.code[i] = code;
    c.start[i] = at;
    c.valueStart[i] = valueStart;
    c.valueEnd[i] = valueEnd;
    c.line[i] = line;
    at = afterLine(bytes, valueEnd);
    line += 2;
    ended = code === 0 && text.slice(valueStart, valueEnd).trim() === 'EOF';
  }
  c.start[c.count] = at;
  if (ended && !isBlankFrom(text, at)) {
    report(
      'dxf-after-end',
      'note',
      { line, excerpt: excerptOf(text, at, endOfLine(bytes, at)) },
      'There is more text after the end mark of the file. It is not read, and it is kept as it is.',
      'Nothing needs doing unless the file was joined from two: then give the second one on its own.',
    );
  }
  return { tags: { bytes, text, form: 'ascii', codeBytes: 2, damaged, ...c }, cutShort };
};

const endOfLine = (bytes: Uint8Array, from: number): number => {
  let i = from;
  while (i < bytes.length && bytes[i] !== LF && bytes[i] !== CR) i++;
  return i;
};

const afterLine = (bytes: Uint8Array, end: number): number =>
  bytes[end] === CR && bytes[end + 1] === LF ? end + 2 : Math.min(end + 1, bytes.length);

const codeOf = (bytes: Uint8Array, from: number, to: number): number | undefined => {
  let i = from;
  let end = to;
  while (i < end && (bytes[i] === 32 || bytes[i] === 9)) i++;
  while (end > i && (bytes[end - 1] === 32 || bytes[end - 1] === 9)) end--;
  const negative = bytes[i] === 45;
  if (negative) i++;
  if (i >= end || end - i > 5) return undefined;
  let code = 0;
  for (; i < end; i++) {
    const digit = (bytes[i] ?? 0) - 48;
    if (digit < 0 || digit > 9) return undefined;
    code = code * 10 + digit;
  }
  return negative ? -code : code;
};

/** Whether nothing but spaces, line ends and other control characters follows. */
export const isBlankFrom = (text: string, at: number): boolean => {
  for (let i = at; i < text.length; i++) {
    const ch = text.charCodeAt(i);
    if (ch > 32) return false;
  }
  return true;
};

/** The next place where a line `0` is followed by a name in capitals: a sure start of an entity. */
const nextEntity = (bytes: Uint8Array, text: string, from: number): number | undefined => {
  let at = afterLine(bytes, endOfLine(bytes, from));
  while (at < bytes.length) {
    const end = endOfLine(bytes, at);
    if (codeOf(bytes, at, end) === 0) {
      const next = afterLine(bytes, end);
      if (/^[A-Z0-9_]*[A-Z][A-Z0-9_]+$/.test(text.slice(next, endOfLine(bytes, next)).trim())) return at;
    }
    at = afterLine(bytes, end);
  }
  return undefined;
};

const linesBetween = (bytes: Uint8Array, from: number, to: number): number => {
  let n = 0;
  for (let at = from; at < to; at = afterLine(bytes, endOfLine(bytes, at))) n++;
  return n;
};

const excerptOf = (text: string, from: number, to: number): string =>
  text.slice(from, Math.min(to, from + 60)).replace(/[^\x20-\x7e]/g, '·');

const reportOutOfStep = (report: Report, text: string, at: number, end: number, line: number): void =>
  report(
    'dxf-out-of-step',
    'error',
    { line, excerpt: excerptOf(text, at, end) },
    'A group code should stand here and does not: a line is missing or there is one too many. The entity it lies in is left out.',
    'Save the drawing again from the program it comes from, or put the missing line back at this place.',
  );

const reportCut = (report: Report, text: string, at: number, line: number): void =>
  report(
    'dxf-cut-short',
    'error',
    { line, excerpt: excerptOf(text, at, text.length) },
    'The file breaks off after a group code whose value is missing.',
    'Copy or save the file again: this copy is not complete.',
  );

/** Scans a binary DXF (1-byte codes up to R12, 2-byte codes after). */
export const scanBinary = (bytes: Uint8Array, report: Report): Scan => {
  const text = latin1(bytes);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const codeBytes = bytes[SENTINEL.length + 1] === 0 ? 2 : 1;
  let c = columns(Math.max(64, Math.ceil(bytes.length / 6)));
  let at = SENTINEL.length;
  let ended = false;
  let cutShort = false;
  while (at < bytes.length && !ended) {
    const head = binaryCode(view, at, codeBytes);
    const span = head === undefined ? undefined : binarySpan(view, head.code, head.next);
    if (head === undefined || span === undefined) {
      cutShort = true;
      report(
        'dxf-cut-short',
        'error',
        { offset: at },
        'The binary file breaks off in the middle of a value.',
        'Copy or save the file again: this copy is not complete.',
      );
      break;
    }
    if (c.count >= c.code.length) c = widened(c);
    const i = c.count++;
    c.code[i] = head.code;
    c.start[i] = at;
    c.valueStart[i] = span.from;
    c.valueEnd[i] = span.to;
    at = span.next;
    ended = head.code === 0 && text.slice(span.from, span.to).trim() === 'EOF';
  }
  c.start[c.count] = at;
  if (ended && !isBlankFrom(text, at)) {
    report(
      'dxf-after-end',
      'note',
      { offset: at },
      'There are more bytes after the end mark of the file. They are not read, and are kept as they are.',
      'Nothing needs doing.',
    );
  }
  return { tags: { bytes, text, form: 'binary', codeBytes, damaged: new Set(), ...c }, cutShort };
};

const binaryCode = (view: DataView, at: number, size: 1 | 2): { code: number; next: number } | undefined => {
  if (size === 2) return at + 2 > view.byteLength ? undefined : { code: view.getInt16(at, true), next: at + 2 };
  const code = view.getUint8(at);
  if (code !== 255) return { code, next: at + 1 };
  return at + 3 > view.byteLength ? undefined : { code: view.getInt16(at + 1, true), next: at + 3 };
};

const FIXED: Record<Exclude<BinaryKind, 'text' | 'chunk'>, number> = {
  double: 8,
  int16: 2,
  int32: 4,
  int64: 8,
  byte: 1,
};

const binarySpan = (
  view: DataView,
  code: number,
  at: number,
): { from: number; to: number; next: number } | undefined => {
  const kind = binaryKind(code);
  const whole = (from: number, to: number, next: number) => (next > view.byteLength ? undefined : { from, to, next });
  if (kind === 'chunk') {
    if (at >= view.byteLength) return undefined;
    const end = at + 1 + view.getUint8(at);
    return whole(at + 1, end, end);
  }
  if (kind !== 'text') return whole(at, at + FIXED[kind], at + FIXED[kind]);
  let end = at;
  while (end < view.byteLength && view.getUint8(end) !== 0) end++;
  return whole(at, end, end + 1);
};
