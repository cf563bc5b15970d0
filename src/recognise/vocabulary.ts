import type { Language, Meaning } from './words.ts';
import { words } from './words.ts';

/** A phrase found in a text. `from` and `to` count characters of the normalised text. */
export interface Phrase {
  readonly meaning: Meaning;
  readonly from: number;
  readonly to: number;
  readonly languages: readonly Language[];
  /** As it stands in the (normalised) text. */
  readonly found: string;
}

/** Meaning → further words for it, from the pattern sheet. */
export type ExtraWords = Readonly<Partial<Record<Meaning, readonly string[]>>>;

export interface Vocabulary {
  /** Meanings named in a text, longest phrases first wins, in order of place. A phrase may carry several meanings. */
  phrasesIn(text: string): readonly Phrase[];
}

/**
 * A text made comparable: full-width forms narrowed, lower case, accents off (but not the voicing marks of Japanese),
 * ligatures spelt out, everything that is neither letter nor digit a single space.
 */
export const normalise = (text: string): string =>
  IN_ASCII.test(text)
    ? text
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, ' ')
        .trim()
    : text
        .normalize('NFKC')
        .toLowerCase()
        .replace(/ß/g, 'ss')
        .replace(/œ/g, 'oe')
        .replace(/æ/g, 'ae')
        .normalize('NFD')
        .replace(/[\u0300-\u036f]/g, '')
        .normalize('NFC')
        .replace(/[^\p{L}\p{N}ー]+/gu, ' ')
        .trim();

/** Most texts have nothing but these, and come out the same by a shorter way. */
const IN_ASCII = /^[ -~\s]*$/;

/** The spellings of a phrase: accents off, and umlauts written out as German does where it has no umlauts. */
const spellings = (phrase: string): string[] => {
  const written = phrase.replace(/[äÄ]/g, 'ae').replace(/[öÖ]/g, 'oe').replace(/[üÜ]/g, 'ue');
  return [...new Set([normalise(phrase), normalise(written)])];
};

interface Entry {
  readonly key: string;
  readonly meaning: Meaning;
  readonly language: Language;
}

const isJapanese = (key: string): boolean => /[\u3040-\u30ff\u3400-\u9fff]/.test(key);
const isHiragana = (c: string | undefined): boolean => c !== undefined && /[\u3040-\u309f]/.test(c);
const isWord = (c: string | undefined): boolean => c !== undefined && /[\p{L}\p{N}]/u.test(c) && !isJapanese(c);

/** Words stand free of letters on both sides; Japanese has no spaces, only a lone kana must not be part of a word. */
const standsFree = (text: string, from: number, key: string): boolean => {
  const before = text[from - 1];
  const after = text[from + key.length];
  if (isJapanese(key)) return key.length > 1 || !isHiragana(key) || (!isHiragana(before) && !isHiragana(after));
  return !isWord(before) && !isWord(after);
};

/** The words of {@link words}, with those of the pattern sheet added. */
export const vocabulary = (extra: ExtraWords = {}): Vocabulary => {
  const entries: Entry[] = [];
  const enter = (meaning: Meaning, language: Language, phrase: string): void => {
    for (const key of spellings(phrase)) if (key !== '') entries.push({ key, meaning, language });
  };
  for (const meaning of Object.keys(words) as Meaning[]) {
    for (const [language, phrases] of Object.entries(words[meaning])) {
      for (const phrase of phrases) enter(meaning, language as Language, phrase);
    }
    for (const phrase of extra[meaning] ?? []) enter(meaning, 'en', phrase);
  }
  const byKey = new Map<string, Entry[]>();
  for (const entry of entries) byKey.set(entry.key, [...(byKey.get(entry.key) ?? []), entry]);
  const keys = [...byKey.keys()].sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  const known = new Map<string, readonly Phrase[]>();

  const search = (text: string): readonly Phrase[] => {
    const taken = new Array<boolean>(text.length).fill(false);
    const phrases: Phrase[] = [];
    for (const key of keys) {
      for (let from = text.indexOf(key); from >= 0; from = text.indexOf(key, from + 1)) {
        if (taken[from] || taken[from + key.length - 1] || !standsFree(text, from, key)) continue;
        taken.fill(true, from, from + key.length);
        const here = byKey.get(key) ?? [];
        for (const meaning of new Set(here.map((e) => e.meaning))) {
          const languages = here.filter((e) => e.meaning === meaning).map((e) => e.language);
          phrases.push({ meaning, from, to: from + key.length, languages: [...new Set(languages)], found: key });
        }
      }
    }
    return phrases.sort((a, b) => a.from - b.from || b.to - a.to);
  };

  return {
    phrasesIn(text) {
      const key = normalise(text);
      const before = known.get(key);
      if (before) return before;
      const found = search(key);
      known.set(key, found);
      return found;
    },
  };
};

/** Whether one of the phrases has the meaning. */
export const says = (phrases: readonly Phrase[], meaning: Meaning): boolean =>
  phrases.some((p) => p.meaning === meaning);
