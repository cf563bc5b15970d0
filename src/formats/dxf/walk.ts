import DxfParser from 'dxf-parser';
import { Bug } from '../../finding.ts';
import { type Report, type TagRange, type Tags, textAt, whereOf } from './tags.ts';

/** An entity: its name, its own tags, and those of the vertices or attributes that belong to it. */
export interface Entity extends TagRange {
  readonly type: string;
  /** VERTEX of a POLYLINE, ATTRIB of an INSERT. */
  readonly parts: readonly Entity[];
  /** Past its last tag, SEQEND included: where something new may be put after it. */
  readonly last: number;
  /** True when bytes were skipped inside it: it cannot be trusted. */
  readonly damaged: boolean;
}

export interface Block {
  readonly name: string;
  readonly description: string;
  readonly head: TagRange;
  readonly entities: readonly Entity[];
}

export interface Structure {
  /** In the order of the file; of two blocks with one name the first counts. */
  readonly blocks: readonly Block[];
  readonly entities: readonly Entity[];
}

/**
 * Sections, blocks and entities of a file. dxf-parser walks a skeleton of it: one tag for each section, block and
 * entity, carrying the place of its tags. So its own reading of values (which drops and alters some) is never used,
 * and what it would stumble over (missing ENDSEC, second sections, blocks without end) is mended and told first.
 */
export const walk = (tags: Tags, cutShort: boolean, report: Report): Structure => {
  const skeleton = skeletonOf(tags, cutShort, report);
  const parsed = parse(skeleton);
  const blocks: Block[] = [];
  const names = new Map<string, true>();
  for (const [i, head] of skeleton.heads.entries()) {
    const block = blockOf(tags, head, grouped(tags, parsed.blocks[i] ?? [], skeleton.cutFrom, report));
    if (block.name === '') {
      report(
        'dxf-block-nameless',
        'warning',
        whereOf(tags, head.start),
        'A block has no name and cannot be placed.',
        'Export the drawing again; the block is kept in the file as it is.',
      );
    } else if (names.has(block.name)) {
      report(
        'dxf-block-twice',
        'warning',
        whereOf(tags, head.start),
        `The block “${block.name}” is defined twice. The first definition is used.`,
        'Rename one of the two blocks in the drawing.',
      );
    } else {
      names.set(block.name, true);
      blocks.push(block);
    }
  }
  return { blocks, entities: grouped(tags, parsed.entities, skeleton.cutFrom, report) };
};

interface Skeleton {
  readonly blocks: string[];
  readonly entities: string[];
  readonly names: Set<string>;
  readonly heads: TagRange[];
  /** First tag of the entity in which the file breaks off, or past the last tag. */
  cutFrom: number;
}

/** Entity names are prefixed so that none of them is a word the walker knows. */
const PREFIX = 'entity ';

const skeletonOf = (tags: Tags, cutShort: boolean, report: Report): Skeleton => {
  const skeleton: Skeleton = { blocks: [], entities: [], names: new Set(), heads: [], cutFrom: tags.count };
  let section = '';
  let inBlock = false;
  let ended = false;
  let lastEntity = tags.count;
  const endSection = (at: number, stated: boolean): void => {
    if (inBlock) endBlock(at, false);
    if (section !== '' && !stated) missing(tags, at, 'ENDSEC', 'section', report);
    section = '';
  };
  const endBlock = (at: number, stated: boolean): void => {
    if (!stated) missing(tags, at, 'ENDBLK', 'block', report);
    skeleton.blocks.push('0', 'ENDBLK');
    inBlock = false;
  };
  for (let i = 0; i < tags.count; i = nextZero(tags, i)) {
    if (tags.code[i] !== 0) continue;
    const name = textAt(tags, i);
    if (name === 'SECTION') {
      endSection(i, section === '');
      section = tags.code[i + 1] === 2 ? textAt(tags, i + 1) : '?';
    } else if (name === 'ENDSEC') {
      endSection(i, true);
    } else if (name === 'EOF') {
      endSection(i, section === '');
      ended = true;
    } else if (section === 'BLOCKS' && name === 'BLOCK') {
      if (inBlock) endBlock(i, false);
      inBlock = true;
      skeleton.heads.push({ start: i, end: nextZero(tags, i) });
      skeleton.blocks.push('0', 'BLOCK', '2', String(skeleton.heads.length - 1));
    } else if (section === 'BLOCKS' && name === 'ENDBLK') {
      if (inBlock) endBlock(i, true);
    } else if ((section === 'BLOCKS' && inBlock) || section === 'ENTITIES') {
      skeleton.names.add(name);
      lastEntity = i;
      const into = section === 'ENTITIES' ? skeleton.entities : skeleton.blocks;
      into.push('0', `${PREFIX}${name}`, '1', String(i));
    }
  }
  if (!ended) finishOpen(tags, section, cutShort, lastEntity, skeleton, report);
  if (inBlock) endBlock(tags.count - 1, false);
  return skeleton;
};

