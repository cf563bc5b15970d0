import type { Drawing } from '../../formats/drawing.ts';
import { edgeCalled } from '../../pattern/edges.ts';
import type { Mates, Pattern, SewnEdge } from '../../pattern/pattern.ts';
import { pieceCalled } from '../../pattern/pattern.ts';
import type { EdgeRole } from '../../pattern/piece.ts';
import { usualTimes } from '../sewing.ts';
import { isAboutMates, pieceLines } from './write-piece.ts';
import { because, exactLength, marked, noted, oneLine, plain, quoted } from './write-text.ts';

/**
 * Writes the pattern sheet of a pattern: what each line was taken for and why, as a YAML file to correct. What was not
 * found is a marked place, `# ?`, to fill in. Read back and obeyed as it stands it gives the same pattern.
 */
export const writeSheet = (pattern: Pattern, drawing: Drawing): string =>
  [
    ...head(pattern, drawing),
    ...whole(pattern, drawing),
    pattern.pieces.length === 0 ? '# ? No pieces were found in the drawing.' : 'pieces:',
    ...pattern.pieces.flatMap((piece) => pieceLines(piece, pattern, drawing)),
    ...generalDoubts(pattern),
    ...matesLines(pattern),
    ...viewLines(pattern),
    '',
  ].join('\n');

const head = (pattern: Pattern, drawing: Drawing): readonly string[] => [
  `# Pattern sheet of ${oneLine(pattern.fileName)}.`,
  '# It says what the lines of the drawing were taken for, and why. Correct what is wrong; what stands here goes before',
  '# the drawing. Lines that start with "# ?" ask for what was not found: fill them in and take the "#" away.',
  `# Places are [x, y] in the drawing's own units (1 unit is ${plain(drawing.units.millimetresPerUnit, 6)} mm) and position, y ${drawing.format === 'svg' ? 'downwards from the top' : 'upwards'}.`,
  'retrue pattern sheet: 1',
];

const whole = (pattern: Pattern, drawing: Drawing): readonly string[] => [
  ...unitLines(drawing),
  ...(pattern.style === '' ? [] : [`style: ${quoted(pattern.style)}`]),
  ...(pattern.size === '' ? marked('Size the pattern is drafted for:', 'size: …') : [`size: ${quoted(pattern.size)}`]),
  ...draftedForLines(pattern),
  ...outlineLines(pattern),
];

const unitLines = ({ units }: Drawing): readonly string[] => {
  const named = units.name === 'mm' || units.name === 'cm' || units.name === 'in';
  if (units.statedBy === 'unstated')
    return marked('The file does not say what its unit is; millimetres were assumed:', 'units: mm');
  if (units.statedBy === 'option' && named) return [`units: ${units.name}`];
  return [`# units: ${units.name}, as the file says`];
};

const draftedForLines = (pattern: Pattern): readonly string[] => {
  const stated = Object.entries(pattern.draftedFor);
  if (stated.length === 0) {
    return marked(
      'Body measurements (without ease) that the pattern was drafted for, each with its unit:',
      'drafted for:',
      '  waist girth: … in',
      '  hip girth: … in',
    );
  }
  return ['drafted for:', ...stated.map(([name, mm]) => `  ${quoted(name)}: ${exactLength(mm)}`)];
};

const outlineLines = (pattern: Pattern): readonly string[] => {
  const derived = pattern.pieces.some((piece) => piece.seamLineFrom === 'derived');
  const alone = pattern.pieces.some((piece) => piece.seamLineFrom === 'only outline');
  if (derived) return ['outline is: cutting line'];
  if (!alone) return [];
  return marked(
    'Pieces with one outline: is it the cutting line (and how wide is the allowance), or the seam line?',
    'outline is: cutting line',
    'allowance: 15 mm',
  );
};

const generalDoubts = (pattern: Pattern): readonly string[] => {
  const ids = new Set(pattern.pieces.map((piece) => piece.id));
  return pattern.doubts
    .filter((d) => !ids.has(d.piece) && !isAboutMates(d))
    .flatMap((d) => marked(d.message, ...d.sheetLine.split('\n')));
};

