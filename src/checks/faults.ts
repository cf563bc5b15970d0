import type { Finding } from '../finding.ts';
import { distance } from '../geometry/point.ts';
import { edgeCalled, isSeamDown } from '../pattern/edges.ts';
import { type Pattern, pieceCalled } from '../pattern/pattern.ts';
import type { Edge, Piece } from '../pattern/piece.ts';
import { cornerAt, walkMates } from './walk.ts';

/* Faults that a pattern came with. They are told, and mended only when asked for. */

/** Tolerance of the trade for seams and dart legs: 1/16 in (Threads no. 200). mm */
const SIXTEENTH = 25.4 / 16;
/** Corners this far off are told, radians; past the second they were meant so. */
const OFF = (1.5 * Math.PI) / 180;
const MEANT = Math.PI / 12;

export const faultFindings = (pattern: Pattern): readonly Finding[] => [
  ...unevenSeams(pattern),
  ...pattern.pieces.flatMap((piece) => [...unevenLegs(piece), ...slantedCentres(piece)]),
];

const MEND = 'It stays as it is unless --true is given, which mends it.';

/** Mates of single seams that do not sew together. A row of edges (a waistband) has overlap and ease of its own. */
const unevenSeams = (pattern: Pattern): Finding[] =>
  walkMates(pattern).flatMap((walk) => {
    const mates = pattern.mates.find((m) => m.id === walk.mates);
    const [s] = mates?.one ?? [];
    const piece = s && pieceCalled(pattern, s.piece);
    const edge = piece && s && edgeCalled(piece, s.edge);
    const seam = edge && (isSeamDown(edge.role) || edge.role === 'centre');
    if (!seam || mates?.one.length !== 1 || mates.other.length !== 1) return [];
    const found: Finding[] = [];
    if (Math.abs(walk.difference) > SIXTEENTH) {
      found.push({
        code: 'fault-seams-uneven',
        level: 'warning',
        where: { edge: walk.mates },
        message: `As drafted, the two edges of the ${walk.mates} differ by ${Math.abs(walk.difference).toFixed(1)} mm.`,
        try: MEND,
      });
    }
    const off = walk.angles.map(Math.abs).filter((a) => a > OFF && a < MEANT);
    if (off.length > 0) {
      found.push({
        code: 'fault-corners-meet',
        level: 'note',
        where: { edge: walk.mates },
        message: `As drafted, the corners that meet at ${walk.mates} make a point or a hollow of ${degrees(Math.max(...off))}.`,
        try: MEND,
      });
    }
    return found;
  });

const unevenLegs = (piece: Piece): Finding[] =>
  piece.darts
    .filter((d) => d.edge !== undefined)
    .flatMap((dart): Finding[] => {
      const off = Math.abs(distance(dart.mouth[0], dart.tip) - distance(dart.mouth[1], dart.tip));
      if (off <= SIXTEENTH) return [];
      return [
        {
          code: 'fault-dart-legs',
          level: 'warning',
          where: { piece: piece.id },
          message: `As drafted, the legs of ${dart.id} differ by ${off.toFixed(1)} mm.`,
          try: MEND,
        },
      ];
    });

const slantedCentres = (piece: Piece): Finding[] =>
  piece.edges.flatMap((edge, i): Finding[] => {
    const before = piece.edges[(i - 1 + piece.edges.length) % piece.edges.length] as Edge;
    const pair = [before.role, edge.role];
    const centre = pair.includes('fold') || pair.includes('centre');
    const cross = pair.includes('waist') || pair.includes('hem');
    const off = Math.abs(cornerAt(piece, edge.first) - Math.PI / 2);
    if (!centre || !cross || off <= OFF || off >= MEANT) return [];
    return [
      {
        code: 'fault-not-square',
        level: 'note',
        where: { piece: piece.id, edge: edge.id },
        message: `As drafted, ${before.role} and ${edge.role} are ${degrees(off)} off a right angle.`,
        try: MEND,
      },
    ];
  });

const degrees = (radians: number): string => `${((radians * 180) / Math.PI).toFixed(1)}°`;
