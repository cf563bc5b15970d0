import { describe, expect, it } from 'vitest';
import { normalise, vocabulary } from '../../src/recognise/vocabulary.ts';
import type { Meaning } from '../../src/recognise/words.ts';
import { words } from '../../src/recognise/words.ts';

const known = vocabulary();
const meanings = (text: string): Meaning[] => known.phrasesIn(text).map((p) => p.meaning);

/** What patterns print beside their lines in eight languages; common practice, from memory and from printed lists. */
const printed: readonly (readonly [Meaning, readonly string[]])[] = [
  [
    'grain',
    ['Straight grain', 'FADENLAUF', 'Droit fil', 'al hilo', 'drittofilo', 'fio reto', 'draadrichting', '布目線'],
  ],
  ['fold', ['Place on fold', 'Stoffbruch', 'pliure', 'doblez', 'ripiegatura', 'dobra', 'stofvouw', 'わ']],
  [
    'centre front',
    [
      'C.F.',
      'vordere Mitte',
      'milieu devant',
      'centro delantero',
      'centro davanti',
      'centro frente',
      'middenvoor',
      '前中心',
    ],
  ],
  ['dart', ['DART', 'ABNAEHER', 'pince', 'pinza', 'pince', 'pinça', 'figuurnaad', 'ﾀﾞｰﾂ']],
  [
    'adjustment',
    [
      'Lengthen/shorten here',
      'hier verlaengern oder kuerzen',
      'RALLONGER OU RACCOURCIR ICI',
      'alargar o acortar aqui',
      'allungare o accorciare qui',
      'alongar ou encurtar',
      'hier verlengen of verkorten',
      'ここで伸ばす/縮める',
    ],
  ],
];

describe('the vocabulary', () => {
  for (const [meaning, texts] of printed) {
    it.each(texts)(`reads “%s” as ${meaning}`, (text) => {
      expect(meanings(text)).toContain(meaning);
    });
  }

  it('finds each of its own phrases in capitals and without accents', () => {
    for (const meaning of Object.keys(words) as Meaning[]) {
      for (const phrase of Object.values(words[meaning]).flat()) {
        expect(meanings(phrase.toUpperCase()), phrase).toContain(meaning);
        expect(meanings(phrase.normalize('NFD').replace(/[\u0300-\u036f]/g, '')), phrase).toContain(meaning);
      }
    }
  });

  it('takes the longest phrase, and no part of a word', () => {
    expect(meanings('centre front')).toEqual(['centre front']);
    expect(meanings('Stoffbruchkante')).toEqual([]);
    expect(meanings('わき')).toEqual(['side']);
  });

  it('keeps the voicing of Japanese, and drops accents and case', () => {
    expect(normalise('ﾀﾞｰﾂ')).toBe('ダーツ');
    expect(normalise('  LÍNEA—de Cadera! ')).toBe('linea de cadera');
  });
});
