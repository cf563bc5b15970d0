import type { Finding } from '../finding.ts';
import { formatChange, formatLength } from '../measurements/units.ts';
import { type Followed, followAll, type LeftBehind } from '../paper/follow.ts';
import type { Garment } from '../paper/garment.ts';
import { edgeCalled } from '../pattern/edges.ts';
import { type Pattern, pieceCalled } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import type { FollowRecord, LengthShown } from './contract.ts';

/** After all steps: what is sewn to the altered pieces follows them, and it is told what was done and what was left. */
export const companionsFollow = (
  garment: Garment,
  taped: Pattern,
  show: LengthShown,
): { readonly pattern: Pattern; readonly followed: readonly FollowRecord[]; readonly findings: readonly Finding[] } => {
  const { pattern, followed, left } = followAll(garment, taped);
  return {
    pattern,
    followed: followed.map((f) => ({ piece: f.id, did: `${nameOf(taped, f.id)}: ${deed(taped, f, show)}` })),
    findings: left.map((l) => leftFinding(taped, l, show)),
  };
};

const nameOf = (pattern: Pattern, id: string): string => pieceCalled(pattern, id)?.name || id;

const deed = (pattern: Pattern, f: Followed, show: LengthShown): string => {
  if (f.kind === 'facing') {
    const piece = pieceCalled(pattern, f.id);
    const role = (piece && edgeCalled(piece, f.edge)?.role) ?? 'edge';
    return `cut anew by the altered ${role} of ${f.faced.map((id) => nameOf(pattern, id)).join(' and ')}`;
  }
  if (f.kind === 'pocket') {
    const role =
      (pieceCalled(pattern, f.id) && edgeCalled(pieceCalled(pattern, f.id) as Piece, f.edge)?.role) ?? 'edge';
    const long =
      Math.abs(f.by) < 0.05
        ? 'as long as before'
        : `${formatLength(Math.abs(f.by), show)} ${f.by < 0 ? 'shorter' : 'longer'}`;
    return `its ${role} edge drawn anew by the seam of ${nameOf(pattern, f.into)} that it is set into, ${long}`;
  }
  if (f.kind === 'yoke')
    return `side seams ${f.by < 0 ? 'in' : 'out'} from the waist to the yoke seam, which is ${formatLength(Math.abs(f.by), show)} ${f.by < 0 ? 'shorter' : 'longer'}`;
  const whole = f.by.reduce((a, b) => a + b, 0);
  const gained = `${formatLength(Math.abs(whole), show)} ${whole < 0 ? 'shorter' : 'longer'}`;
  if (f.at === 'middle') return `${gained}, in the middle of what is sewn on`;
  if (f.at === 'centre back') return `${gained}, at the centre back`;
  if (f.at === 'beside notches') {
    const parts = f.by.map((b) => formatChange(b, show)).join(', ');
    return `${gained}: ${parts}, each part between its notches by what that part of the neck gained`;
  }
  return `${gained}${atNotches(pieceCalled(pattern, f.id), f, show)}`;
};

/**
 * What a band gained at which of its notches, so that a ruler can tell: `: +⅜ in at the notch 6⅝ in (now 6⅞ in) from
 * the fold, +¼ in at 13¼ in (now 13¾ in)`; of a single one, which gained all, only where it is. An outline runs anticlockwise, so that an edge which lies towards one starts left.
 */
const atNotches = (
  piece: Piece | undefined,
  { edge, by, places }: Extract<Followed, { readonly kind: 'band' }>,
  show: LengthShown,
): string => {
  const own = piece ? piece.edges.findIndex((e) => e.id === edge) : -1;
  const folded = piece?.edges.at(own - 1)?.role === 'fold';
  const from = folded ? 'the fold' : `the left end, as drawn and with the ${edge.replaceAll('-', ' ')} towards you`;
  const [first, ...rest] = places.map(({ was, is }) => `${formatLength(was, show)} (now ${formatLength(is, show)})`);
  const gained = by.map((b) => formatChange(b, show));
  if (rest.length === 0) return `, at the notch ${first} from ${from}`;
  const others = rest.map((place, i) => `, ${gained[i + 1]} at ${place}`);
  return `: ${gained[0]} at the notch ${first} from ${from}${others.join('')}`;
};

/** What is known of the amount of a facing that lies nowhere: what the edges of its kind gained round the body. */
const needsText = (edge: string, needs: number | undefined, show: LengthShown): string =>
  needs === undefined
    ? `The ${edge} was altered.`
    : `The ${edge} of the pieces it may belong to is ${formatChange(needs, show)} longer.`;

const leftFinding = (pattern: Pattern, l: LeftBehind, show: LengthShown): Finding => {
  const piece = pieceCalled(pattern, l.id);
  const name = nameOf(pattern, l.id);
  const edge = (piece && edgeCalled(piece, l.edge)?.role) ?? l.edge;
  if (l.why === 'no notches') {
    return {
      code: 'alter-band-unmatched',
      level: 'error',
      where: { piece: l.id, edge: l.edge },
      message: `${name} has no notches where the seams come to lie; it was not changed. Its ${edge} needs ${formatChange(l.needs ?? 0, show)} in all.`,
      try: 'Mark the seams on the band with notches.',
    };
  }
  if (l.why === 'unknown place' && piece?.part === 'pocket') {
    return {
      code: 'alter-pocket-unplaced',
      level: 'error',
      where: { piece: l.id, edge: l.edge },
      message: `${name} is set into a seam that was altered, and no notches say where on it; it was not changed.`,
      try: 'Mark the ends of the opening on the seam with notches, or leave the pocket out of the view.',
    };
  }
  if (l.why === 'unknown place') {
    return {
      code: 'alter-facing-unplaced',
      level: 'error',
      where: { piece: l.id, edge: l.edge },
      message: `${name} lies on none of the pieces as they were drafted, so nothing says what its ${edge} is sewn to; it was not changed. ${needsText(edge, l.needs, show)}`,
      try: `Say what it is sewn to in the pattern sheet (“mates”), or cut it anew by the altered ${edge}.`,
    };
  }
  return {
    code: 'alter-follower-left',
    level: 'error',
    where: { piece: l.id, edge: l.edge },
    message: `${name} was not altered, and its ${edge} no longer matches what it is sewn to: it needs ${formatChange(l.needs ?? 0, show)} there.`,
    try: 'Alter it by hand by that amount, state other mates in the pattern sheet, or leave the piece out of the view.',
  };
};
