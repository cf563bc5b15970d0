import fc from 'fast-check';

/*
 * Random cases are drawn from one seed, so that a run can be repeated and a failure is the change's own doing.
 * RETRUE_SEED=random, or a number, draws others.
 */
const asked = process.env.RETRUE_SEED;
if (asked !== 'random') fc.configureGlobal({ seed: asked === undefined ? 1865 : Number(asked) });
