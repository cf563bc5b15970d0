import { plainWords } from './words.ts';

/** What a column of notes may be headed with, for `textColumns`. Those of other languages are from memory. */
export const NOTES: Readonly<Record<string, string>> = Object.fromEntries(
  [
    ...['note', 'notes', 'remark', 'remarks', 'comment', 'comments', 'Bemerkung', 'Bemerkungen', 'Notiz', 'Notizen'],
    ...['remarque', 'remarques', 'observaciones', 'observações', 'nota', 'notas', 'opmerking', 'opmerkingen', '備考'],
  ].map((heading) => [plainWords(heading), 'note']),
);
