import { checkPattern } from '../../src/checks/index.ts';
import { type Bench, carryOut, fitOrder } from '../../src/job/fitting.ts';
import { ledgerText } from '../../src/job/ledger.ts';
import { makeFiles } from '../../src/job/making.ts';
import type { Order } from '../../src/job/orders/orders.ts';
import { changesBetween } from '../../src/job/redraw.ts';

/** One fitting, stage by stage. Each is timed by itself; `whole` is what a run does. */
export const stages = async (bench: Bench, order: Order) => {
  const { file } = bench;
  const { altered } = fitOrder(bench, order);
  if (!altered) throw new Error(`${order.needs.fitting} is refused: choose another fitting for the benchmark`);
  const { pattern } = altered;
  const changes = changesBetween(file.drawing, file.pattern, pattern);
  const { bytes } = file.format.patch(file.drawing, changes);
  const outcome = await carryOut(bench, order);
  return {
    changes,
    bytes,
    outcome,
    whole: () => carryOut(bench, order),
    'plan and alter': () => fitOrder(bench, order),
    check: () => checkPattern(file.pattern, pattern, altered.eased),
    'redraw and patch': () => file.format.patch(file.drawing, changesBetween(file.drawing, file.pattern, pattern)),
    'read again': () => file.format.read(bytes, { fileName: file.fileName }),
    'write, read again, compare': () => makeFiles(file, [file.format], pattern),
    'ledger text': () => ledgerText(outcome.ledger),
  };
};

/** Milliseconds of the given rounds of several works, taken in turns so that a busy machine slows all alike; medians. */
export const inTurns = async <Name extends string>(
  works: Readonly<Record<Name, () => unknown>>,
  rounds: number,
): Promise<Record<Name, number>> => {
  const names = Object.keys(works) as Name[];
  const times = Object.fromEntries(names.map((name) => [name, [] as number[]])) as Record<Name, number[]>;
  for (let round = -2; round < rounds; round++) {
    for (const name of names) {
      const began = performance.now();
      await works[name]();
      if (round >= 0) times[name].push(performance.now() - began);
    }
  }
  const median = (all: number[]): number => all.sort((a, b) => a - b)[all.length >> 1] as number;
  return Object.fromEntries(names.map((name) => [name, median(times[name])])) as Record<Name, number>;
};
