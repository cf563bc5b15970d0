import { type Affine, compose, scaling } from '../../geometry/transform.ts';
import type { Container } from '../drawing.ts';
import type { ReadContext } from './entities/shape.ts';
import { insertCells, isUsable } from './insert.ts';
import { numberAt, type Report, type Tags, textAt, whereOf } from './tags.ts';
import { decodeText, type TextEncoding } from './text.ts';
import type { Block, Entity, Structure } from './walk.ts';

/** An entity where it is drawn. */
export interface Placed {
  readonly entity: Entity;
  readonly container: string;
  /** From the plane the entity's block is drawn in to the drawing, mm. */
  readonly toDrawing: Affine;
  /** Layer of the insert it came by: what lies on layer 0 of a block takes it on. */
  readonly insertLayer: string | undefined;
}

export interface Placing {
  readonly containers: readonly Container[];
  readonly placed: readonly Placed[];
  /** True when there was more than can be drawn. */
  readonly tooMany: boolean;
}

/** More placed entities and blocks than this are no pattern but an accident, or mischief. */
const MOST = 200_000;
const MOST_TAGS = 20_000_000;
const DEEPEST = 64;

/** What following the inserts needs and gathers. */
interface Following {
  readonly tags: Tags;
  readonly blocks: ReadonlyMap<string, Block>;
  readonly context: ReadContext;
  readonly encoding: TextEncoding;
  readonly report: Report;
  readonly containers: Container[];
  readonly placed: Placed[];
  /** How often each block was placed in each container. */
  readonly ordinals: Map<string, number>;
  /** Faults told already: one each for a block is enough. */
  readonly told: Set<string>;
  /** Tags gone through, each placing counted. */
  work: number;
  tooMany: boolean;
}

/** Where entities are placed: a container, the way to the drawing, the blocks around. */
interface Place {
  readonly container: string;
  readonly toDrawing: Affine;
  readonly insertLayer: string | undefined;
  readonly within: readonly string[];
}

/** Follows the inserts from the drawing itself down, with turn, scale, mirror and arrays. */
export const placeAll = (
  tags: Tags,
  structure: Structure,
  context: ReadContext,
  encoding: TextEncoding,
  millimetresPerUnit: number,
  report: Report,
): Placing => {
  const following: Following = {
    tags,
    blocks: new Map(structure.blocks.map((b) => [b.name.toUpperCase(), b] as const)),
    context,
    encoding,
    report,
    containers: [{ id: 'root', kind: 'root', name: '', label: '', definition: 'root' }],
    placed: [],
    ordinals: new Map(),
    told: new Set(),
    work: 0,
    tooMany: false,
  };
  const modelSpace = structure.entities.filter((e) => !isPaperSpace(tags, e));
  const root: Place = { container: 'root', toDrawing: scaling(millimetresPerUnit), insertLayer: undefined, within: [] };
  placeEntities(following, modelSpace, root);
  const draws = modelSpace.some((e) => !['TEXT', 'MTEXT', 'ATTDEF'].includes(e.type));
  placeOrTellUnplaced(following, neverInserted(tags, structure), draws, root);
  const { containers, placed, tooMany } = following;
  if (tooMany) {
    report(
      'dxf-too-many',
      'error',
      {},
      `The drawing unfolds into more than ${MOST.toLocaleString('en')} entities; that is no pattern.`,
      'Look for arrays of blocks within blocks, and take them out.',
    );
  }
  return { containers, placed, tooMany };
};

/** Whether there is more than can be drawn; then all placing stops. */
const isFull = (following: Following, cost: number): boolean => {
  following.work += cost;
  following.tooMany ||= following.placed.length + following.containers.length > MOST || following.work > MOST_TAGS;
  return following.tooMany;
};

/** A container for one placing of a block. */
const enter = ({ encoding, ordinals, containers }: Following, block: Block, parent: string): string => {
  const name = decodeText(block.name, encoding);
  const stem = parent === 'root' ? name : `${parent}/${name}`;
  const n = (ordinals.get(stem) ?? 0) + 1;
  ordinals.set(stem, n);
  const id = `${stem}#${n}`;
  const label = decodeText(block.description, encoding);
  containers.push({ id, kind: 'block', name, label, parent, definition: `block:${name}` });
  return id;
};

const placeEntities = (following: Following, entities: readonly Entity[], place: Place): void => {
  const { container, toDrawing, insertLayer } = place;
  for (const entity of entities) {
    if (isFull(following, entity.last - entity.start)) return;
    if (entity.type === 'INSERT') placeInsert(following, entity, place);
    else following.placed.push({ entity, container, toDrawing, insertLayer });
  }
};

