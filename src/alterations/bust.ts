import type { Finding } from '../finding.ts';
import { sidesOutAtBust } from '../paper/bust-out.ts';
import { fullerPanels } from '../paper/bust-panels.ts';
import { bustsOf } from '../paper/bust-point.ts';
import { fullerBust, smallestBust } from '../paper/full-bust.ts';
import { type Garment, onPiece, tracingOf } from '../paper/garment.ts';
import { trace } from '../paper/tracing.ts';
import { edgeWithRole } from '../pattern/edges.ts';
import { type Pattern, pieceCalled } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';
import { type Round, rounds, timesRound } from '../pattern/round.ts';
import { bustHeights } from '../pattern/taking/girths.ts';
import type { Alteration, Division, Request } from './alteration.ts';
import {
  frontFindings,
  noEdgeFindings,
  panelledFronts,
  panelSeams,
  plainFronts,
  shareASide,
  unmatchedPanels,
} from './bust-parts.ts';
import type { PlannedStep, Share } from './contract.ts';
import { outOrIn, spreadOrLapped } from './sayings.ts';
import { counted, edgeShare, inches, limitFindings, MOST_AT_EDGE, missing, NEGLIGIBLE, sharedOut } from './shares.ts';

/** Customary most on each side of the front (common practice). */
const MOST_LARGER = inches(1);
const MOST_SMALLER = inches(3 / 4);

/**
 * Bust larger or smaller.
 *
 * On the front (the body differs in its full bust): slashed from the middle of the waist dart to the bust point and on to
 * the lower third of the armhole, where it hinges; from the side dart to the bust point; and from the centre to the first
 * slash below the bust. The side part swings until the front is wider by its share **at the bust level, darts closed**:
 * not the swing, which is more. The part below the side dart follows without turning, so that the first slash gapes with
 * its sides parallel; the side dart opens by the swing, the waist dart takes what the waist gains, the centre comes down
 * so that the waist is level. Armhole, shoulder, neck and back keep their lengths, the side seam too with its dart closed.
 * A missing dart is drawn. The bust point lies in the middle of the gap, at its level. Smaller: the same overlapped, as
 * far as the darts can give; what is left is taken in at all side seams.
 *
 * A front of panels: the panel seams go out at the bust level, half on each of the two edges sewn together, square to the
 * line up to their ends, so that they keep their length above the bust; the centre panel is drawn out between bust and
 * waist by what the side panel's seam has gained over its own.
 *
 * All round (the body differs as much at the high bust): every side edge goes out by a quarter at the bust level, more
 * at the underarm, nothing at the waist; armhole and sleeve alike.
 *
 * Which of the two: Texas extension bulletin E-372 alters the bust alone where the full bust is more than 2 in over the
 * high bust. Listed in USDA Home Economics Research Report 32; construction and limits: common practice.
 */
