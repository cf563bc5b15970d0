import { gunzipSync, gzipSync } from 'node:zlib';
import iconv from 'iconv-lite';
import type { Finding, Where } from '../../finding.ts';
import { report } from './codes.ts';

/** The file as it came: its bytes, and the text they spell with the means to spell a changed text the same way. */
export interface Source {
  readonly fileName: string;
  readonly bytes: Uint8Array;
  readonly text: string;
  readonly encoding: string;
  readonly byteOrderMark: boolean;
  readonly compressed: boolean;
  /** Offset of each line's first character. */
  readonly lineStarts: readonly number[];
}

/** Far above any pattern; keeps a small compressed file from filling the memory. */
const MOST_UNPACKED = 512 * 1024 * 1024;
const EXCERPT = 60;

const isGzip = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

/** Encoding by the marks of XML 1.0 appendix F: byte order mark, then a zero byte, then the declaration. */
const detect = (bytes: Uint8Array): { encoding: string; mark: number } => {
  const [a, b, c] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return { encoding: 'utf-8', mark: 3 };
  if (a === 0xff && b === 0xfe) return { encoding: 'utf-16le', mark: 2 };
  if (a === 0xfe && b === 0xff) return { encoding: 'utf-16be', mark: 2 };
  if (a === 0x3c && b === 0) return { encoding: 'utf-16le', mark: 0 };
  if (a === 0 && b === 0x3c) return { encoding: 'utf-16be', mark: 0 };
  const head = Buffer.from(bytes.subarray(0, 200)).toString('latin1');
  const stated = /^\s*<\?xml[^>]*?encoding\s*=\s*["']([\w.:-]+)["']/.exec(head)?.[1];
  return { encoding: stated?.toLowerCase() ?? 'utf-8', mark: 0 };
};

const spell = (text: string, encoding: string): Buffer =>
  encoding === 'utf-8' ? Buffer.from(text, 'utf8') : iconv.encode(text, encoding, { addBOM: false });

const understand = (bytes: Uint8Array, encoding: string): string =>
  encoding === 'utf-8'
    ? Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('utf8')
    : iconv.decode(Buffer.from(bytes), encoding, { stripBOM: false });

const lineStartsOf = (text: string): number[] => {
  const starts = [0];
  const ends = /\r\n|\n|\r/g;
  while (ends.exec(text) !== null) starts.push(ends.lastIndex);
  return starts;
};

/**
 * Bytes to text, without loss: when the stated encoding does not give the same bytes back, each byte is read as one
 * character instead, so that what is not changed goes out as it came.
 */
export const openSource = (given: Uint8Array, fileName: string): { source?: Source; findings: Finding[] } => {
  const findings: Finding[] = [];
  const where = { file: fileName };
  let bytes = given;
  if (isGzip(given)) {
    try {
      bytes = gunzipSync(given, { maxOutputLength: MOST_UNPACKED });
    } catch {
      const message = 'The file is compressed (svgz) and cannot be unpacked; it may be damaged.';
      return { findings: [report('svg-unpack-failed', where, message, 'Save the drawing again as plain .svg.')] };
    }
    const message = 'The file is compressed (svgz); what is written is compressed again.';
    findings.push(report('svg-compressed', where, message, 'Nothing to do.'));
  }
  const found = detect(bytes);
  const body = bytes.subarray(found.mark);
  let encoding = found.encoding === 'utf8' ? 'utf-8' : found.encoding;
  if (encoding === 'utf-16') encoding = 'utf-8';
  const known = encoding === 'utf-8' || iconv.encodingExists(encoding);
  let text = known ? understand(body, encoding) : '';
  if (!known || !spell(text, encoding).equals(body)) {
    const message = known
      ? `The file is said to be in ${encoding}, but some of its bytes are not.`
      : `The file is said to be in "${encoding}", which is not a known character encoding.`;
    findings.push(
      report('svg-encoding-unknown', where, `${message} Letters beyond A to Z may read wrongly.`, 'Save it as UTF-8.'),
    );
    encoding = 'latin1';
    text = understand(body, encoding);
  }
  const source: Source = {
    fileName,
    bytes: given,
    text,
    encoding,
    byteOrderMark: found.mark > 0,
    compressed: bytes !== given,
    lineStarts: lineStartsOf(text),
  };
  return { source, findings };
};

/** A changed text as bytes, in the encoding, mark and packing of the source. */
export const closeSource = (source: Source, text: string): Uint8Array => {
  const body = spell(text, source.encoding);
  const marks: Record<string, number[]> = {
    'utf-8': [0xef, 0xbb, 0xbf],
    'utf-16le': [0xff, 0xfe],
    'utf-16be': [0xfe, 0xff],
  };
  const mark = source.byteOrderMark ? (marks[source.encoding] ?? []) : [];
  const plain = Buffer.concat([Buffer.from(mark), body]);
  return source.compressed ? new Uint8Array(gzipSync(plain)) : new Uint8Array(plain);
};

/** `text` for markup: characters that the source's encoding lacks become character references. */
export const escapeFor = (source: Pick<Source, 'encoding'>, text: string): string => {
  const safe = text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
  if (source.encoding.startsWith('utf')) return safe;
  return safe.replace(/[^\0-~]/gu, (letter) => `&#${letter.codePointAt(0)};`);
};

/** Whether the bytes look like SVG, packed or not: its root element within the first kilobytes. */
export const looksLikeSvg = (bytes: Uint8Array): boolean => {
  let head = bytes.subarray(0, 8192);
  if (isGzip(bytes)) {
    try {
      head = gunzipSync(bytes, { maxOutputLength: MOST_UNPACKED }).subarray(0, 8192);
    } catch {
      return false;
    }
  }
  const { encoding, mark } = detect(head);
  const readable = encoding.startsWith('utf-16') && encoding !== 'utf-16' ? encoding : 'latin1';
  const text = understand(head.subarray(mark), readable).replace(/<!--[\s\S]*?-->/g, '');
  return /^\s*</.test(text) && /<(?:[\w.-]+:)?svg[\s>/]/.test(text);
};

/** Where an offset is, for a finding. */
export const whereIs = (source: Source, offset: number, entity?: string): Where => {
  const { line, column } = lineAndColumn(source, offset);
  const rest = source.text
    .slice(offset, offset + EXCERPT * 2)
    .replace(/\s+/g, ' ')
    .trim();
  const excerpt = rest.length > EXCERPT ? `${rest.slice(0, EXCERPT)}…` : rest;
  return { file: source.fileName, line, column, ...(excerpt && { excerpt }), ...(entity !== undefined && { entity }) };
};

export const lineAndColumn = (source: Pick<Source, 'lineStarts'>, offset: number): { line: number; column: number } => {
  let low = 0;
  let high = source.lineStarts.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((source.lineStarts[middle] ?? 0) <= offset) low = middle;
    else high = middle;
  }
  return { line: low + 1, column: offset - (source.lineStarts[low] ?? 0) + 1 };
};