const placeInsert = (following: Following, entity: Entity, place: Place): void => {
  const { tags, context, report } = following;
  const fields = context.fieldsOf(entity);
  const nameTag = fields.tag(2);
  const block = insertedBlock(following, entity, nameTag === undefined ? '' : textAt(tags, nameTag), place);
  if (block === undefined) return;
  const stated = fields.text(8);
  const insertLayer = stated === '0' || stated === '' ? place.insertLayer : stated;
  const within = [...place.within, block.name];
  let { container } = place;
  for (const cell of insertCells(fields, block, tags, report)) {
    const toDrawing = compose(place.toDrawing, cell);
    if (!isUsable(toDrawing)) {
      tellOnce(following, entity, block.name, 'dxf-flat-insert');
      break;
    }
    if (isFull(following, 1)) return;
    container = enter(following, block, place.container);
    placeEntities(following, block.entities, { container, toDrawing, insertLayer, within });
  }
  // Attributes are drawn where the insert stands, and speak of what it places.
  for (const attribute of entity.parts) {
    following.placed.push({ entity: attribute, container, toDrawing: place.toDrawing, insertLayer: place.insertLayer });
  }
};

/** The block an insert names; undefined, and told, when it cannot be placed. */
const insertedBlock = (following: Following, entity: Entity, name: string, place: Place): Block | undefined => {
  const block = following.blocks.get(name.toUpperCase());
  if (block === undefined) {
    tellOnce(following, entity, name, 'dxf-missing-block');
    return undefined;
  }
  if (place.within.includes(block.name) || place.within.length >= DEEPEST) {
    tellOnce(following, entity, name, 'dxf-block-cycle');
    return undefined;
  }
  return block;
};

type InsertFault = 'dxf-missing-block' | 'dxf-block-cycle' | 'dxf-flat-insert';

const INSERT_FAULTS: Readonly<Record<InsertFault, readonly [string, string]>> = {
  'dxf-missing-block': [
    'is placed but not in the file.',
    'Export the drawing again with all its blocks (references bound).',
  ],
  'dxf-block-cycle': [
    'is placed within itself, or nested too deep; that placing is left out.',
    'Take the insert out of the block in the program the drawing comes from.',
  ],
  'dxf-flat-insert': [
    'is placed with a scale of 0, or one beyond all measure: nothing of it can be drawn.',
    'Give the insert a scale, or take it out.',
  ],
};

const tellOnce = (
  { tags, encoding, told, report }: Following,
  entity: Entity,
  name: string,
  code: InsertFault,
): void => {
  if (told.has(`${code} ${name}`)) return;
  told.add(`${code} ${name}`);
  const [what, suggestion] = INSERT_FAULTS[code];
  report(code, 'error', whereOf(tags, entity.start), `The block “${decodeText(name, encoding)}” ${what}`, suggestion);
};

/** Blocks that nothing places are pieces where they were drawn, unless the drawing draws something else. */
const placeOrTellUnplaced = (following: Following, unplaced: readonly Block[], draws: boolean, root: Place): void => {
  const { tags, encoding, report } = following;
  const [first] = unplaced;
  if (first === undefined) return;
  const many = unplaced.length > 1;
  if (draws) {
    const names = unplaced.slice(0, 5).map((b) => decodeText(b.name, encoding));
    report(
      'dxf-block-unused',
      'note',
      whereOf(tags, first.head.start),
      `${unplaced.length} block${many ? 's are' : ' is'} in the file but nowhere in the drawing, and not read: ${names.join(', ')}${unplaced.length > 5 ? ', …' : ''}.`,
      'If one of them is a piece, insert it in the drawing.',
    );
    return;
  }
  report(
    'dxf-blocks-unplaced',
    'note',
    whereOf(tags, first.head.start),
    `The drawing places none of its ${unplaced.length} block${many ? 's' : ''}; each is taken as a piece, where it was drawn.`,
    'Nothing needs doing.',
  );
  for (const block of unplaced) {
    if (isFull(following, 1)) return;
    placeEntities(following, block.entities, {
      ...root,
      container: enter(following, block, 'root'),
      within: [block.name],
    });
  }
};

const isPaperSpace = (tags: Tags, entity: Entity): boolean => {
  for (let i = entity.start + 1; i < entity.end; i++) {
    const code = tags.code[i] ?? 0;
    if (code === 67) return numberAt(tags, i) === 1;
    if (code >= 1000) break;
  }
  return false;
};

/** Named blocks that neither the drawing nor another block places. */
const neverInserted = (tags: Tags, structure: Structure): Block[] => {
  const inserted = new Set<string>();
  const note = (entities: readonly Entity[]): void => {
    for (const e of entities) {
      if (e.type !== 'INSERT') continue;
      for (let i = e.start; i < e.end; i++) if (tags.code[i] === 2) inserted.add(textAt(tags, i).toUpperCase());
    }
  };
  note(structure.entities);
  for (const block of structure.blocks) note(block.entities);
  return structure.blocks.filter(
    (b) =>
      !b.name.startsWith('*') &&
      !b.name.startsWith('$') &&
      !b.name.startsWith('_') &&
      b.entities.length > 0 &&
      !inserted.has(b.name.toUpperCase()),
  );
};
