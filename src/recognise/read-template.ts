import type { Point } from '../geometry/point.ts';
import { dot, scale, subtract, unit } from '../geometry/point.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { EdgeRole, PartName } from '../pattern/piece.ts';
import type { Alignment, TemplateFacts } from './align.ts';
import { align, endOf, startOf } from './align.ts';
import { foldDoubt, foldOrSeam } from './fold-or-seam.ts';
import { judge } from './judging.ts';
import type { RoleDoubt, RoleReading, StretchPlace } from './roles.ts';
import type { Shape, Stretch } from './shape.ts';
import { isStraight } from './shape.ts';
import { directionOf, skew } from './strokes.ts';
import type { EdgeForm, EdgeTemplate } from './template.ts';
import { accepts } from './template-fit.ts';
import type { Run } from './template-runs.ts';
import { templatesFor } from './templates.ts';

/** Readings nearer than this in weight are equally likely; nothing is guessed between them. */
const EQUAL = 0.12;
/** An outline that fits a template worse than this is none of it. */
const LEAST_SHAPE = 0.25;
/** Facings follow any edge of a garment: only those of neck and waist are known, and must fit well. */
const LEAST_FACING = 0.6;

/** Reads an outline as the given part, by the template of it that fits best. Undefined where none does. */
export const readTemplate = (shape: Shape, part: PartName, facts: TemplateFacts): RoleReading | undefined => {
  const ranked = align(shape, templatesFor(part), facts);
  const best = ranked[0];
  if (!best || best.shape < (part.endsWith('facing') ? LEAST_FACING : LEAST_SHAPE)) return undefined;
  const rival = ranked.find((r) => r.roles.join() !== best.roles.join());
  const margin = rival ? best.score - rival.score : 2;
  const centred = runWith(best, 'centre');
  const fold =
    centred && best.template.form === 'half'
      ? foldOrSeam(centred.stretches, { ...facts, isFront: isUsuallyFolded(part) })
      : undefined;
  const sure = Math.min(0.6, Math.max(0, margin * 0.4));
  const roles = shape.stretches.map((_, i) => {
    const e = best.runs.findIndex((r) => r.stretches.includes(i));
    const expected = best.template.ring[e] as EdgeTemplate;
    if (isBeyond(shape, best, e, i)) return { role: 'free' as const, ...judge([beyond]) };
    const role = expected.role === 'centre' && fold ? fold.role : expected.role;
    const said = facts.claims.filter((c) => c.stretch === i && c.by !== 'lie' && accepts(expected.role, c.role));
    const own = said.filter((c) => c.by !== 'notch' && c.by !== 'dart').map((c) => c.evidence);
    const centre = expected.role === 'centre' && fold ? fold.evidence.filter((x) => !own.includes(x)) : [];
    return { role, ...judge([...own, ...centre, placed(best, e), { says: leftOver, weight: sure }]) };
  });
  const doubts: RoleDoubt[] = [];
  if (rival && margin < EQUAL) doubts.push(rolesDoubt(best, rival));
  if (fold?.doubt && centred) doubts.push(foldDoubt(centred.stretches[0] as number, fold));
  return { roles, ...standing(shape, best, facts), half: fold?.role === 'fold', doubts };
};

const leftOver = 'the other edges of the piece leave this place for it';

const beyond: Evidence = {
  says: 'it lies beyond a step in the seam, as the edge of a vent or a fly does',
  weight: 0.4,
};
/** A seam goes on round a corner that turns less. radians */
const STEP = (45 * Math.PI) / 180;

/** Whether corners part a stretch of a sleeve's or crotch seam from the end of it at the cap or the inseam: a vent, a fly. */
const isBeyond = (shape: Shape, a: Alignment, e: number, stretch: number): boolean => {
  const { ring } = a.template;
  const sure = { 'sleeve seam': 'cap', crotch: 'inseam' }[ring[e]?.role as string];
  if (sure === undefined) return false;
  const atEnd = (ring[(e + 1) % ring.length]?.role === sure) === !a.hold.mirrored;
  const { stretches } = a.runs[e] as Run;
  const at = stretches.indexOf(stretch);
  const between = atEnd ? stretches.slice(at + 1) : stretches.slice(1, at + 1);
  return between.some((i) => Math.abs((shape.stretches[i] as Stretch).startTurn) >= STEP);
};

/** A front, a collar or a facing that is drawn half lies on the fold unless something says otherwise. */
const isUsuallyFolded = (part: PartName): boolean => !part.endsWith('back') || part.endsWith('facing');

const runWith = (a: Alignment, role: EdgeRole): Run | undefined => {
  const i = a.template.ring.findIndex((e) => e.role === role);
  return i < 0 ? undefined : a.runs[i];
};

const forms: Readonly<Record<EdgeForm, string>> = {
  straight: 'it is straight',
  hollow: 'it bends into the piece',
  round: 'it bends out of the piece',
  crown: 'it rises to a crown',
  any: 'it runs as it should',
};