/** The file has no EOF: complete but for the mark, or cut off within an entity, which then cannot be trusted. */
const finishOpen = (
  tags: Tags,
  section: string,
  cutShort: boolean,
  lastEntity: number,
  skeleton: Skeleton,
  report: Report,
): void => {
  if (section === '' && !cutShort) {
    report(
      'dxf-no-end',
      'warning',
      whereOf(tags, tags.count - 1),
      'The end mark (EOF) of the file is missing; all sections before it are complete.',
      'Nothing needs doing; to be sure, export the file again.',
    );
    return;
  }
  if (section === 'BLOCKS' || section === 'ENTITIES') skeleton.cutFrom = lastEntity;
  if (cutShort && tags.count > 0 && section === '') return;
  report(
    'dxf-truncated',
    'error',
    whereOf(tags, tags.count - 1),
    `The file breaks off${section === '' ? '' : ` in its ${section} section`}: the last entity may be incomplete and what came after it is missing.`,
    'Copy or export the file again: this copy is not complete.',
  );
};

const missing = (tags: Tags, at: number, mark: string, what: string, report: Report): void =>
  report(
    mark === 'ENDSEC' ? 'dxf-section-open' : 'dxf-block-open',
    'warning',
    whereOf(tags, at),
    `The end (${mark}) of a ${what} is missing; it is taken to end here.`,
    'Check that nothing is missing from the drawing, or export it again.',
  );

const nextZero = (tags: Tags, from: number): number => {
  let i = from + 1;
  while (i < tags.count && tags.code[i] !== 0) i++;
  return i;
};

interface Scanner {
  next(): { code: number; value: unknown };
}

/** An entity handler that keeps the place its skeleton tag names, and nothing else. */
const handlerFor = (name: string) =>
  class {
    readonly ForEntityName = `${PREFIX}${name}`;
    parseEntity(scanner: Scanner): { type: string; handle: number } {
      const place = Number(scanner.next().value);
      scanner.next();
      return { type: name, handle: place + 1 };
    }
  };

interface Parsed {
  readonly blocks: readonly (readonly number[])[];
  readonly entities: readonly number[];
}

/** Start tags of the entities, for each block by its number and for the drawing itself. */
const parse = (skeleton: Skeleton): Parsed => {
  const parser = new DxfParser();
  type Handler = Parameters<typeof parser.registerEntityHandler>[0];
  for (const name of skeleton.names) parser.registerEntityHandler(handlerFor(name) as unknown as Handler);
  const section = (name: string, lines: readonly string[]) => ['0', 'SECTION', '2', name, ...lines, '0', 'ENDSEC'];
  const lines = [...section('BLOCKS', skeleton.blocks), ...section('ENTITIES', skeleton.entities), '0', 'EOF'];
  const dxf = parser.parse(lines.join('\n'));
  if (dxf === null) throw new Bug('the skeleton of a DXF file could not be walked');
  const starts = (entities: readonly { handle: number }[] | undefined) => (entities ?? []).map((e) => e.handle - 1);
  return {
    blocks: skeleton.heads.map((_, i) => starts(dxf.blocks[String(i)]?.entities)),
    entities: starts(dxf.entities),
  };
};

const blockOf = (tags: Tags, head: TagRange, entities: readonly Entity[]): Block => {
  const first = (code: number): string => {
    for (let i = head.start + 1; i < head.end; i++) if (tags.code[i] === code) return textAt(tags, i);
    return '';
  };
  return { name: first(2), description: first(4), head, entities };
};

/** Puts vertices with their POLYLINE and attributes with their INSERT; leaves out what the broken end spoils. */
const grouped = (tags: Tags, starts: readonly number[], cutFrom: number, report: Report): Entity[] => {
  const entities: Entity[] = [];
  let i = 0;
  while (i < starts.length) {
    const start = starts[i] ?? 0;
    const type = textAt(tags, start);
    const partType = type === 'POLYLINE' ? 'VERTEX' : type === 'INSERT' ? 'ATTRIB' : undefined;
    const parts: Entity[] = [];
    let next = i + 1;
    while (partType !== undefined && valueAt(tags, starts, next) === partType) {
      parts.push(single(tags, starts[next] ?? 0));
      next++;
    }
    const closed = partType !== undefined && valueAt(tags, starts, next) === 'SEQEND';
    if (closed) next++;
    const last = nextZero(tags, starts[next - 1] ?? start);
    const own = single(tags, start);
    const cut = last > cutFrom && !(closed && (starts[next - 1] ?? 0) < cutFrom);
    if (type === 'POLYLINE' && !closed && !cut) {
      report(
        'dxf-no-seqend',
        'warning',
        whereOf(tags, start),
        'The end (SEQEND) of a polyline is missing; it is taken to end with its last vertex.',
        'Check the line in the drawing.',
      );
    }
    if (!cut) entities.push({ ...own, parts, last, damaged: own.damaged || parts.some((p) => p.damaged) });
    i = next;
  }
  return entities;
};

const valueAt = (tags: Tags, starts: readonly number[], i: number): string | undefined => {
  const start = starts[i];
  return start === undefined ? undefined : textAt(tags, start);
};

const single = (tags: Tags, start: number): Entity => {
  const end = nextZero(tags, start);
  let damaged = false;
  if (tags.damaged.size > 0) for (let i = start; i < end && !damaged; i++) damaged = tags.damaged.has(i);
  return { type: textAt(tags, start), start, end, parts: [], last: end, damaged };
};
