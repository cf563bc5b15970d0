import { isBinaryDxf, isBlankFrom, latin1, type Scan, scanAscii, scanBinary } from './scan.ts';
import type { Report } from './tags.ts';

/** Whether the bytes look like a DXF file: the binary mark, or a group code line followed by a value line. */
export const looksLikeDxf = (bytes: Uint8Array): boolean => {
  if (isBinaryDxf(bytes)) return true;
  const head = latin1(bytes.subarray(0, 4096)).replace(/^\xef\xbb\xbf/, '');
  if (head.includes('\0')) return false;
  return /^\s*(?:999[ \t]*(?:\r\n|\r|\n)[^\r\n]*(?:\r\n|\r|\n)\s*)*0[ \t]*(?:\r\n|\r|\n)[ \t]*(?:SECTION|EOF)[ \t]*(?:[\r\n]|$)/.test(
    head,
  );
};

/** What a file that is no DXF seems to be instead, by its first bytes. */
const otherKind = (bytes: Uint8Array): { code: string; what: string; suggestion: string } | undefined => {
  const head = latin1(bytes.subarray(0, 64));
  const starts = (mark: string) => head.startsWith(mark);
  if (/^AC1\.|^AC10\d\d/.test(head)) {
    return {
      code: 'dxf-is-dwg',
      what: 'This is a DWG drawing, not DXF.',
      suggestion: 'Open it in the program it comes from and save it as DXF (ASCII, R12 or 2000).',
    };
  }
  if (starts('\xff\xfe') || starts('\xfe\xff') || /^(?:[\s -~]\0){4}|^(?:\0[\s -~]){4}/.test(head)) {
    return {
      code: 'dxf-utf16',
      what: 'The file is written in UTF-16 (two bytes a letter), which DXF does not know.',
      suggestion: 'Open it in a text editor and save it as UTF-8 or ANSI, or export it again.',
    };
  }
  const named: readonly (readonly [string, string])[] = [
    ['%PDF', 'a PDF'],
    ['PK\x03\x04', 'a ZIP archive'],
    ['\x1f\x8b', 'a compressed file (gzip)'],
    ['\x89PNG', 'a picture (PNG)'],
    ['\xff\xd8\xff', 'a picture (JPEG)'],
    ['<?xml', 'an XML file'],
    ['<svg', 'an SVG file'],
  ];
  const kind = named.find(([mark]) => starts(mark));
  if (kind !== undefined || head.includes('\0')) {
    return {
      code: 'dxf-not-dxf',
      what: `This is not a DXF file${kind === undefined ? ': it holds bytes that no text has' : ` but ${kind[1]}`}.`,
      suggestion: 'Give the DXF file itself; unpack or export it first.',
    };
  }
  return undefined;
};

/** Scans the bytes of a DXF file in whichever form they are. Undefined, with an error told, when they are no DXF. */
export const openBytes = (bytes: Uint8Array, report: Report): Scan | undefined => {
  if (bytes.length <= 4096 && isBlankFrom(latin1(bytes), 0)) {
    report('dxf-empty', 'error', { offset: 0 }, 'The file is empty.', 'Export the pattern again.');
    return undefined;
  }
  if (isBinaryDxf(bytes)) return scanBinary(bytes, report);
  const other = otherKind(bytes);
  if (other !== undefined) {
    report(other.code, 'error', { offset: 0 }, other.what, other.suggestion);
    return undefined;
  }
  if (!looksLikeDxf(bytes)) {
    const excerpt = latin1(bytes.subarray(0, 60)).replace(/[^\x20-\x7e]/g, '·');
    report(
      'dxf-not-dxf',
      'error',
      { line: 1, excerpt },
      'The file does not begin as a DXF file does, with a group code 0 and the word SECTION.',
      'Give the DXF file itself, or export it again.',
    );
    return undefined;
  }
  return scanAscii(bytes, report);
};