export const bust: Alteration = {
  card: {
    name: 'bust',
    title: 'Full bust, small bust',
    synonyms: [
      { name: 'full bust', sign: 1 },
      { name: 'large bust', sign: 1 },
      { name: 'small bust', sign: -1 },
    ],
    plus: 'larger',
    minus: 'smaller',
    needs: ['a bodice or dress front with side edge and armhole', 'a bust point (else where the darts are aimed)'],
    measurement: 'bust girth',
    options: [
      {
        name: 'share',
        means: 'the front takes it all, or every side seam a part of it',
        values: ['front', 'all round'],
        default: 'front',
      },
    ],
    limits: [
      { place: 'each side of the front, larger', most: MOST_LARGER, source: 'common practice' },
      { place: 'each side of the front, smaller', most: MOST_SMALLER, source: 'common practice' },
      { place: 'panel seam or side edge at the bust', most: MOST_AT_EDGE, source: 'common practice' },
    ],
    moves: ['front below the armhole', 'side dart', 'waist dart', 'centre front length', 'side seam', 'bust point'],
    keeps: ['waist length', 'armhole length', 'shoulder length', 'neck length', 'mates', 'grain', 'allowances'],
    additive: false,
    construction:
      'Slash from the waist dart to the bust point and the lower third of the armhole (the hinge), from the side dart to the bust point, and from the centre to the first slash; swing until the front is wider by its share at the bust level; level the waist at the centre.',
    source:
      'choice: Texas extension bulletin E-372; listed: USDA Home Economics Research Report 32; the rest: common practice',
  },
  stage: 'width',
  evenAt: 'waist',
  divide: (request) => (request.options.share === 'all round' ? overSides(request) : overFronts(request)),
  alter: (garment, step) => alterPanels(alterSides(alterFronts(garment, step), step), step),
  says: (share, _step, show) =>
    share.edge === undefined
      ? `side ${spreadOrLapped(share.amount, show)} at the bust, hinged at the armhole; side and waist dart ${share.amount > 0 ? 'take' : 'give'} it, the centre ${share.amount > 0 ? 'comes down' : 'goes up'} with it`
      : `${share.place} ${outOrIn(share.amount, show)}, nothing at the waist`,
  examples: [
    { says: 'bust 1 in larger: ½ in on each side of the front', amount: 1, share: 0.5, source: 'common practice' },
    { says: 'bust 1/2 in smaller: ¼ in on each side', amount: -0.5, share: -0.25, source: 'common practice' },
  ],
};

const ON_FRONT = 'side of the front at the bust';
const AT_PANEL = 'panel seam at the bust';
const AT_SIDE = 'side edge at the bust';
const help =
  'Take another size, share it all round, or make a trial garment first and ask for it with --beyond-limits.';

const overFronts = (request: Request): Division => {
  const { pattern, amount, beyondLimits, show } = request;
  const fronts = plainFronts(pattern);
  const most = amount > 0 ? MOST_LARGER : MOST_SMALLER;
  const whole = shareASide(fronts, ON_FRONT, (sides) => amount / sides, most);
  const onFronts = whole.map((s) => ({ ...s, amount: asTheDartsGive(pattern, s) }));
  const onPanels = panelledFronts(pattern).flatMap((pieces) => panelShares(pieces, amount));
  // What the darts of a front cannot give is taken in at the side seams, on each layer of cloth.
  const left = Math.min(0, ...whole.map((s, i) => (s.amount - (onFronts[i] as Share).amount) * sidesCounted(whole, s)));
  const onSides = left > -NEGLIGIBLE ? [] : sideShares(pattern, left);
  const shares = [...onFronts, ...onPanels, ...onSides];
  const lacks = [
    ...(onPanels.length > 0 && fronts.length === 0 ? [] : frontFindings('bust', pattern, fronts)),
    ...(['side', 'armhole'] as const).flatMap((role) => noEdgeFindings('bust', fronts, role)),
    ...noWaistFindings(fronts),
    ...unmatchedPanels('bust', pattern),
  ];
  return {
    shares,
    findings: [...lacks, ...limitFindings('bust', shares, beyondLimits, show, help)],
    explanation: [
      sharedOut(amount - left, onFronts, 'side of the front', show),
      sharedOut(amount, onPanels, 'panel seam edge', show),
      onSides.length > 0 ? `the darts give no more; ${sharedOut(left, onSides, 'side edge', show)}` : '',
    ]
      .filter((part) => part !== '')
      .join('; '),
  };
};

/** A smaller bust closes darts: no more than they have. A hair is left, for what other alterations take of them. */
const asTheDartsGive = (pattern: Pattern, share: Share): number => {
  const piece = pieceCalled(pattern, share.piece);
  if (share.amount >= 0 || !piece || lacksForSwing(piece)) return share.amount;
  return Math.max(share.amount, -smallestBust(trace(piece)) * KEPT);
};
const KEPT = 0.97;

/** How many sides of a front one layer of cloth has. */
const sidesCounted = (shares: readonly Share[], one: Share): number =>
  counted(shares.filter((s) => s.cloth === one.cloth));

