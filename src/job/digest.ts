import { createHash } from 'node:crypto';

/** SHA-256 as 64 hexadecimal digits. */
export const sha256 = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');

/** SHA-256 of a plain value, the same whatever the order of its keys. */
export const sha256Of = (value: unknown): string => sha256(JSON.stringify(sortedKeys(value)));

const sortedKeys = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(sortedKeys);
  if (value === null || typeof value !== 'object') return value;
  const entries = Object.entries(value).filter(([, v]) => v !== undefined);
  entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  return Object.fromEntries(entries.map(([k, v]) => [k, sortedKeys(v)]));
};
