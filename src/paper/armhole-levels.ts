import { at, edgeRun } from './runs.ts';
import type { Prick, Tracing } from './tracing.ts';

/* Levels that are told by the armhole go with it when a swing takes it up or down. */

/** Levels across the front that are taken from places of the armhole: its foot, and its notch. */
const FROM_ARMHOLE = ['underarm', 'chest'] as const;

/** A level line stands this near its level, mm. */
const ON_LEVEL = 0.5;
/** A level that moves by less than this stays, mm. */
const NOTHING = 1e-6;

/** The levels of underarm and chest, and the lines that draw them, where the armhole lies now. */
export const withArmholeLevels = (now: Tracing, was: Tracing): Tracing =>
  FROM_ARMHOLE.reduce((t, name) => {
    const height = was.levels.get(name);
    const by = height === undefined ? 0 : rise(now, was, height);
    if (height === undefined || Math.abs(by) < NOTHING) return t;
    const drawn = new Set(
      was.piece.lines
        .filter((l) => l.kind === 'level')
        .filter((l) => (was.lines.get(l.id) ?? []).every((p) => Math.abs(p.at.y - height) < ON_LEVEL))
        .map((l) => l.id),
    );
    const raised = (p: Prick): Prick => ({ ...p, at: { x: p.at.x, y: p.at.y + by } });
    const lines = new Map([...t.lines].map(([id, line]) => [id, drawn.has(id) ? line.map(raised) : line]));
    return { ...t, lines, levels: new Map([...t.levels, [name, height + by]]) };
  }, now);

/** How far the armholes went up where a level met them: on a whole piece the mean of both. */
const rise = (now: Tracing, was: Tracing, height: number): number => {
  const armholes = was.piece.edges.filter((e) => e.role === 'armhole');
  const rises = armholes.flatMap((e) => {
    const run = edgeRun(was, e.id);
    const nearest = run.reduce((best, i) =>
      Math.abs(at(was, i).y - height) < Math.abs(at(was, best).y - height) ? i : best,
    );
    const place = was.seam[nearest] as Prick;
    const twin = now.seam.find((p) => p.span === place.span && p.t === place.t && p.mouth?.dart === place.mouth?.dart);
    return twin ? [twin.at.y - place.at.y] : [];
  });
  return rises.length === 0 ? 0 : rises.reduce((a, b) => a + b, 0) / rises.length;
};
