import { PassThrough } from 'node:stream';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { jsonList } from '../../src/cli/json-list.ts';
import { pace, progressOn } from '../../src/cli/progress.ts';

/** A screen of which only the stream is real: what is printed and what the line at its foot shows, in order. */
const screen = () => {
  const shown: string[] = [];
  const stream = Object.assign(new PassThrough(), { isTTY: true, columns: 80 });
  stream.on('data', (chunk) => shown.push(String(chunk)));
  const print = (text: string) => void shown.push(text);
  const io = { out: print, err: print, colour: false, terminal: stream as unknown as NodeJS.WriteStream };
  return { io, text: () => shown.join('') };
};

it('shows count, rate and time left at the foot of a terminal, without colours, and what is printed above it', async () => {
  const { io, text } = screen();
  const progress = await progressOn(io);
  for (const ended of [1, 2, 3]) {
    progress.show(ended, 3, 0);
    progress.io.out(`fitting ${ended}\n`);
  }
  progress.stop();
  const before = text();
  progress.io.out('the end\n');
  await new Promise((resolve) => setTimeout(resolve, 250));
  expect(text()).toBe(`${before}the end\n`);
  expect(before).toMatch(/2 of 3 fittings.*(a second|s each), .* left/);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the codes that terminals read
  expect(before).not.toMatch(/\u001b\[[\d;]*m/);
  for (const ended of [1, 2, 3]) expect(before).toContain(`\r\u001b[Kfitting ${ended}\n`);
});

it('is silent without a terminal and for one fitting', async () => {
  const silent = { out: () => expect.unreachable(), err: () => expect.unreachable(), colour: false };
  const progress = await progressOn(silent);
  progress.show(1, 3, 0);
  progress.stop();
  const { io, text } = screen();
  const one = await progressOn(io);
  one.show(1, 1, 0);
  one.stop();
  expect(text()).toBe('');
});

it.each([
  [0, 10, 1000, ''],
  [10, 10, 2000, '5.0 a second, 2 s left'],
  [2, 100, 4000, '2.0 s each, 3 min 20 s left'],
  [1, 3600, 2000, '2.0 s each, 2 h 0 min left'],
])('tells the pace of %i done and %i left in %i ms', (done, left, ms, says) => {
  expect(pace(done, left, ms)).toBe(says);
});

it('prints a list entry by entry, in whole lines, as JSON does at once', () => {
  fc.assert(
    fc.property(fc.array(fc.jsonValue({ maxDepth: 2 })), (entries) => {
      const printed: string[] = [];
      const list = jsonList((text) => void printed.push(text));
      for (const entry of entries) list.add(entry);
      list.end();
      expect(printed.join('')).toBe(`${JSON.stringify(entries, null, 2)}\n`);
      expect(printed.every((text) => text.endsWith('\n'))).toBe(true);
    }),
  );
});
