import { Bug } from '../../finding.ts';
import { afterGroup } from './add.ts';
import type { DxfDocument } from './document.ts';
import type { Pen } from './edits.ts';
import { type Report, whereOf } from './tags.ts';

/** Takes entities out, with the vertices and attributes that go with them. One that is drawn elsewhere too stays, told. */
export const removeAll = (document: DxfDocument, removals: ReadonlySet<string>, pen: Pen, report: Report): void => {
  const asked = new Map<string, number>();
  const first = new Map<string, string>();
  for (const id of removals) {
    const placement = document.placements.get(id);
    if (placement === undefined) throw new Bug(`“${id}” was to be taken out, and is not in the drawing`);
    const { key } = placement.source;
    asked.set(key, (asked.get(key) ?? 0) + 1);
    if (!first.has(key)) first.set(key, id);
  }
  for (const [key, id] of first) {
    const { source } = document.placements.get(id) as {
      source: { entity: { start: number; last: number; type: string } };
    };
    const times = document.timesDrawn.get(key) ?? 1;
    if (times > (asked.get(key) ?? 0)) {
      report(
        'dxf-drawn-elsewhere',
        'warning',
        whereOf(document.tags, source.entity.start),
        `A ${source.entity.type} no longer holds for one piece, but its block is placed ${times} times; it was left.`,
        'Explode the block, or give each placing a block of its own, and run again.',
      );
      continue;
    }
    pen.remove(source.entity.start, afterGroup(document.tags, source.entity.last));
  }
};
