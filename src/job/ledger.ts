import type { FollowRecord, LengthShown, Plan, Share, StepRecord } from '../alterations/contract.ts';
import { measuresOf } from '../alterations/targets.ts';
import type { Finding } from '../finding.ts';
import type { FormatName } from '../formats/drawing.ts';
import type { Pattern, SewnEdge } from '../pattern/pattern.ts';
import type { Cloth, Piece } from '../pattern/piece.ts';
import type { Measures } from './measures.ts';
import type { Order } from './orders/orders.ts';
import type { Sizing } from './orders/sizing.ts';
import type { PatternFile } from './patternfile.ts';
import { version } from './version.ts';

/**
 * The record of one fitting: what was asked, what was done, and what the written file measures. All lengths are
 * millimetres, rounded to a ten-thousandth so that the same order gives the same bytes everywhere.
 * `schema/ledger.schema.json` describes it to others.
 */
export interface Ledger {
  readonly ledger: 1;
  readonly program: { readonly name: 'retrue'; readonly version: string };
  /** Only when SOURCE_DATE_EPOCH states a time: otherwise the same order could not give the same bytes. */
  readonly made?: string;
  readonly fitting: string;
  readonly status: Status;
  readonly wearer: string;
  readonly note: string;
  /** Unit the user works in; for showing only. */
  readonly shownIn: LengthShown;
  readonly source: LedgerSource;
  /** How the size was chosen, where the pattern was given in several. */
  readonly sizing?: Sizing;
  readonly measurements: readonly LedgerMeasurement[];
  readonly alterations: readonly LedgerAlteration[];
  /** What was done, in words, to pieces that follow those they are sewn to. */
  readonly followed: readonly FollowRecord[];
  readonly edges: readonly LedgerEdge[];
  readonly mates: readonly LedgerMates[];
  readonly girths: readonly LedgerGirth[];
  readonly outputs: readonly LedgerOutput[];
  readonly findings: readonly Finding[];
}

/** `refused`: the order cannot be carried out as it stands. `failed`: it could, but something broke on the way. */
export type Status = 'done' | 'refused' | 'failed';

export interface LedgerSource {
  readonly file: string;
  readonly sha256: string;
  readonly sheet: { readonly file: string; readonly sha256: string } | null;
  readonly style: string;
  readonly size: string;
  readonly view: string | null;
  readonly units: { readonly name: string; readonly millimetresPerUnit: number; readonly statedBy: string };
  readonly pieces: readonly LedgerPiece[];
}

export interface LedgerPiece {
  readonly id: string;
  readonly name: string;
  readonly cloth: Cloth;
  /** How often it is cut; `pairs`: as mirrored pairs, `onFold`: half a piece with its fold edge on the fold. */
  readonly cut: { readonly count: number; readonly pairs: boolean; readonly onFold: boolean };
}

export interface LedgerMeasurement {
  readonly measurement: string;
  readonly draftedFor: number | null;
  readonly wearer: number;
  /** Ease asked for in place of the design's. */
  readonly ease: number | null;
  /** What the pattern was to change by; null when it is not known. */
  readonly needed: number | null;
  /** What the garment measures there, wherever it shows it. `after`: on the written file; null when none was written. */
  readonly taken: readonly { readonly of: string; readonly before: number; readonly after: number | null }[];
}

export interface LedgerAlteration {
  readonly name: string;
  readonly amount: number;
  readonly origin:
    | { readonly kind: 'measurement'; readonly measurement: string }
    | { readonly kind: 'direct'; readonly column: string };
  readonly explanation: string;
  readonly options: Readonly<Record<string, string | number | boolean>>;
  readonly shares: readonly LedgerShare[];
  /** In words, piece by piece. Empty when nothing was altered. */
  readonly did: readonly string[];
}

export interface LedgerShare {
  readonly piece: string;
  readonly edge: string | null;
  readonly dart: string | null;
  readonly place: string;
  readonly amount: number;
  /** Customary most for the place; null when the trade names none. */
  readonly most: number | null;
  readonly cloth: string;
  readonly counted: number;
}

