import iconv from 'iconv-lite';

/** How the texts of a file are stored. */
export interface TextEncoding {
  /** Name as iconv-lite knows it. */
  readonly name: string;
  /** Name as the file states it, if it does. */
  readonly stated?: string;
}

/** `$DWGCODEPAGE` names that do not simply end in a Windows code page number (AutoCAD DXF reference, from memory). */
const CODEPAGES: Readonly<Record<string, string>> = {
  ascii: 'windows-1252',
  '8859_1': 'iso-8859-1',
  '8859_2': 'iso-8859-2',
  '8859_3': 'iso-8859-3',
  '8859_4': 'iso-8859-4',
  '8859_5': 'iso-8859-5',
  '8859_6': 'iso-8859-6',
  '8859_7': 'iso-8859-7',
  '8859_8': 'iso-8859-8',
  '8859_9': 'iso-8859-9',
  mac_roman: 'macintosh',
  'mac-roman': 'macintosh',
  big5: 'cp950',
  gb2312: 'cp936',
  johab: 'cp949',
  ksc5601: 'cp949',
  utf8: 'utf8',
  'utf-8': 'utf8',
};

/** iconv-lite's name for a `$DWGCODEPAGE` value; undefined when it is not known. */
export const codepageNamed = (stated: string): string | undefined => {
  const key = stated.trim().toLowerCase();
  const named = CODEPAGES[key];
  if (named !== undefined) return named;
  const number = /^(?:ansi|dos|oem|cp|windows)[_-]?(\d{3,4})$/.exec(key)?.[1];
  if (number === undefined) return undefined;
  const name = number === '1361' ? 'cp949' : `cp${number}`;
  return iconv.encodingExists(name) ? name : undefined;
};

const HIGH = /[\x80-\xff]/;

export const isUtf8 = (latin1Text: string): boolean => {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(Buffer.from(latin1Text, 'latin1'));
    return true;
  } catch {
    return false;
  }
};

/** The text of a value as it stands in the file: bytes to letters, `\U+XXXX` and `\M+nXXXX` resolved. */
export const decodeText = (latin1Text: string, encoding: TextEncoding): string => {
  const letters = HIGH.test(latin1Text) ? iconv.decode(Buffer.from(latin1Text, 'latin1'), encoding.name) : latin1Text;
  if (!letters.includes('\\')) return letters;
  return letters
    .replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
    .replace(/\\M\+([1-5])([0-9A-Fa-f]{4})/g, (all, page: string, hex: string) => multibyte(page, hex) ?? all);
};

/** Code pages of the `\M+n` escape (AutoCAD DXF reference, from memory). */
const MULTIBYTE: Readonly<Record<string, string>> = {
  '1': 'cp932',
  '2': 'cp950',
  '3': 'cp949',
  '4': 'cp949',
  '5': 'cp936',
};

const multibyte = (page: string, hex: string): string | undefined => {
  const name = MULTIBYTE[page];
  return name === undefined ? undefined : iconv.decode(Buffer.from(hex, 'hex'), name);
};

/** The bytes (as Latin-1) of a text in the file's encoding; letters the code page lacks become `\U+XXXX`. */
export const encodeText = (text: string, encoding: TextEncoding): string => {
  if (!/[^\x20-\x7e]/.test(text)) return text;
  return [...text.replace(/[\r\n\t]+/g, ' ')]
    .map((letter) => {
      const bytes = iconv.encode(letter, encoding.name);
      if (iconv.decode(bytes, encoding.name) === letter) return bytes.toString('latin1');
      return [...Array(letter.length).keys()]
        .map((i) => `\\U+${letter.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0')}`)
        .join('');
    })
    .join('');
};

/** TEXT and ATTRIB: `%%` codes and caret codes resolved. Underline and overline marks carry no letters. */
export const plainText = (raw: string): string =>
  carets(
    raw
      .replace(/%%(\d{3})/g, (_, n: string) => String.fromCharCode(Number(n)))
      .replace(/%%[dD]/g, '°')
      .replace(/%%[pP]/g, '±')
      .replace(/%%[cC]/g, '⌀')
      .replace(/%%[uUoOkK]/g, '')
      .replaceAll('%%%', '%'),
  );

/** `^I`, `^J`, `^M`: control characters; `^ ` is a caret. */
const carets = (text: string): string =>
  text.includes('^')
    ? text.replace(/\^([IJM])/g, (_, c: string) => (c === 'I' ? '\t' : '\n')).replace(/\^ /g, '^')
    : text;

/** MTEXT: format codes dropped, paragraphs kept as line breaks, stacked fractions written with a stroke. */
export const paragraphText = (raw: string): string => {
  let out = '';
  let i = 0;
  while (i < raw.length) {
    const ch = raw[i] ?? '';
    if (ch === '{' || ch === '}') {
      i += 1;
    } else if (ch !== '\\') {
      out += ch;
      i += 1;
    } else {
      const [text, length] = formatCode(raw, i);
      out += text;
      i += length;
    }
  }
  return plainText(out);
};

/** The letters an MTEXT code at `i` stands for, and how long the code is. */
const formatCode = (raw: string, i: number): [string, number] => {
  const next = raw[i + 1] ?? '';
  if (next === 'P' || next === 'N' || next === 'X') return ['\n', 2];
  if (next === '~') return [' ', 2];
  if ('LlOoKk'.includes(next) && next !== '') return ['', 2];
  if ('\\{}'.includes(next) && next !== '') return [next, 2];
  if (next === 'S') {
    const end = raw.indexOf(';', i);
    const stop = end < 0 ? raw.length : end;
    return [raw.slice(i + 2, stop).replace(/\^ ?|#/g, '/'), stop - i + 1];
  }
  if (/[ACFHQTWcfhp]/.test(next)) {
    const end = raw.indexOf(';', i);
    return ['', (end < 0 ? i + 1 : end) - i + 1];
  }
  return ['\\', 1];
};
