import { Bug } from '../../finding.ts';
import { plainNumber, reformat, reformatInteger } from './numbers.ts';
import { binaryKind, numberAt, rawValue, type Tags, textAt } from './tags.ts';

/** A tag to be written: a copy of one in the file, or a value. */
export type NewTag =
  | { readonly copy: number }
  | { readonly code: number; readonly real: number; readonly places?: number; readonly like?: number }
  | { readonly code: number; readonly integer: number }
  /** Text as Latin-1 bytes, already in the file's encoding. */
  | { readonly code: number; readonly text: string };

/** Collects changes to a tag document; what is not named stays as it is. */
export interface Pen {
  readonly tags: Tags;
  /** Decimals that coordinates need. */
  readonly places: number;
  /** A number in the notation it had; nothing happens when the value is the same within rounding. */
  setReal(tag: number, value: number, places?: number): void;
  setInteger(tag: number, value: number): void;
  setText(tag: number, text: string): void;
  remove(from: number, to: number): void;
  insert(before: number, tags: readonly NewTag[]): void;
  /** A handle that no object has; undefined when the file has no handles. */
  freshHandle(): string | undefined;
  readonly widened: boolean;
  readonly touched: boolean;
  /** The bytes with all changes in them. */
  assemble(): Uint8Array;
}

interface Edit {
  readonly from: number;
  readonly to: number;
  readonly bytes: string;
  readonly order: number;
}

export interface PenOptions {
  readonly places: number;
  /** Coordinates stay integers. */
  readonly integersOnly: () => boolean;
  readonly nextHandle: () => number | undefined;
  readonly handleSeedTag: number | undefined;
}

export const penFor = (tags: Tags, options: PenOptions): Pen => {
  const edits: Edit[] = [];
  const style = styleOf(tags);
  let widened = false;
  let nextHandle: number | undefined;
  const add = (from: number, to: number, bytes: string) => edits.push({ from, to, bytes, order: edits.length });
  const replaceValue = (tag: number, bytes: string) => add(tags.valueStart[tag] ?? 0, tags.valueEnd[tag] ?? 0, bytes);
  const placesOf = (places: number | undefined): number => places ?? (options.integersOnly() ? 0 : options.places);
  return {
    tags,
    places: options.places,
    get widened() {
      return widened;
    },
    get touched() {
      return edits.length > 0;
    },
    setReal(tag, value, places) {
      if (!Number.isFinite(value)) throw new Bug(`a number that is not finite was to be written at tag ${tag}`);
      const old = numberAt(tags, tag);
      if (Math.abs(value - old) <= 1e-10 * Math.max(1, Math.abs(old))) return;
      if (tags.form === 'binary') return replaceValue(tag, binaryValue(tags.code[tag] ?? 0, value));
      const written = reformat(rawValue(tags, tag), value, placesOf(places));
      widened ||= written.widened;
      if (written.text !== rawValue(tags, tag)) replaceValue(tag, written.text);
    },
    setInteger(tag, value) {
      if (numberAt(tags, tag) === value) return;
      replaceValue(
        tag,
        tags.form === 'binary' ? binaryValue(tags.code[tag] ?? 0, value) : reformatInteger(rawValue(tags, tag), value),
      );
    },
    setText: (tag, text) => replaceValue(tag, text),
    remove(from, to) {
      if (to > from) add(tags.start[from] ?? 0, tags.start[to] ?? 0, '');
    },
    insert(before, added) {
      const at = tags.start[before] ?? 0;
      const bytes = added.map((t) => encoded(tags, style, t, placesOf(undefined))).join('');
      const joined =
        tags.form === 'ascii' && at > 0 && !/[\r\n]/.test(tags.text[at - 1] ?? '') ? style.lineEnd + bytes : bytes;
      add(at, at, joined);
    },
    freshHandle() {
      nextHandle ??= options.nextHandle();
      if (nextHandle === undefined) return undefined;
      const handle = nextHandle.toString(16).toUpperCase();
      nextHandle += 1;
      return handle;
    },
    assemble() {
      const seed = options.handleSeedTag;
      if (nextHandle !== undefined && seed !== undefined && Number.parseInt(textAt(tags, seed), 16) < nextHandle) {
        replaceValue(seed, nextHandle.toString(16).toUpperCase());
      }
      return spliced(tags.bytes, edits);
    },
  };
};