/** Where an edge lies among its neighbours, as evidence for it. */
const placed = (a: Alignment, e: number): Evidence => {
  const { ring } = a.template;
  const k = ring.length;
  const [before, own, after] = [ring[(e + k - 1) % k], ring[e], ring[(e + 1) % k]] as [
    EdgeTemplate,
    EdgeTemplate,
    EdgeTemplate,
  ];
  return {
    says: `${forms[own.form]}, between ${before.role} and ${after.role}, as on ${/^[aeiou]/.test(a.template.name) ? 'an' : 'a'} ${a.template.name}`,
    weight: Math.max(0.05, Math.min(0.6, 0.65 * a.shape)),
  };
};

const rolesDoubt = (best: Alignment, rival: Alignment): RoleDoubt => {
  const differ = best.roles.findIndex((role, i) => rival.roles[i] !== role);
  const { x, y } = best.hold.up;
  const isSameHold = dot(best.hold.up, rival.hold.up) > 0.9;
  return {
    code: 'recognise-roles-doubtful',
    about: `the ${best.roles[differ]} edge`,
    ...(differ >= 0 ? { stretch: differ } : {}),
    message: `the ${best.roles[differ]} edge could as well be the ${rival.roles[differ]} edge`,
    set: `up: [${x.toFixed(4)}, ${y.toFixed(4)}]`,
    ...(isSameHold && differ >= 0 ? { role: best.roles[differ] as EdgeRole } : {}),
  };
};

/** Upright: along the centre; of sleeves and legs with the grain, else square to the level they are measured from. */
const standing = (shape: Shape, a: Alignment, facts: TemplateFacts): Pick<RoleReading, 'up' | 'origin' | 'upright'> => {
  const rough = a.hold.up;
  const sensed = (d: Point): Point => (dot(d, rough) < 0 ? scale(d, -1) : d);
  const origin = originOf(a);
  const along = (up: Point, says: string, weight: number) => ({
    up: sensed(up),
    origin,
    upright: judge([{ says, weight }]),
  });
  if (facts.up) return { up: facts.up, origin, upright: judge([{ says: 'the pattern sheet says so', weight: 1 }]) };
  const centre = a.template.form === 'half' ? runWith(a, 'centre') : undefined;
  if (centre?.stretches.length === 1) {
    const s = shape.stretches[centre.stretches[0] as number] as Stretch;
    if (isStraight(s, 1)) return along(s.direction, 'up runs along the centre', 0.9);
  }
  if (facts.centreLine && a.template.form === 'whole')
    return along(directionOf(facts.centreLine), 'up runs along the centre line', 0.9);
  if (a.template.form === 'whole') {
    const bottom = a.runs[0] as Run;
    return along(
      square(subtract(endOf(shape, bottom), startOf(shape, bottom))),
      'up runs square to the lower edge',
      0.75,
    );
  }
  if (facts.grain && skew(directionOf(facts.grain), rough) < 0.35)
    return along(directionOf(facts.grain), 'up runs with the grain', 0.85);
  const cap = runWith(a, 'cap');
  const level = cap ?? runWith(a, 'hem') ?? runWith(a, 'neck') ?? runWith(a, 'waist');
  if (level) {
    const name = cap ? 'line through the underarm points' : 'longest level edge';
    return along(square(subtract(endOf(shape, level), startOf(shape, level))), `up runs square to the ${name}`, 0.6);
  }
  return along(rough, 'up runs as the edges lie', 0.5);
};

const square = (d: Point): Point => unit({ x: -d.y, y: d.x });

/** Where heights are measured from: the waist at the centre (of trousers at the side); on a sleeve midway between the underarm points. */
const originOf = (a: Alignment): StretchPlace[] => {
  const { ring, form } = a.template;
  const place = (i: number, at: StretchPlace['at']): StretchPlace => {
    const { stretches } = a.runs[i] as Run;
    return { stretch: stretches[at === 'end' ? stretches.length - 1 : 0] as number, at };
  };
  const cap = ring.findIndex((e) => e.role === 'cap');
  if (cap >= 0) return [place(cap, 'start'), place(cap, 'end')];
  const before = (i: number): StretchPlace => place(i, a.hold.mirrored ? 'end' : 'start');
  const after = (i: number): StretchPlace => place(i, a.hold.mirrored ? 'start' : 'end');
  // On trousers the waist rises to the centre back: heights are measured from the side.
  const crotch = ring.findIndex((e) => e.role === 'crotch');
  if (crotch > 0) return [before(crotch - 1)];
  // The centre, or the inner seam of a side panel, runs down to the waist (or hem).
  const centre = ring.findIndex((e) => e.role === 'centre' || (e.role === 'panel seam' && a.template.form === 'own'));
  if (centre >= 0) return [after(centre)];
  const bottom = a.runs[0] as Run;
  if (form === 'whole' && bottom.stretches.length === 1)
    return [{ stretch: bottom.stretches[0] as number, at: 'middle' }];
  return [place(0, 'start'), place(0, 'end')];
};
