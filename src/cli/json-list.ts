/** A JSON list that is printed entry by entry, in whole lines, with the same text as if it were printed at once. */
export interface JsonList {
  readonly add: (entry: unknown) => void;
  readonly end: () => void;
}

export const jsonList = (out: (text: string) => void): JsonList => {
  // An entry is held back until it is known whether another follows.
  let held: string | undefined;
  return {
    add: (entry) => {
      out(held === undefined ? '[\n' : `${held},\n`);
      held = JSON.stringify(entry, null, 2).replace(/^/gm, '  ');
    },
    end: () => out(held === undefined ? '[]\n' : `${held}\n]\n`),
  };
};