/** What a front must have to be swung: a side edge, an armhole, and a waist edge or level. */
const lacksForSwing = (piece: Piece): boolean =>
  bustsOf(trace(piece)).length === 0 ||
  (['side', 'armhole'] as const).some((role) => edgeWithRole(piece, role).length === 0) ||
  lacksWaist(piece);

const lacksWaist = (piece: Piece): boolean =>
  edgeWithRole(piece, 'waist').length === 0 && !piece.levels.some((l) => l.name === 'waist');

const noWaistFindings = (fronts: readonly Piece[]): Finding[] =>
  fronts.filter(lacksWaist).map((piece) => ({
    ...missing(
      'bust',
      `${piece.name || piece.id} has neither a waist edge nor a waist level`,
      'Name the waist edge, or give "levels: waist" in the pattern sheet.',
    ),
    where: { alteration: 'bust', piece: piece.id },
  }));

const panelShares = (pieces: readonly Piece[], amount: number): Share[] => {
  const edges = pieces.flatMap((piece) =>
    edgeWithRole(piece, 'panel seam').map((edge) => ({ piece, edge, counted: timesRound(piece) })),
  );
  return edges.map((e) => edgeShare(e, AT_PANEL, amount / counted(edges), e.piece.cut.cloth));
};

const hasBust = ({ tier }: Round): boolean => tier === 'bodice' || tier === 'dress';

/** An even share for every side edge of a bodice or dress, in each round of pieces. */
const sideShares = (pattern: Pattern, amount: number): Share[] =>
  rounds(pattern)
    .filter(hasBust)
    .flatMap((round) => {
      const edges = round.pieces.flatMap((piece) =>
        edgeWithRole(piece, 'side').map((edge) => ({ piece, edge, counted: timesRound(piece) })),
      );
      return edges.map((e) => edgeShare(e, AT_SIDE, amount / counted(edges), round.cloth));
    });

const overSides = ({ pattern, amount, beyondLimits, show }: Request): Division => {
  const shares = sideShares(pattern, amount);
  return {
    shares,
    findings: [
      ...(shares.length === 0
        ? [missing('bust', 'no side edge of a bodice or dress was found', 'Name the side edges in the pattern sheet.')]
        : []),
      ...limitFindings('bust', shares, beyondLimits, show, help),
    ],
    explanation: sharedOut(amount, shares, 'side edge', show),
  };
};

const alterFronts = (garment: Garment, step: PlannedStep): Garment =>
  step.shares
    .filter((s) => s.edge === undefined)
    .reduce((g, s) => onPiece(g, s.piece, (t) => fullerBust(t, s.amount)), garment);

const alterSides = (garment: Garment, step: PlannedStep): Garment => {
  const shares = step.shares.filter((s) => s.place === AT_SIDE);
  return [...new Set(shares.map((s) => s.piece))].reduce((g, piece) => {
    const own = shares.filter((s) => s.piece === piece);
    const [one] = own as [Share, ...Share[]];
    const edges = own.map((s) => s.edge as string);
    return onPiece(g, piece, (t) => sidesOutAtBust(t, edges, one.amount, bustLevel(g, piece)));
  }, garment);
};

const alterPanels = (garment: Garment, step: PlannedStep): Garment =>
  panelledFronts(garment.pattern).reduce((g, pieces) => {
    const share = step.shares.find((s) => s.place === AT_PANEL && pieces.some((p) => p.id === s.piece));
    const seams = panelSeams(g.pattern, pieces);
    const [one] = seams;
    return share && one ? fullerPanels(g, seams, share.amount, bustLevel(g, one.centre.piece)) : g;
  }, garment);

/** Height of the bust level: the piece's own, else that of the pieces it is sewn to. */
const bustLevel = (garment: Garment, piece: string): number => {
  const tracing = tracingOf(garment, piece);
  const own = tracing.levels.get('bust');
  if (own !== undefined) return own;
  const round = rounds(garment.pattern).find((r) => r.pieces.some((p) => p.id === piece));
  const heights = round && bustHeights(round);
  const height = tracing.piece.part.endsWith('back') ? heights?.back : heights?.front;
  return height ?? tracing.levels.get('underarm') ?? 0;
};
