import type { EdgeRole, PartName } from '../pattern/piece.ts';

/** How an edge runs: straight, bent into the piece (hollow), out of it (round), high as a sleeve's crown, or either way. */
export type EdgeForm = 'straight' | 'hollow' | 'round' | 'crown' | 'any';

/** What an edge of a part is expected to be. */
export interface EdgeTemplate {
  readonly role: EdgeRole;
  /** Where it runs to, degrees anticlockwise from the right when the piece stands upright, and how far off is usual. */
  readonly heads: readonly [degrees: number, within: number];
  readonly form: EdgeForm;
  /** Its usual part of the whole way round. */
  readonly share: readonly [least: number, most: number];
  /** How far it bends into the piece on the mean, as a part of the way between its ends, where that tells it apart. */
  readonly depth?: readonly [least: number, most: number];
  /** Darts may open on it. */
  readonly darts?: true;
  /** Notches stand on it rather than on the edge across from it. */
  readonly notched?: true;
  /** Where it starts out to, where that tells it from a like one: a whole armhole leaves the underarm level. */
  readonly leaves?: readonly [degrees: number, within: number];
}

export type Follows = 'neck' | 'armhole' | 'waist';

/**
 * The edges round a part, anticlockwise, the piece upright with its centre (or front) at the left. Headings and shares
 * are taken from drafted blocks and widened; common practice, no source.
 */
export interface Template {
  readonly parts: readonly PartName[];
  /** In words, for findings. */
  readonly name: string;
  readonly form: 'half' | 'whole' | 'own';
  readonly ring: readonly EdgeTemplate[];
  /** The same from both sides, so that its mirror image need not be tried. */
  readonly symmetric?: true;
  /** The waist is a line across the piece and no edge. */
  readonly waistInside?: true;
  /** One of several pieces that make a front or back. */
  readonly panelled?: true;
  /** The edge of the garment that a facing follows. */
  readonly follows?: Follows;
  /** How long the side is, as so many armholes: what ends at the waist, at the hip, below it. */
  readonly armholes?: readonly [least: number, most: number];
}

export type Shares = readonly [number, number];
type More = Partial<Pick<EdgeTemplate, 'darts' | 'leaves' | 'notched'>>;
/** An edge that a template expects. */
export const edge = (role: EdgeRole, heads: Shares, form: EdgeForm, share: Shares, more: More = {}): EdgeTemplate => ({
  role,
  heads,
  form,
  share,
  ...more,
});

export const darts = { darts: true } as const;

/** A template of a half or a whole, before it is known which. */
export type Half = Omit<Template, 'form'>;

/** The same part opened out: its first and last edge go right across, those between come twice. */
export const whole = (half: Half): Template => {
  const ring = half.ring.slice(0, -1);
  const [bottom, top] = [ring[0] as EdgeTemplate, ring[ring.length - 1] as EdgeTemplate];
  // Without the centre the way round is about 1.4 times that of the half.
  const share = (e: EdgeTemplate, times: number): Shares => [(e.share[0] * times) / 1.4, (e.share[1] * times) / 1.4];
  const sides = ring.slice(1, -1).map((e) => ({ ...e, share: share(e, 1) }));
  return {
    ...half,
    form: 'whole',
    symmetric: true,
    ring: [
      { ...bottom, heads: [0, 12], share: share(bottom, 2) },
      ...sides,
      // Right across, a front neck hangs down; a back neck is a shallow curve.
      { ...top, heads: [180, 12], share: share(top, 2), depth: top.heads[0] > 215 ? [0.24, 1] : [0.02, 0.24] },
      ...[...sides].reverse().map(mirrorEdge),
    ],
  };
};

/** An edge as it runs on the mirrored piece, still anticlockwise: up becomes down. Where it leaves is then where it ends. */
const mirrorEdge = ({ leaves: _, ...e }: EdgeTemplate): EdgeTemplate => ({
  ...e,
  heads: [360 - e.heads[0], e.heads[1]],
});
