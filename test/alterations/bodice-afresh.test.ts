import { afterAll, describe, expect, it } from 'vitest';
import { type BodiceOptions, draftBodice, SAMPLE_BODICE_BODY } from '../../fixtures/blocks/draft/bodice.ts';
import type { BodiceBody } from '../../fixtures/blocks/draft/bodice-body.ts';
import { transformPath, translation } from '../../src/geometry/transform.ts';
import type { Pattern } from '../../src/pattern/pattern.ts';
import { patternOf } from '../drafted.ts';
import { apart, edgePath } from '../properties/comparing.ts';
import { alteredBy, pieceIn } from './altering.ts';
import { bodiceBodies, changed } from './other-bodies.ts';

/*
 * Bodices and sleeves drafted for a body and altered to another, against those drafted for that other body by the same
 * rules (see fixtures/blocks/draft/bodice.ts), on bodies of three shapes. What an edge comes to lie apart is shown for
 * every edge; within 2 mm wherever alteration and rule divide the change alike.
 */

const EQUIVALENT = 2;

type Choices = Readonly<Record<string, Readonly<Record<string, string>>>>;

interface Row {
  readonly what: string;
  /** A step of one size, mm. */
  readonly by: number;
  readonly direct: (by: number) => Readonly<Record<string, number>>;
  readonly body: (by: number) => Readonly<Record<string, number>>;
  readonly options?: BodiceOptions | ((by: number) => BodiceOptions);
  readonly choices?: Choices;
  readonly pieces: readonly string[];
  /** How much higher the altered piece stands than the drafted one, which begins at its waist. */
  readonly stands?: (by: number) => number;
  /** Edges on which alteration and rule do not agree, and the most they then differ by, mm: the reason stands beside. */
  readonly otherwise?: Readonly<Record<string, number>>;
}

const BODY = ['front', 'back'];
const NO_SLEEVE: BodiceOptions = { sleeve: false };
const WITH_IT = { 'side seam': 'with it' };

const rows: readonly Row[] = [
  {
    what: 'shoulder width',
    by: 6,
    direct: (by) => ({ 'shoulder width': by }),
    body: (by) => ({ shoulder: by }),
    pieces: BODY,
  },
  {
    what: 'shoulder slope',
    by: 6,
    direct: (by) => ({ 'shoulder slope': by }),
    // The rule's slope leaves the underarm; with the depth of the armhole taken that much less it says the same.
    body: (by) => ({ armholeDepth: -by }),
    options: (by) => ({ ...NO_SLEEVE, slope: -by }),
    pieces: BODY,
  },
  {
    what: 'armhole depth',
    by: 6.35,
    direct: (by) => ({ 'armhole depth': by }),
    body: (by) => ({ armholeDepth: by }),
    pieces: BODY,
  },
  {
    what: 'back and chest width',
    by: 10,
    direct: (by) => ({ 'back width': by, 'chest width': by }),
    // The rule moves the armhole alone, the slash takes the side along: a bust larger by both says the same.
    body: (by) => ({ backWidth: by, chestWidth: by, bust: 2 * by }),
    choices: { 'back width': { shoulder: 'armhole' } },
    pieces: BODY,
  },
  {
    what: 'waist lengths',
    by: 6.35,
    direct: (by) => ({ 'front waist length': by, 'back waist length': by }),
    body: (by) => ({ frontLength: by, backLength: by }),
    choices: { 'front waist length': WITH_IT, 'back waist length': WITH_IT },
    pieces: BODY,
    stands: (by) => by,
  },
  {
    what: 'waist at the side',
    by: 25.4,
    direct: (by) => ({ waist: by }),
    body: (by) => ({ waist: by }),
    options: { ...NO_SLEEVE, waistTaken: 'in the side seams' },
    choices: { waist: { take: 'side edges only' } },
    pieces: BODY,
  },
  {
    what: 'neck',
    by: 10,
    direct: (by) => ({ neck: by }),
    body: (by) => ({ neck: by }),
    pieces: BODY,
    // The rule lays the shoulder off from the wider neck, so that its tip and the armhole go out with it, and draws the
    // back neck flatter; redrawn by the trade's rule, by the change ÷ 2π all round, the neck alone moves.
    otherwise: Object.fromEntries(
      ['front armhole', 'front shoulder', 'back fold', 'back armhole', 'back shoulder', 'back neck'].map((e) => [
        e,
        2.6,
      ]),
    ),
  },
  {
    what: 'length above the elbow',
    by: 20,
    direct: (by) => ({ 'length above the elbow': by }),
    body: (by) => ({ shoulderToElbow: by, armLength: by }),
    options: {},
    pieces: ['sleeve'],
  },
  {
    what: 'length below the elbow',
    by: 20,
    direct: (by) => ({ 'length below the elbow': by }),
    body: (by) => ({ armLength: by }),
    options: {},
    pieces: ['sleeve'],
  },
  {
    what: 'wrist',
    by: 10,
    direct: (by) => ({ wrist: by }),
    body: (by) => ({ wrist: by }),
    options: {},
    pieces: ['sleeve'],
  },
];

const optionsOf = (row: Row, by: number): BodiceOptions =>
  typeof row.options === 'function' ? row.options(by) : (row.options ?? NO_SLEEVE);

const draftedFor = (body: BodiceBody, options: BodiceOptions): Pattern => patternOf(draftBodice(body, options));

/** Greatest distance of each edge of the altered pieces from the edge drafted afresh, mm. */
const deviations = (row: Row, body: BodiceBody, by: number): Map<string, number> => {
  const before = draftedFor(body, typeof row.options === 'function' ? NO_SLEEVE : optionsOf(row, by));
  const afresh = draftedFor(changed(body, row.body(by)), optionsOf(row, by));
  const { pattern, plan } = alteredBy(before, row.direct(by), row.choices);
  expect(plan.findings.filter((f) => f.level === 'error')).toEqual([]);
  const stand = translation({ x: 0, y: -(row.stands?.(by) ?? 0) });
  return new Map(
    row.pieces.flatMap((id) => {
      const [is, meant] = [pieceIn(pattern, id), pieceIn(afresh, id)];
      return is.edges.map((edge): [string, number] => {
        const twin = meant.edges.find((e) => e.id === edge.id);
        if (!twin) throw new Error(`${id} ${edge.id} is not drafted`);
        return [`${id} ${edge.id}`, apart(edgePath(is, edge), transformPath(stand, edgePath(meant, twin)))];
      });
    }),
  );
};

const told: string[] = ['altered against drafted afresh, mm'];
afterAll(() => console.info(told.join('\n')));

describe.each(bodiceBodies(SAMPLE_BODICE_BODY))('a bodice for %s', (name, body) => {
  it.each(rows.flatMap((row) => [1, -1].map((sign) => [row.what, sign * row.by, row] as const)))(
    '%s by %f mm',
    (what, by, row) => {
      const found = deviations(row, body, by);
      told.push(`${name}, ${what} ${by}: ${[...found].map(([e, mm]) => `${e} ${mm.toFixed(2)}`).join(', ')}`);
      for (const [edge, mm] of found) expect(mm, edge).toBeLessThanOrEqual(row.otherwise?.[edge] ?? EQUIVALENT);
    },
  );
});