/** Slices of the source between the edits: the cost is that of the edits and one copy. */
const spliced = (bytes: Uint8Array, edits: readonly Edit[]): Uint8Array => {
  const inserts = (e: Edit): number => (e.from === e.to ? 0 : 1);
  const sorted = [...edits].sort((a, b) => a.from - b.from || inserts(a) - inserts(b) || a.order - b.order);
  const length = sorted.reduce((sum, e) => sum + e.bytes.length - (e.to - e.from), bytes.length);
  const source = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const out = Buffer.allocUnsafeSlow(length);
  let read = 0;
  let written = 0;
  for (const edit of sorted) {
    if (edit.from < read) throw new Bug(`two changes of a DXF file overlap at byte ${edit.from}`);
    written += source.copy(out, written, read, edit.from);
    written += out.write(edit.bytes, written, 'latin1');
    read = edit.to;
  }
  source.copy(out, written, read);
  return new Uint8Array(out.buffer, 0, length);
};

/** How this file writes a tag. */
interface TagStyle {
  readonly lineEnd: string;
  /** Width to which group codes are padded on the left. */
  readonly codeWidth: number;
}

const styleOf = (tags: Tags): TagStyle => {
  if (tags.form === 'binary' || tags.count === 0) return { lineEnd: '', codeWidth: 0 };
  const end = tags.valueEnd[0] ?? 0;
  const lineEnd = /^(?:\r\n|\r|\n)/.exec(tags.text.slice(end, end + 2))?.[0] ?? '\n';
  const first = tags.text.slice(tags.start[0] ?? 0, tags.valueStart[0] ?? 0).replace(/[\r\n]+$/, '');
  return { lineEnd, codeWidth: first.startsWith(' ') ? first.length : 0 };
};

const encoded = (tags: Tags, style: TagStyle, tag: NewTag, places: number): string => {
  if ('copy' in tag) return copied(tags, tag.copy, style);
  if (tags.form === 'binary') {
    const value = 'real' in tag ? tag.real : 'integer' in tag ? tag.integer : tag.text;
    return binaryCodeBytes(tag.code, tags.codeBytes) + binaryValue(tag.code, value);
  }
  return `${String(tag.code).padStart(style.codeWidth)}${style.lineEnd}${valueText(tags, tag, places)}${style.lineEnd}`;
};

const copied = (tags: Tags, i: number, style: TagStyle): string => {
  if (tags.form === 'binary') return tags.text.slice(tags.start[i] ?? 0, tags.start[i + 1] ?? 0);
  const code = tags.text.slice(tags.start[i] ?? 0, tags.valueStart[i] ?? 0);
  return `${code}${rawValue(tags, i)}${style.lineEnd}`;
};

const valueText = (tags: Tags, tag: Exclude<NewTag, { copy: number }>, places: number): string => {
  if ('text' in tag) return tag.text;
  if ('integer' in tag) return String(tag.integer);
  if (tag.like === undefined) return plainNumber(tag.real, tag.places ?? Math.max(places, 6));
  return reformat(rawValue(tags, tag.like), tag.real, tag.places ?? places).text;
};

const binaryCodeBytes = (code: number, size: 1 | 2): string => {
  const bytes = Buffer.alloc(3);
  if (size === 2) {
    bytes.writeInt16LE(code);
    return bytes.toString('latin1', 0, 2);
  }
  if (code < 255) return String.fromCharCode(code);
  bytes.writeUInt8(255);
  bytes.writeInt16LE(code, 1);
  return bytes.toString('latin1');
};

const binaryValue = (code: number, value: number | string): string => {
  const kind = binaryKind(code);
  if (typeof value === 'string' || kind === 'text') return `${value}\0`;
  const bytes = Buffer.alloc(8);
  switch (kind) {
    case 'double':
      bytes.writeDoubleLE(value);
      return bytes.toString('latin1');
    case 'int32':
      bytes.writeInt32LE(value);
      return bytes.toString('latin1', 0, 4);
    case 'int16':
      bytes.writeInt16LE(value);
      return bytes.toString('latin1', 0, 2);
    case 'byte':
      return String.fromCharCode(value);
    default:
      throw new Bug(`no number can be written as group code ${code}`);
  }
};
