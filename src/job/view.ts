import type { Finding } from '../finding.ts';
import type { Mates, Pattern } from '../pattern/pattern.ts';
import type { Piece } from '../pattern/piece.ts';

/** The pieces of one view, checked off: what is there, what is missing, what is put away. */
export interface ViewReport {
  readonly name: string;
  readonly present: readonly string[];
  readonly missing: readonly string[];
  readonly away: readonly string[];
}

export interface LaidOut {
  /** Only the pieces of the view, and only the mates between them. */
  readonly pattern: Pattern;
  readonly view?: ViewReport;
  readonly findings: readonly Finding[];
}

/** Picks the pieces a view needs and puts the rest away. Without a view, all pieces are needed. */
export const layOutView = (pattern: Pattern, name: string | undefined): LaidOut => {
  if (name === undefined) return { pattern, findings: [] };
  const view = pattern.views.find((v) => alike(v.name, name));
  if (!view) return { pattern, findings: [unknownView(pattern, name)] };
  const needed = new Set<string>();
  const missing: string[] = [];
  for (const need of view.needs) {
    const piece = pattern.pieces.find((p) => isCalled(p, need));
    if (piece) needed.add(piece.id);
    else missing.push(need);
  }
  const present = pattern.pieces.filter((p) => needed.has(p.id));
  const away = pattern.pieces.filter((p) => !needed.has(p.id));
  const report = { name: view.name, present: present.map(nameOf), missing, away: away.map(nameOf) };
  return { pattern: onlyPieces(pattern, needed), view: report, findings: findingsOf(pattern, report) };
};

/** Pockets of the pieces that are there, with the seams of these that they are set into. */
const pocketsOf = (within: readonly Mates[], ids: ReadonlySet<string>): Mates[] =>
  within
    .map((m) => ({ ...m, one: m.one.filter((s) => ids.has(s.piece)), other: m.other.filter((s) => ids.has(s.piece)) }))
    .filter((m) => m.one.length > 0 && m.other.length > 0);

const onlyPieces = (pattern: Pattern, ids: ReadonlySet<string>): Pattern => ({
  ...pattern,
  pieces: pattern.pieces.filter((p) => ids.has(p.id)),
  mates: pattern.mates.filter((m) => [...m.one, ...m.other].every((e) => ids.has(e.piece))),
  ...(pattern.within ? { within: pocketsOf(pattern.within, ids) } : {}),
  doubts: pattern.doubts.filter((d) => ids.has(d.piece)),
});

const findingsOf = (pattern: Pattern, view: ViewReport): Finding[] => [
  ...view.missing.map(
    (piece): Finding => ({
      code: 'job-view-piece-missing',
      level: 'error',
      where: { file: pattern.fileName, piece },
      message: `View ${view.name} needs the piece “${piece}”, and it is not in the file.`,
      try: `The file has ${pattern.pieces.map(nameOf).join(', ')}. Correct the view in the pattern sheet, or add the piece.`,
    }),
  ),
  ...(view.away.length === 0
    ? []
    : [
        {
          code: 'job-view-pieces-away',
          level: 'note',
          where: { file: pattern.fileName },
          message: `View ${view.name} does not need ${view.away.join(', ')}: put away, left as drawn.`,
          try: 'Nothing to do, unless one of them is needed: then name it under the view in the pattern sheet.',
        } as const,
      ]),
];

const unknownView = (pattern: Pattern, name: string): Finding => ({
  code: 'job-view-unknown',
  level: 'error',
  where: { file: pattern.fileName },
  message: `The pattern has no view “${name}”.`,
  try:
    pattern.views.length === 0
      ? 'List under “views” in the pattern sheet the pieces that each view needs.'
      : `Its views are ${pattern.views.map((v) => v.name).join(', ')}.`,
});

const nameOf = (piece: Piece): string => piece.name || piece.id;
const isCalled = (piece: Piece, need: string): boolean => alike(piece.id, need) || alike(piece.name, need);
const alike = (a: string, b: string): boolean => fold(a) === fold(b);
const fold = (text: string): string =>
  text
    .normalize('NFKC')
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ');