/** Roles whose edges are sewn to another edge of the pattern. */
const sewnRoles: ReadonlySet<EdgeRole> = new Set([
  ...(['side', 'gore seam', 'waist', 'band seam', 'panel seam'] as const),
  ...(['shoulder', 'armhole', 'cap', 'sleeve seam', 'inseam'] as const),
]);

const matesLines = (pattern: Pattern): readonly string[] => {
  const mates = [...pattern.mates, ...(pattern.within ?? [])];
  const doubts = pattern.doubts.filter(isAboutMates);
  const unsewn = unsewnEdges(pattern).filter(
    ([piece, edge]) => !doubts.some((d) => d.piece === piece && d.edge === edge),
  );
  /** Lines to take the # away from: with the heading where it does not stand already. */
  const asked = (lines: readonly string[]): readonly string[] => (mates.length === 0 ? ['mates:', ...lines] : lines);
  return [
    '',
    ...(mates.length === 0 ? [] : [mates.every((m) => isInDoubt(m, pattern)) ? '# mates:' : 'mates:']),
    ...mates.map((m) => {
      const line = `- { name: ${quoted(m.id)}, sew: [${rowText(m.one, pattern)}, ${rowText(m.other, pattern)}] }`;
      return isInDoubt(m, pattern)
        ? noted(`#  ${line}`, 'sewn if that edge is a seam, which is in doubt')
        : noted(`  ${line}`, because(m));
    }),
    ...doubts.flatMap((d) => marked(`${d.piece}: ${d.message}`, ...asked(d.sheetLine.split('\n').slice(1)))),
    ...(unsewn.length === 0
      ? []
      : marked(
          'No mate was found for these edges. Say what each is sewn to, if it is sewn at all:',
          ...asked(unsewn.map((names) => `  - sew: [${quoted(names.join(' '))}, …]`)),
        )),
  ];
};

/** Whether an edge of the mates may be the fold as well, which is sewn to nothing. */
const isInDoubt = ({ one, other }: Mates, { doubts }: Pattern): boolean =>
  [...one, ...other].some((s) =>
    doubts.some((d) => d.code === 'recognise-fold-doubtful' && d.piece === s.piece && d.edge === s.edge),
  );

const unsewnEdges = (pattern: Pattern): readonly (readonly [piece: string, edge: string])[] => {
  const sewn = new Set(pattern.mates.flatMap((m) => [...m.one, ...m.other]).map((s) => `${s.piece}\n${s.edge}`));
  return pattern.pieces.flatMap((piece) =>
    piece.edges
      .filter((edge) => sewnRoles.has(edge.role) && !sewn.has(`${piece.id}\n${edge.id}`))
      .map((edge) => [piece.id, edge.id] as const),
  );
};

const rowText = (row: Mates['one'], pattern: Pattern): string =>
  row.length === 1 && row[0] ? sewnText(row[0], pattern) : `[${row.map((s) => sewnText(s, pattern)).join(', ')}]`;

/** With how often it occurs, unless that is once and usual. */
const sewnText = (sewn: SewnEdge, pattern: Pattern): string => {
  const piece = pieceCalled(pattern, sewn.piece);
  const edge = piece && edgeCalled(piece, sewn.edge);
  const isPlain = sewn.times === 1 && (!piece || !edge || usualTimes(piece, edge) === 1);
  return quoted(`${sewn.piece} ${sewn.edge}${isPlain ? '' : ` x${sewn.times}`}`);
};

const viewLines = (pattern: Pattern): readonly string[] => {
  if (pattern.views.length > 0) {
    return [
      '',
      'views:',
      ...pattern.views.map((view) => `  ${quoted(view.name)}: [${view.needs.map(quoted).join(', ')}]`),
    ];
  }
  if (pattern.pieces.length === 0) return [];
  const all = pattern.pieces.map((piece) => quoted(piece.id)).join(', ');
  return ['', ...marked('If the pattern has several views, the pieces each needs:', 'views:', `  A: [${all}]`)];
};
