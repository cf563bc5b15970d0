import { Unreadable, unpacked } from './archive.ts';
import { unescaped, walkMarkup } from './markup.ts';
import { type NumberFormat, numberFormats } from './number-format.ts';

/** A workbook: its sheets in order, and what all of them share. */
export interface Workbook {
  readonly sheets: readonly SheetPart[];
  readonly shared: Shared;
}

export interface SheetPart {
  readonly name: string;
  readonly hidden: boolean;
  readonly path: string;
  readonly content: Uint8Array;
}

export interface Shared {
  readonly strings: readonly string[];
  /** By the number that a cell's style has. */
  readonly formats: readonly NumberFormat[];
  /** Days are counted from 1904 in place of 1900. */
  readonly from1904: boolean;
}

/** Opens a workbook (ECMA-376, SpreadsheetML; strict or transitional). Throws `Unreadable`. */
export const openWorkbook = (bytes: Uint8Array): Workbook => {
  const parts = unpacked(bytes);
  const path = relationsOf(parts, '').find((r) => r.kind === 'officeDocument')?.target ?? 'xl/workbook.xml';
  const content = parts.get(path);
  if (content === undefined) throw new Unreadable(`${whatElse(parts)}.`);
  const relations = relationsOf(parts, path);
  const { listed, from1904 } = readWorkbook(content, path);
  const sheets = listed.flatMap(({ name, hidden, id }): SheetPart[] => {
    const sheet = relations.find((r) => r.id === id && r.kind === 'worksheet');
    const own = sheet && parts.get(sheet.target);
    return sheet && own ? [{ name, hidden, path: sheet.target, content: own }] : [];
  });
  const part = (kind: string) => {
    const target = relations.find((r) => r.kind === kind)?.target ?? '';
    const found = parts.get(target);
    return found && { path: target, content: found };
  };
  const strings = part('sharedStrings');
  const styles = part('styles');
  return {
    sheets,
    shared: {
      strings: strings ? readStrings(strings.content, strings.path) : [],
      formats: styles ? numberFormats(styles.content, styles.path) : [],
      from1904,
    },
  };
};

const whatElse = (parts: ReadonlyMap<string, Uint8Array>): string => {
  if (parts.has('content.xml')) return 'it is an OpenDocument file, not an XLSX workbook';
  return 'it is a ZIP archive, and there is no workbook in it';
};

interface Relation {
  readonly id: string;
  /** The last word of its type: `worksheet`, `styles`. */
  readonly kind: string;
  readonly target: string;
}

/** What a part refers to; '' is the archive itself. */
const relationsOf = (parts: ReadonlyMap<string, Uint8Array>, of: string): readonly Relation[] => {
  const folder = of.slice(0, of.lastIndexOf('/') + 1);
  const path = `${folder}_rels/${of.slice(folder.length)}.rels`;
  const content = parts.get(path);
  const relations: Relation[] = [];
  if (content === undefined) return relations;
  walkMarkup(content, path, {
    open: (name, { Id = '', Type = '', Target = '' }) => {
      if (name !== 'Relationship') return;
      relations.push({ id: Id, kind: Type.slice(Type.lastIndexOf('/') + 1), target: resolved(folder, Target) });
    },
  });
  return relations;
};

const resolved = (folder: string, target: string): string =>
  new URL(target, `zip://workbook/${folder}`).pathname.replace(/^\//, '');

const readWorkbook = (content: Uint8Array, path: string) => {
  const listed: { name: string; hidden: boolean; id: string }[] = [];
  let from1904 = false;
  walkMarkup(content, path, {
    open: (tag, { name = '', state = 'visible', id = '', date1904 = '' }) => {
      if (tag === 'workbookPr') from1904 = /^(?:1|true)$/.test(date1904);
      if (tag === 'sheet') listed.push({ name: unescaped(name), hidden: state !== 'visible', id });
    },
  });
  return { listed, from1904 };
};

/** Each string whole, whatever parts of it look like; readings beside Japanese text are left out. */
const readStrings = (content: Uint8Array, path: string): readonly string[] => {
  const strings: string[] = [];
  let [text, inText, inReading] = ['', false, false];
  walkMarkup(content, path, {
    open: (name) => {
      if (name === 'si') text = '';
      if (name === 'rPh') inReading = true;
      inText = name === 't' && !inReading;
    },
    text: (piece) => {
      if (inText) text += piece;
    },
    close: (name) => {
      if (name === 'si') strings.push(unescaped(text));
      if (name === 'rPh') inReading = false;
      if (name === 't') inText = false;
    },
  });
  return strings;
};
