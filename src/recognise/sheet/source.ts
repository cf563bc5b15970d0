import {
  type Document,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  type Pair,
  parseDocument,
} from 'yaml';
import type { Finding, Where } from '../../finding.ts';

/** Way to a value in the sheet: keys of maps and numbers of list entries. */
export type SheetPath = readonly (string | number)[];

/** The YAML of a sheet with its places, so that every finding can point at the line it is about. */
export interface SheetSource {
  /** Plain values; scalars that are not text or numbers by their own kind. */
  readonly value: unknown;
  /** Where a value stands; with `key`, where the key itself stands in the map at `path`. */
  where(path: SheetPath, key?: string): Where;
  /** A scalar as it was written: a size 08 stays 08. */
  written(path: SheetPath): string;
}

/** Parses the YAML of a sheet; the finding says where it breaks off. */
export const parseSource = (text: string, fileName: string): SheetSource | Finding => {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: true });
  const textLines = text.split(/\r?\n/);
  const whereAt = (offset: number): Where => {
    const { line, col } = lines.linePos(offset);
    return { file: fileName, line, column: col, excerpt: textLines[line - 1]?.trim().slice(0, 80) };
  };
  const unreadable = (why: string, offset: number): Finding => ({
    code: 'sheet-unreadable',
    level: 'error',
    where: whereAt(offset),
    message: `The pattern sheet cannot be read: ${why}.`,
    try: 'Check colons, quotation marks and the spaces at the start of the line. Nothing of the sheet was used.',
  });
  const [error] = document.errors;
  if (error !== undefined) return unreadable(error.message, error.pos[0]);
  let value: unknown;
  try {
    value = document.toJS({ maxAliasCount: 100 });
  } catch (problem) {
    if (!(problem instanceof ReferenceError)) throw problem;
    return unreadable(problem.message, 0);
  }
  return {
    value,
    where: (path, key) => whereAt(offsetOf(document, path, key)),
    written: (path) => {
      const node = nodeAt(document, path);
      return isScalar(node) && typeof node.value !== 'string'
        ? (node.source ?? String(node.value))
        : String(scalarValue(node));
    },
  };
};

const scalarValue = (node: unknown): unknown => (isScalar(node) ? node.value : '');

const resolved = (document: Document, node: unknown): unknown => (isAlias(node) ? node.resolve(document) : node);

const pairAt = (map: unknown, key: string | number): Pair | undefined =>
  isMap(map) ? map.items.find((pair) => isScalar(pair.key) && String(pair.key.value) === String(key)) : undefined;

const nodeAt = (document: Document, path: SheetPath): unknown => {
  let node: unknown = resolved(document, document.contents);
  for (const step of path) {
    const child: unknown = isSeq(node) ? node.items[Number(step)] : pairAt(node, step)?.value;
    node = resolved(document, child);
  }
  return node;
};

/** Of the value at the path; of its key where it is empty; else of the nearest thing around it. */
const offsetOf = (document: Document, path: SheetPath, key?: string): number => {
  if (key !== undefined) {
    const named = pairAt(nodeAt(document, path), key)?.key;
    return isNode(named) ? startOf(named) : offsetOf(document, path);
  }
  const node = nodeAt(document, path);
  if (isNode(node) && node.range) return startOf(node);
  const last = path.at(-1);
  return last === undefined ? 0 : offsetOf(document, path.slice(0, -1), typeof last === 'string' ? last : undefined);
};

const startOf = (node: Node): number => node.range?.[0] ?? 0;
