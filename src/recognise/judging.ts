import type { Evidence, Judged } from '../pattern/evidence.ts';

/**
 * Evidence weighed together: each hint leaves 1 − weight of the doubt (hints taken as independent). What file or sheet
 * states outright is certain.
 */
export const judge = (evidence: readonly Evidence[]): Judged => {
  const kept = evidence.filter((e) => e.weight > 0).sort((a, b) => b.weight - a.weight);
  if (kept.some((e) => e.weight >= 1)) return { evidence: kept, confidence: 1 };
  const doubt = kept.reduce((left, e) => left * (1 - e.weight), 1);
  return { evidence: kept, confidence: Math.min(0.99, 1 - doubt) };
};

export const stated = (says: string): Judged => ({ evidence: [{ says, weight: 1 }], confidence: 1 });
