import { edgeLength } from '../pattern/edges.ts';
import type { Pattern } from '../pattern/pattern.ts';

export interface EdgeLength {
  readonly piece: string;
  readonly edge: string;
  /** Along the seam line, darts closed, mm. */
  readonly length: number;
}

export const edgeLengths = (pattern: Pattern): readonly EdgeLength[] =>
  pattern.pieces.flatMap((piece) =>
    piece.edges.map((edge) => ({ piece: piece.id, edge: edge.id, length: edgeLength(piece, edge) })),
  );
