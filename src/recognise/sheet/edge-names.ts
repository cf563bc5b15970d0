import { plainWords } from '../../measurements/words.ts';
import type { EdgeRole } from '../../pattern/piece.ts';
import type { SheetSewn } from './types.ts';

/** Roles an edge may be called by, two-word ones first so that 'band seam' is not read as an edge 'seam'. */
export const edgeRoles: readonly EdgeRole[] = [
  'gore seam',
  'panel seam',
  'sleeve seam',
  'band seam',
  'band top',
  'yoke seam',
  'waist',
  'side',
  'hem',
  'neck',
  'shoulder',
  'armhole',
  'cap',
  'wrist',
  'crotch',
  'inseam',
  'free',
  'centre',
  'fold',
  'end',
  'unknown',
];

/** Whether a text is a role, or a role with a number behind it: 'side', 'side-2', 'Gore seam 3'. */
export const isEdgeName = (text: string): boolean => {
  const plain = plainWords(text).replace(/\bcenter\b/, 'centre');
  return edgeRoles.some(
    (role) => plain === role || (plain.startsWith(`${role} `) && /^\d+$/.test(plain.slice(role.length + 1))),
  );
};

/**
 * Reads 'front side', 'waistband band seam', 'skirt front: side-2', 'back waist x2': a piece, one of its edges, and
 * how often it occurs. `given` are edge ids that the sheet itself introduces. Undefined when no edge ends the text.
 */
export const parseSewn = (text: string, given: readonly string[]): SheetSewn | undefined => {
  const times = /\s*(?:\s[x×]|×)\s*([1-9]\d{0,2})$/i.exec(text);
  const rest = (times === null ? text : text.slice(0, times.index)).trim();
  const own = new Set(given.map(plainWords));
  const breaks = [...rest.matchAll(/\s*:\s*|\s+/g)];
  for (const gap of breaks) {
    const piece = rest.slice(0, gap.index).trim();
    const edge = rest.slice(gap.index + gap[0].length).trim();
    if (piece === '' || !(own.has(plainWords(edge)) || isEdgeName(edge))) continue;
    return times === null ? { piece, edge } : { piece, edge, times: Number(times[1]) };
  }
  return undefined;
};