export interface LedgerEdge {
  readonly piece: string;
  readonly edge: string;
  readonly role: string;
  readonly before: number;
  readonly after: number;
}

export interface LedgerMates {
  readonly mates: string;
  readonly one: readonly SewnEdge[];
  readonly other: readonly SewnEdge[];
  /** Length of one − length of the other. */
  readonly differenceBefore: number;
  readonly differenceAfter: number;
}

export interface LedgerGirth {
  readonly level: string;
  /** The part of the garment that goes round the body there: a bodice and the skirt sewn to it both have a waist. */
  readonly tier: string;
  readonly cloth: string;
  readonly before: number;
  readonly after: number;
  /** What it adds up from: the width of one paper, and how often it occurs round the body. */
  readonly counted: readonly { readonly piece: string; readonly width: number; readonly times: number }[];
}

export interface LedgerOutput {
  readonly file: string;
  readonly format: FormatName;
  readonly sha256: string;
  readonly bytes: number;
  /** Largest distance between a line as altered and as read again from the file. */
  readonly deviation: number;
  /** Lines of the source that got more, or fewer, points than they had. */
  readonly addedVertices: readonly { readonly entity: string; readonly line: number; readonly added: number }[];
}

export interface LedgerParts {
  readonly file: PatternFile;
  readonly before: Measures;
  readonly order: Order;
  readonly status: Status;
  readonly plan?: Plan | undefined;
  readonly steps?: readonly StepRecord[] | undefined;
  readonly followed?: readonly FollowRecord[] | undefined;
  readonly after?: Measures | undefined;
  readonly outputs?: readonly LedgerOutput[] | undefined;
  readonly findings: readonly Finding[];
}

export const ledgerOf = (parts: LedgerParts): Ledger => ({
  ledger: 1,
  program: { name: 'retrue', version },
  ...madeAt(),
  fitting: parts.order.needs.fitting,
  status: parts.status,
  wearer: parts.order.wearer,
  note: parts.order.note,
  shownIn: parts.order.show,
  source: sourceOf(parts.file),
  ...(parts.order.sizing ? { sizing: parts.order.sizing } : {}),
  measurements: measurementsOf(parts.file, parts.order, parts.plan),
  alterations: alterationsOf(parts.plan, parts.steps ?? []),
  followed: (parts.followed ?? []).map(({ piece, did }) => ({ piece, did })),
  ...(parts.after ? comparison(parts.file.pattern, parts.before, parts.after) : { edges: [], mates: [], girths: [] }),
  outputs: parts.outputs ?? [],
  findings: [...fileWarnings(parts), ...parts.findings],
});

/** What was said of the file itself belongs into the record of what was made of it. Notes are for the reader of the run. */
const fileWarnings = ({ file, findings }: LedgerParts): Finding[] =>
  file.findings.filter((f) => f.level !== 'note' && !findings.includes(f));

/** A ledger as the text of its file. */
export const ledgerText = (ledger: Ledger): string => `${JSON.stringify(ledger, null, 2)}\n`;

/** Millimetres to a ten-thousandth; never −0. */
export const recorded = (mm: number): number => Math.round(mm * 1e4) / 1e4 + 0;

export const madeAt = (): { made?: string } => {
  const seconds = Number(process.env.SOURCE_DATE_EPOCH || Number.NaN);
  return Number.isFinite(seconds) ? { made: new Date(seconds * 1000).toISOString() } : {};
};

const sourceOf = (file: PatternFile): LedgerSource => ({
  file: file.fileName,
  sha256: file.sha256,
  sheet: file.sheet ? { file: file.sheet.fileName, sha256: file.sheet.sha256 } : null,
  style: file.pattern.style,
  size: file.pattern.size,
  view: file.view?.name ?? null,
  units: { ...file.drawing.units },
  pieces: file.pattern.pieces.map(pieceOf),
});

