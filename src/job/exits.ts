/** 0 all done · 1 some refused or failed · 2 nothing could be done · 3 the program is at fault. */
export type Exit = 0 | 1 | 2 | 3;

/** Exit for a run over several things of which `bad` did not come out. */
export const exitFor = (all: number, bad: number): Exit => (all === 0 || bad === all ? 2 : bad > 0 ? 1 : 0);
