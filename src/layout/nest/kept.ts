/** Values that can be made again, kept by name as long as they do not take more room than allowed. */
export interface Kept<T> {
  /** The value of that name, made when it is not kept (any more). */
  readonly get: (name: string, make: () => T) => T;
  readonly count: () => number;
  /** Of all values kept, as they were weighed. */
  readonly bytes: () => number;
}

/** What leaves at once when there is no room: so seldom that what is then asked for anew costs little. */
const LEAVING = 1 / 4;

/**
 * Keeps values of at most `most` bytes together. When one more would be too much, a quarter leaves: those longest not
 * asked for. `onLeaving` hears of it, so that whoever remembers values forgets them and asks again: only so are they
 * known to be in use.
 */
export const keeping = <T>(most: number, bytesOf: (value: T) => number, onLeaving: () => void): Kept<T> => {
  // A map keeps the order in which its entries were set: the first has not been asked for the longest.
  const values = new Map<string, { readonly value: T; readonly bytes: number }>();
  let total = 0;
  const makeRoom = (bytes: number): void => {
    if (total + bytes <= most) return;
    onLeaving();
    for (const [name, oldest] of values) {
      if (total + bytes <= most * (1 - LEAVING)) return;
      values.delete(name);
      total -= oldest.bytes;
    }
  };
  const get = (name: string, make: () => T): T => {
    const known = values.get(name);
    if (known) {
      values.delete(name);
      values.set(name, known);
      return known.value;
    }
    const value = make();
    const bytes = bytesOf(value);
    makeRoom(bytes);
    values.set(name, { value, bytes });
    total += bytes;
    return value;
  };
  return { get, count: () => values.size, bytes: () => total };
};
