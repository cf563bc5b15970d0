import { describe, expect, it } from 'vitest';
import { walk } from '../../src/job/walk.ts';

const block = (name: string) => new URL(`../../fixtures/blocks/${name}`, import.meta.url).pathname;

describe('walk', () => {
  it('takes the ease of a cap for ease, and tells how much', async () => {
    const { reports, exit } = await walk([block('bodice-cubics.svg')], {});
    const cap = reports[0]?.mates.find((m) => m.mates === 'armhole and cap');
    expect(cap?.verdict).toBe('eased');
    // 1¼ in, as drafted: fixtures/blocks/draft/sleeve.ts.
    expect(Math.abs(cap?.difference ?? 0)).toBeCloseTo(31.75, 0);
    expect(exit).toBe(0);
  });
});