const pieceOf = ({ id, name, cut, half }: Piece): LedgerPiece => ({
  ...{ id, name, cloth: cut.cloth },
  cut: { count: cut.count, pairs: cut.mirrored, onFold: half },
});

const measurementsOf = (file: PatternFile, { needs }: Order, plan: Plan | undefined): LedgerMeasurement[] =>
  Object.entries(needs.measurements).map(([measurement, wearer]) => {
    const draftedFor = file.pattern.draftedFor[measurement];
    const ease = needs.ease?.[measurement];
    const target = plan?.targets?.find((t) => t.measurement === measurement);
    const needed = target?.needed ?? (draftedFor === undefined ? undefined : wearer - draftedFor);
    const known = (mm: number | undefined): number | null => (mm === undefined ? null : recorded(mm));
    return {
      measurement,
      draftedFor: known(draftedFor),
      wearer: recorded(wearer),
      ease: known(ease),
      needed: known(needed),
      // Where nothing was planned for it, the pieces as drafted still show it.
      taken: (target?.before ?? measuresOf(file.pattern, measurement)).map(({ of, mm }) => ({
        of,
        before: recorded(mm),
        after: known(target?.after?.find((a) => a.of === of)?.mm),
      })),
    };
  });

const alterationsOf = (plan: Plan | undefined, records: readonly StepRecord[]): LedgerAlteration[] =>
  (plan?.steps ?? []).map((step) => ({
    name: step.alteration,
    amount: recorded(step.amount),
    origin:
      step.origin.kind === 'direct'
        ? { kind: 'direct', column: step.origin.column }
        : { kind: 'measurement', measurement: step.origin.measurement },
    explanation: step.explanation,
    options: step.options,
    shares: step.shares.map(shareOf),
    did: records.find((r) => r.step === step)?.did ?? [],
  }));

const shareOf = (share: Share): LedgerShare => ({
  piece: share.piece,
  edge: share.edge ?? null,
  dart: share.dart ?? null,
  place: share.place,
  amount: recorded(share.amount),
  most: Number.isFinite(share.most) ? recorded(share.most) : null,
  cloth: share.cloth,
  counted: share.counted,
});

const comparison = (
  pattern: Pattern,
  before: Measures,
  after: Measures,
): Pick<Ledger, 'edges' | 'mates' | 'girths'> => ({
  edges: before.edges.flatMap((was): LedgerEdge[] => {
    const is = after.edges.find((e) => e.piece === was.piece && e.edge === was.edge);
    const role = pattern.pieces.find((p) => p.id === was.piece)?.edges.find((e) => e.id === was.edge)?.role;
    if (!is || !role) return [];
    return [{ piece: was.piece, edge: was.edge, role, before: recorded(was.length), after: recorded(is.length) }];
  }),
  mates: before.mates.flatMap((was): LedgerMates[] => {
    const is = after.mates.find((m) => m.mates === was.mates);
    const mates = pattern.mates.find((m) => m.id === was.mates);
    if (!is || !mates) return [];
    return [
      {
        mates: was.mates,
        one: mates.one.map(sewnEdge),
        other: mates.other.map(sewnEdge),
        differenceBefore: recorded(was.difference),
        differenceAfter: recorded(is.difference),
      },
    ];
  }),
  girths: before.girths.flatMap((was): LedgerGirth[] => {
    const is = after.girths.find((g) => g.level === was.level && g.tier === was.tier && g.cloth === was.cloth);
    if (!is) return [];
    const counted = is.counted.map((c) => ({ ...c, width: recorded(c.width) }));
    return [
      {
        ...{ level: was.level, tier: was.tier, cloth: was.cloth },
        ...{ before: recorded(was.girth), after: recorded(is.girth), counted },
      },
    ];
  }),
});

const sewnEdge = ({ piece, edge, times }: SewnEdge): SewnEdge => ({ piece, edge, times });
