import type { PathDrawable } from '../formats/drawing.ts';
import type { Evidence } from '../pattern/evidence.ts';
import type { EdgeRole } from '../pattern/piece.ts';
import type { DartFound } from './darts.ts';
import type { FoldMark } from './folds.ts';
import type { Grain } from './grain.ts';
import type { Hints } from './hints.ts';
import type { Label } from './labels.ts';
import { labelsFor } from './labels.ts';
import type { NotchFound } from './notches.ts';
import type { Shape, Stretch } from './shape.ts';
import { isStraight } from './shape.ts';
import type { Labelled, Stroke } from './strokes.ts';
import { directionOf, labelled, skew } from './strokes.ts';
import type { Meaning } from './words.ts';

/** What speaks: words and marks mean a role outright; darts, allowances and how the line lies mean one on a skirt. */
export type ClaimBy = 'label' | 'drawn' | 'fold mark' | 'dart' | 'notch' | 'allowance' | 'lie';

/** Something that speaks for a role of one stretch of outline. A claim for 'centre' speaks for a fold as well. */
export interface Claim {
  readonly by: ClaimBy;
  readonly stretch: number;
  readonly role: EdgeRole;
  readonly evidence: Evidence;
}

/** What labels say of inner lines. */
export interface LineClaim {
  readonly stroke: Stroke;
  readonly meaning: Meaning;
  readonly evidence: Evidence;
}

export interface Claims {
  readonly edges: readonly Claim[];
  readonly lines: readonly LineClaim[];
}

const REACH = 70;

const roleOf: Partial<Record<Meaning, EdgeRole>> = {
  waist: 'waist',
  hem: 'hem',
  side: 'side',
  centre: 'centre',
  'centre front': 'centre',
  'centre back': 'centre',
  fold: 'fold',
  neck: 'neck',
  shoulder: 'shoulder',
  armhole: 'armhole',
  cap: 'cap',
  'sleeve seam': 'sleeve seam',
  wrist: 'wrist',
  crotch: 'crotch',
  inseam: 'inseam',
  'panel seam': 'panel seam',
};

/** Lines a label can name: of those the file itself says mean this, else of all that are long enough. */
const edgeMeanings = Object.keys(roleOf) as Meaning[];
/** Words for edges alone: no line inside is called so. */
const onlyEdges: readonly Meaning[] = ['side', 'neck', 'shoulder', 'armhole', 'cap', 'sleeve seam', 'inseam'];
const levelMeanings: readonly Meaning[] = [
  'waist',
  'hip',
  'top hip',
  'knee',
  'hem',
  'centre',
  'centre front',
  'centre back',
  'fold line',
  'bust',
  'chest',
  'blade',
  'underarm',
  'biceps',
  'elbow',
  'wrist',
  'crotch',
];

type Named = { readonly stretch: number } | { readonly stroke: Stroke };

const stretchLine = (s: Stretch, stretch: number): Labelled<Named> => ({
  what: { stretch },
  points: s.points,
  direction: s.direction,
});

/**
 * What labels, fold marks, darts, allowances and the lie to the grain say of the edges.
 * `free` are the lines that labels may name: neither grain nor notch nor dart. `allowances` holds the width between
 * each stretch and the cutting line, where one is drawn; `parts` are the drawables that draw the outline.
 */
export const readClaims = (
  shape: Shape,
  free: readonly Stroke[],
  labels: readonly Label[],
  grain: Grain | undefined,
  darts: readonly DartFound[],
  notches: readonly NotchFound[],
  allowances: readonly number[] | undefined,
  parts: readonly PathDrawable[],
  folds: readonly FoldMark[],
  hints: Hints,
): Claims => {
  const named = readLabelled(shape, free, folds, labels, hints);
  return {
    edges: [
      ...named.edges,
      ...folds.map((f) => ({
        by: 'fold mark' as const,
        stretch: f.stretch,
        role: 'fold' as const,
        evidence: f.evidence,
      })),
      ...dartClaims(darts),
      ...(allowances ? allowanceClaims(allowances) : []),
      ...shapeClaims(shape, grain),
      ...notches.map((n) => ({
        by: 'notch' as const,
        stretch: n.stretch,
        role: 'side' as const,
        evidence: { says: 'a notch stands on it', weight: 0.1 },
      })),
      ...drawnClaims(shape, parts, hints),
    ],
    lines: named.lines,
  };
};

