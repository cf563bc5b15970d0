import { hasErrors } from '../finding.ts';
import type { Cloth } from '../pattern/piece.ts';
import { type ArrangeOptions, arrange } from './arrange.ts';
import { copiesOf } from './copies.ts';
import type { ReckoningProgress } from './progress.ts';
import type { Template } from './template.ts';

/** Cloth that one fitting needs of one kind, when its pieces alone are laid on single cloth with the grain along it. */
export interface ClothEstimate {
  readonly fitting: string;
  readonly cloth: Cloth;
  /** Width of the cloth, mm. */
  readonly width: number;
  /** Length needed, mm; null when a piece does not fit across. */
  readonly length: number | null;
  readonly pieces: number;
}

/** Effort of an estimate: what a cutter would find at a first try. */
const EFFORT = 1500;

/** For each fitting and kind of cloth. `templates` are made for single cloth: half pieces opened out. */
export const clothEstimates = (
  templates: readonly Template[],
  width: number,
  options: Pick<ArrangeOptions, 'nap' | 'gap' | 'seed'>,
  onProgress?: (progress: ReckoningProgress) => void,
): ClothEstimate[] => {
  const fittings = [...new Set(templates.map((t) => t.fitting))];
  return fittings.flatMap((fitting, reckoned) => {
    onProgress?.({ doing: 'reckoning cloth', fittings: fittings.length, reckoned });
    const own = templates.filter((t) => t.fitting === fitting);
    return [...new Set(own.map((t) => t.cloth))].map((cloth): ClothEstimate => {
      const copies = own.filter((t) => t.cloth === cloth).map((t) => copiesOf(t, 'cloth', 'as cut').copies);
      const { arrangement, findings } = arrange(copies, { ...options, lay: 'cloth', height: width, effort: EFFORT });
      const pieces = copies.reduce((sum, c) => sum + c.asDrawn + c.mirrored, 0);
      return { fitting, cloth, width, length: hasErrors(findings) ? null : arrangement.length, pieces };
    });
  });
};
