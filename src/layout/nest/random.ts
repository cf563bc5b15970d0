/** A stream of numbers that a seed fixes. */
export interface Random {
  /** In [0, 1). */
  readonly next: () => number;
  /** Integer in [0, n). */
  readonly below: (n: number) => number;
  /** Normal, mean 0, deviation 1. */
  readonly normal: () => number;
}

/** Chris Doty-Humphrey's small fast counter (sfc32), public domain: 32-bit integers only, the same on every machine. */
export const randomFrom = (seed: number): Random => {
  let a = seed | 0;
  let b = (seed / 4294967296) | 0;
  let c = 0x9e3779b9 | 0;
  let counter = 1;
  const next = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 12; i++) next();
  return {
    next,
    below: (n) => Math.floor(next() * n),
    // Sum of twelve even numbers: close to normal, and without logarithms, whose last bit differs between machines.
    normal: () => {
      let sum = -6;
      for (let i = 0; i < 12; i++) sum += next();
      return sum;
    },
  };
};
