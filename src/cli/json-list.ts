/** A JSON list that is printed entry by entry, with the same text as if it were printed at once. */
export interface JsonList {
  readonly add: (entry: unknown) => void;
  readonly end: () => void;
}

export const jsonList = (out: (text: string) => void): JsonList => {
  let count = 0;
  return {
    add: (entry) => {
      out(`${count === 0 ? '[' : ','}\n${indented(JSON.stringify(entry, null, 2))}`);
      count += 1;
    },
    end: () => out(count === 0 ? '[]\n' : '\n]\n'),
  };
};

const indented = (text: string): string => text.replace(/^/gm, '  ');