const readLabelled = (
  shape: Shape,
  free: readonly Stroke[],
  folds: readonly FoldMark[],
  labels: readonly Label[],
  hints: Hints,
): { edges: Claim[]; lines: LineClaim[] } => {
  const edges: Claim[] = [];
  const lines: LineClaim[] = [];
  const stretches = shape.stretches.map(stretchLine);
  const brackets = folds.map((f): Labelled<Named> => {
    const s = f.strokes[0] as Stroke;
    return { what: { stretch: f.stretch }, points: s.points, direction: directionOf(s.shaft) };
  });
  const inner = free.filter((s) => !s.closed && s.length >= 30 && hints.weight(s.drawable, 'adjustment') === 0);
  const strokes = inner.map(
    (s): Labelled<Named> => ({ what: { stroke: s }, points: s.points, direction: directionOf(s.shaft) }),
  );
  for (const label of labelsFor(labels, ...new Set([...edgeMeanings, ...levelMeanings]))) {
    if (isOfWholePiece(label, labels)) continue;
    const hit = labelled(label, candidatesFor(label.meaning, stretches, brackets, strokes), REACH);
    if (!hit) continue;
    const evidence = { says: `“${label.text}” is printed beside it`, weight: hit.away <= 25 ? 0.85 : 0.6 };
    if ('stroke' in hit.what) lines.push({ stroke: hit.what.stroke, meaning: label.meaning, evidence });
    else edges.push({ by: 'label', stretch: hit.what.stretch, role: roleOf[label.meaning] as EdgeRole, evidence });
  }
  for (const s of inner) {
    for (const hint of hints.of(s.drawable)) {
      if (levelMeanings.includes(hint.meaning as Meaning))
        lines.push({ stroke: s, meaning: hint.meaning as Meaning, evidence: hint });
    }
  }
  return { edges, lines };
};

/** Names of pieces that are called by the edge they are sewn to. */
const calledByEdge: readonly Meaning[] = ['facing', 'collar', 'cuff', 'waistband', 'pocket'];

/** Words of a name or of an order to cut: `front neck facing`, `cut 1 on fold`. They stand where there is room. */
const isOfWholePiece = (label: Label, labels: readonly Label[]): boolean =>
  labels.some(
    (l) =>
      l.texts.join() === label.texts.join() &&
      (calledByEdge.includes(l.meaning) || (label.meaning === 'fold' && l.meaning === 'cut')),
  );

const candidatesFor = (
  meaning: Meaning,
  stretches: readonly Labelled<Named>[],
  brackets: readonly Labelled<Named>[],
  strokes: readonly Labelled<Named>[],
): readonly Labelled<Named>[] => {
  if (meaning === 'fold') return [...brackets, ...stretches];
  if (onlyEdges.includes(meaning)) return stretches;
  return edgeMeanings.includes(meaning) ? [...stretches, ...strokes] : strokes;
};

const dartClaims = (darts: readonly DartFound[]): Claim[] =>
  darts.flatMap((d) =>
    d.stretch === undefined
      ? []
      : [
          {
            by: 'dart' as const,
            stretch: d.stretch,
            role: 'waist' as const,
            evidence: { says: 'a dart opens on it', weight: 0.7 },
          },
        ],
  );

const allowanceClaims = (allowances: readonly number[]): Claim[] => {
  const widest = Math.max(...allowances);
  const usual = [...allowances].filter((a) => a > 1).sort((a, b) => a - b);
  const median = usual[Math.floor((usual.length - 1) / 2)] ?? 0;
  return allowances.flatMap((a, stretch): Claim[] => {
    if (a < 0.5 && widest > 3) {
      const says = 'it has no allowance while the other edges have';
      return [
        { by: 'allowance', stretch, role: 'fold', evidence: { says, weight: 0.6 } },
        { by: 'allowance', stretch, role: 'free', evidence: { says, weight: 0.4 } },
      ];
    }
    if (a === widest && a > median + 5 && a >= 20) {
      return [
        { by: 'allowance', stretch, role: 'hem', evidence: { says: 'it has the widest allowance', weight: 0.5 } },
      ];
    }
    return [];
  });
};

const shapeClaims = (shape: Shape, grain: Grain | undefined): Claim[] =>
  shape.stretches.flatMap((s, stretch): Claim[] => {
    const claims: Claim[] = [];
    if (isStraight(s)) {
      if (grain && skew(directionOf(grain), s.direction) < 0.01) {
        claims.push({
          by: 'lie',
          stretch,
          role: 'centre',
          evidence: { says: 'it is straight and runs with the grain', weight: 0.35 },
        });
      }
      const square = [s.startTurn, s.endTurn].filter((t) => Math.abs(t - Math.PI / 2) < 0.09).length;
      if (square === 2)
        claims.push({
          by: 'lie',
          stretch,
          role: 'centre',
          evidence: { says: 'it is straight, with right angles at both ends', weight: 0.15 },
        });
    } else if (s.bow > 0.01 * s.length) {
      claims.push({ by: 'lie', stretch, role: 'side', evidence: { says: 'it is curved', weight: 0.2 } });
    }
    return claims;
  });

/** Outlines drawn in parts, each on a layer or with a name of its own. */
const drawnClaims = (shape: Shape, parts: readonly PathDrawable[], hints: Hints): Claim[] => {
  if (parts.length < 2) return [];
  const byId = new Map(parts.map((d) => [d.id, d]));
  return shape.stretches.flatMap((s, stretch) => {
    const drawn = new Set(s.spans.flatMap((i) => byId.get(shape.trace.spans[i]?.source?.drawable ?? '') ?? []));
    return [...drawn].flatMap((d) =>
      hints.of(d).flatMap((hint): Claim[] => {
        const role = roleOf[hint.meaning as Meaning];
        return role ? [{ by: 'drawn', stretch, role, evidence: hint }] : [];
      }),
    );
  });
};
