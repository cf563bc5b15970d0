/*
 * Remedies for people who never saw the program: options are named in words. How they are typed stands small below.
 */

const WAYS: readonly (readonly [RegExp, string])[] = [
  [/with --beyond-limits/g, 'past the customary limits'],
  [/--beyond-limits/g, 'leave to go past the customary limits'],
  [/--choose (["'])(.*?)\1/g, 'the choice “$2”'],
];
const OPTION = /--[a-z]+(?:-[a-z]+)*/g;

/** The text with each option in words: `the option “unfold”`. */
export const spoken = (text: string): string =>
  WAYS.reduce((said, [typed, words]) => said.replace(typed, words), text).replace(
    OPTION,
    (option) => `the option “${option.slice(2).replaceAll('-', ' ')}”`,
  );

/** The options of a text as they are typed, each once. */
export const typedIn = (text: string): readonly string[] => [...new Set(text.match(OPTION))];
