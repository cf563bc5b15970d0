/**
 * Polynomials on [0, 1] in Bernstein form: `coefficients[i]` belongs to C(n,i) tⁱ(1−t)ⁿ⁻ⁱ.
 * The sign changes of the coefficients bound the number of roots inside (Descartes' rule in Bernstein form),
 * which makes root finding by halving certain to miss none.
 */

const DEEPEST = 48;

/** Value at t by de Casteljau. */
export const bernsteinAt = (coefficients: readonly number[], t: number): number => {
  const c = [...coefficients];
  for (let n = c.length - 1; n > 0; n--) {
    for (let i = 0; i < n; i++) c[i] = (c[i] as number) + ((c[i + 1] as number) - (c[i] as number)) * t;
  }
  return c[0] ?? 0;
};

/** Both halves of the polynomial cut at t, each again on [0, 1]. */
const halves = (coefficients: readonly number[], t: number): [number[], number[]] => {
  const c = [...coefficients];
  const left: number[] = [c[0] as number];
  const right: number[] = [c[c.length - 1] as number];
  for (let n = c.length - 1; n > 0; n--) {
    for (let i = 0; i < n; i++) c[i] = (c[i] as number) + ((c[i + 1] as number) - (c[i] as number)) * t;
    left.push(c[0] as number);
    right.unshift(c[n - 1] as number);
  }
  return [left, right];
};

const signChanges = (coefficients: readonly number[]): number => {
  let changes = 0;
  let last = 0;
  for (const c of coefficients) {
    const sign = Math.sign(c);
    if (sign === 0) continue;
    if (last !== 0 && sign !== last) changes++;
    last = sign;
  }
  return changes;
};

/** The only root between lo and hi, where the values differ in sign: false position (Illinois) kept inside its bracket. */
const bracketed = (coefficients: readonly number[]): number => {
  let lo = 0;
  let hi = 1;
  let flo = coefficients[0] as number;
  let fhi = coefficients[coefficients.length - 1] as number;
  for (let i = 0; i < 100 && hi - lo > 1e-15; i++) {
    const guess = i % 3 === 2 ? (lo + hi) / 2 : lo - (flo * (hi - lo)) / (fhi - flo);
    const t = guess > lo && guess < hi ? guess : (lo + hi) / 2;
    if (t <= lo || t >= hi) break;
    const f = bernsteinAt(coefficients, t);
    if (f === 0) return t;
    if (Math.sign(f) === Math.sign(flo)) {
      lo = t;
      flo = f;
      fhi /= 2;
    } else {
      hi = t;
      fhi = f;
      flo /= 2;
    }
  }
  return (lo + hi) / 2;
};

/**
 * Roots in [0, 1], ascending; a root of even multiplicity is found once or a few times close together.
 * The zero polynomial has none.
 */
export const rootsOf = (coefficients: readonly number[]): number[] => {
  const greatest = Math.max(...coefficients.map(Math.abs));
  if (!(greatest > 0)) return [];
  const negligible = greatest * 1e-14;
  const roots: number[] = [];
  const visit = (c: readonly number[], from: number, width: number, depth: number): void => {
    const changes = signChanges(c);
    if (changes === 0) return;
    const ends = (c[0] as number) * (c[c.length - 1] as number);
    if (changes === 1 && ends < 0) {
      roots.push(from + bracketed(c) * width);
      return;
    }
    if (depth >= DEEPEST || Math.max(...c.map(Math.abs)) <= negligible) {
      roots.push(from + width / 2);
      return;
    }
    const [left, right] = halves(c, 0.5);
    visit(left, from, width / 2, depth + 1);
    if (right[0] === 0) roots.push(from + width / 2);
    visit(right, from + width / 2, width / 2, depth + 1);
  };
  if (coefficients[0] === 0) roots.push(0);
  visit(coefficients, 0, 1, 0);
  if (coefficients[coefficients.length - 1] === 0) roots.push(1);
  return roots.sort((a, b) => a - b).filter((t, i, all) => i === 0 || t - (all[i - 1] as number) > 1e-12);
};

const choose = (n: number, k: number): number => {
  let c = 1;
  for (let i = 0; i < k; i++) c = (c * (n - i)) / (i + 1);
  return c;
};

/** Product of two polynomials. */
export const multiply = (a: readonly number[], b: readonly number[]): number[] => {
  const m = a.length - 1;
  const n = b.length - 1;
  const out = new Array<number>(m + n + 1).fill(0);
  for (let i = 0; i <= m; i++) {
    for (let j = 0; j <= n; j++) {
      const weight = (choose(m, i) * choose(n, j)) / choose(m + n, i + j);
      out[i + j] = (out[i + j] as number) + weight * (a[i] as number) * (b[j] as number);
    }
  }
  return out;
};

/** Sum of two polynomials of the same degree. */
export const plus = (a: readonly number[], b: readonly number[]): number[] => a.map((v, i) => v + (b[i] as number));
