import iconv from 'iconv-lite';
import { describe, expect, it } from 'vitest';
import { codepageNamed, decodeText, encodeText, paragraphText, plainText } from '../../../src/formats/dxf/text.ts';
import { dxfText, read, tagText, the } from './tools.ts';

describe('texts', () => {
  it.each([
    ['%%d', '°'],
    ['45%%D%%P1', '45°±1'],
    ['%%uFront%%u', 'Front'],
    ['%%065', 'A'],
    ['a^Ib', 'a\tb'],
    ['x^ y', 'x^y'],
    ['100%%%', '100%'],
  ])('a single line: %s', (raw, text) => expect(plainText(raw)).toBe(text));

  it.each([
    ['Rock\\Pvorn', 'Rock\nvorn'],
    ['{\\fArial|b0|i0;Rock} \\H2.5x;vorn', 'Rock vorn'],
    ['\\A1;1\\S1/2;"', '11/2"'],
    ['{\\C1;\\Lunder\\l}', 'under'],
    ['a\\~b \\{c\\} \\\\d', 'a b {c} \\d'],
    ['\\pxqc;middle', 'middle'],
  ])('paragraphs: %s', (raw, text) => expect(paragraphText(raw)).toBe(text));

  it('escapes of Unicode and of other code pages', () => {
    expect(decodeText('\\U+00C4rmel', { name: 'windows-1252' })).toBe('Ärmel');
    expect(decodeText('\\M+182A0', { name: 'windows-1252' })).toBe(iconv.decode(Buffer.from([0x82, 0xa0]), 'cp932'));
  });

  it('letters that the code page lacks are escaped, the others are not', () => {
    expect(encodeText('Ä⅜', { name: 'windows-1252' })).toBe('\xc4\\U+215C');
    expect(decodeText(encodeText('Ärmel ⅜ 縫', { name: 'cp1252' }), { name: 'cp1252' })).toBe('Ärmel ⅜ 縫');
  });

  it.each([
    ['ANSI_1252', 'cp1252'],
    ['ansi_932', 'cp932'],
    ['DOS850', 'cp850'],
    ['iso8859', undefined],
    ['8859_2', 'iso-8859-2'],
    ['UTF-8', 'utf8'],
  ])('code page %s', (stated, name) => expect(codepageNamed(stated)).toBe(name));

  const written = (version: string, page: string, encoding: string, text: string): Uint8Array => {
    const header = tagText(9, '$DWGCODEPAGE', 3, page, 9, '$INSUNITS', 70, 4);
    const entities = tagText(0, 'TEXT', 8, '1', 10, '0.0', 20, '0.0', 40, '5.0', 1, text);
    return new Uint8Array(iconv.encode(dxfText({ version, header, entities }), encoding));
  };

  it.each([
    ['AC1009', 'ANSI_1252', 'cp1252', 'Rückenlänge'],
    // The last byte of 頃 is that of a no-break space in other code pages, and so is that of à in UTF-8.
    ['AC1015', 'ANSI_932', 'cp932', '前身頃'],
    ['AC1024', 'ANSI_1252', 'utf-8', 'metà'],
    ['AC1015', 'ANSI_1250', 'cp1250', 'przód spódnicy'],
    ['AC1015', 'ANSI_1251', 'cp1251', 'перед юбки'],
    ['AC1018', 'ANSI_932', 'cp932', 'スカート前'],
    ['AC1021', 'ANSI_1252', 'utf8', 'jupe, milieu arrière ⅜'],
    ['AC1032', 'ANSI_1252', 'utf8', 'falda, hilo ↕'],
  ])('%s with %s', (version, page, encoding, text) => {
    expect(the(read(written(version, page, encoding, text)).drawing, 'text').text).toBe(text);
  });

  it('long paragraphs in pieces are joined', () => {
    const entities = tagText(0, 'MTEXT', 8, '1', 10, '0.0', 20, '0.0', 40, '5.0', 3, 'first ', 3, 'second ', 1, 'last');
    expect(the(read(dxfText({ entities })).drawing, 'text').text).toBe('first second last');
  });
});
