import type { Finding } from '../finding.ts';

/**
 * Bytes of a text file as text: UTF-8 or UTF-16 with or without a byte order mark; what is neither is read as
 * Windows-1252, with a warning.
 */
export const decodeText = (bytes: Uint8Array, fileName: string): { text: string; findings: readonly Finding[] } => {
  const utf16 = utf16Kind(bytes);
  if (utf16 !== undefined) return { text: new TextDecoder(utf16).decode(bytes), findings: [] };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), findings: [] };
  } catch {
    const finding: Finding = {
      code: 'measure-encoding-assumed',
      level: 'warning',
      where: { file: fileName },
      message: 'The file is not UTF-8 text. It was read as Western European (Windows-1252).',
      try: 'Check names with accents and fractions such as ½. If they came out wrong, save the file as UTF-8.',
    };
    return { text: western(bytes), findings: [finding] };
  }
};

/**
 * Windows-1252 from 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252), where the quotation marks stand that
 * people write for inches. The decoder of Node 20 takes these bytes for those of Latin-1, which are control characters.
 */
const WESTERN = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008DŽ\u008F\u0090‘’“”•–—˜™š›œ\u009DžŸ';

const western = (bytes: Uint8Array): string =>
  Buffer.from(bytes)
    .toString('latin1')
    .replace(/[\x80-\x9F]/g, (byte) => WESTERN[byte.charCodeAt(0) - 0x80] ?? byte);

/** By the byte order mark, or by the zero bytes that UTF-16 leaves beside plain letters. */
const utf16Kind = (bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined => {
  const [a, b] = bytes;
  if (a === undefined || b === undefined) return undefined;
  if ((a === 0xff && b === 0xfe) || (a !== 0 && b === 0)) return 'utf-16le';
  return (a === 0xfe && b === 0xff) || (a === 0 && b !== 0) ? 'utf-16be' : undefined;
};
