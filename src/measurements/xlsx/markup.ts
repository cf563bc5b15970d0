import { SaxesParser } from 'saxes';
import { Unreadable } from './archive.ts';

/** Names without their prefix: some writers put one before every element. */
export const localName = (name: string): string => name.slice(name.indexOf(':') + 1);

export interface Handlers {
  readonly open: (name: string, attributes: Readonly<Record<string, string>>) => void;
  readonly text?: (text: string) => void;
  readonly close?: (name: string) => void;
}

/** Walks through the XML of one part. Element and attribute names come without prefix. Throws `Unreadable`. */
export const walkMarkup = (content: Uint8Array, path: string, handlers: Handlers): void => {
  const parser = new SaxesParser();
  const fail = (error: Error): never => {
    throw new Unreadable(`${path} in the workbook is damaged (${error.message}).`);
  };
  parser.on('error', fail);
  parser.on('opentag', ({ name, attributes }) => {
    const own = Object.entries(attributes as Record<string, string>).map(
      ([n, value]) => [localName(n), value] as const,
    );
    handlers.open(localName(name), Object.fromEntries(own));
  });
  parser.on('text', (text) => handlers.text?.(text));
  parser.on('closetag', ({ name }) => handlers.close?.(localName(name)));
  const utf16 = content[0] === 0xff && content[1] === 0xfe ? 'utf-16le' : 'utf-8';
  parser.write(new TextDecoder(utf16).decode(content)).close();
};

/** Characters that XML cannot hold are written as `_x000D_` (ECMA-376 part 1, 22.4.2.4, ST_Xstring). */
export const unescaped = (text: string): string =>
  text.replace(/_x([0-9A-F]{4})_/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
