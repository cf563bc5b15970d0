import type { Finding } from '../../finding.ts';

/** Past this many of one kind, the rest are counted. */
const MOST_OF_A_KIND = 20;

/** Findings as they come; a flood of one kind is cut and its number told. */
export interface Log {
  add(finding: Finding): void;
  /** One finding for many places: the first place is kept, the others counted. `message` gets the count. */
  count(code: string, make: (count: number) => Finding): void;
  all(): Finding[];
}

export const startLog = (first: readonly Finding[] = []): Log => {
  const kept: Finding[] = [...first];
  const seen = new Map<string, number>();
  const counted = new Map<string, { count: number; make: (count: number) => Finding }>();
  return {
    add(finding) {
      const count = (seen.get(finding.code) ?? 0) + 1;
      seen.set(finding.code, count);
      if (count <= MOST_OF_A_KIND) kept.push(finding);
    },
    count(code, make) {
      const before = counted.get(code);
      if (before === undefined) counted.set(code, { count: 1, make });
      else before.count += 1;
    },
    all() {
      const cut = kept.map((finding, i) => {
        const more = (seen.get(finding.code) ?? 0) - MOST_OF_A_KIND;
        const last = kept.findLastIndex((f) => f.code === finding.code) === i;
        return more > 0 && last ? { ...finding, message: `${finding.message} (And ${more} more like this.)` } : finding;
      });
      return [...cut, ...[...counted.values()].map(({ count, make }) => make(count))];
    },
  };
};
