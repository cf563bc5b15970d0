import type { Finding } from '../finding.ts';
import type { Lay, Template } from './template.ts';

/** How often one template is laid, each way up. */
export interface Copies {
  readonly template: Template;
  readonly asDrawn: number;
  readonly mirrored: number;
}

/** As many as are cut, or each once as a pattern to keep. */
export type Counting = 'as cut' | 'once';

/**
 * Pieces that are cut as pairs are laid half as drawn and half mirrored. On folded cloth one lying gives the two of a
 * pair; on the fold one lying gives one whole piece.
 */
export const copiesOf = (
  template: Template,
  lay: Lay,
  counting: Counting,
): { readonly copies: Copies; readonly findings: readonly Finding[] } => {
  const { count, mirrored, half } = template;
  if (counting === 'once') return { copies: { template, asDrawn: 1, mirrored: 0 }, findings: [] };
  if (lay === 'folded' && half !== 'on fold') {
    const odd = count % 2 === 1 ? [oddOnFold(template)] : [];
    return { copies: { template, asDrawn: Math.ceil(count / 2), mirrored: 0 }, findings: odd };
  }
  const others = mirrored ? Math.floor(count / 2) : 0;
  return { copies: { template, asDrawn: count - others, mirrored: others }, findings: [] };
};

const oddOnFold = ({ id, name, count }: Template): Finding => ({
  code: 'layout-odd-on-fold',
  level: 'warning',
  where: { piece: id },
  message: `${name} is cut ${count === 1 ? 'once' : `${count} times`}, and folded cloth gives two of each: one will be spare.`,
  try: 'Cut that one from a single layer, or lay all pieces on single cloth.',
});
