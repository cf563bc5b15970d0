import type { Finding } from '../../finding.ts';
import { optionUnknown } from '../option-unknown.ts';

/** One part of a run that is spread over machines: the i-th of n. */
export interface Shard {
  /** From 1. */
  readonly index: number;
  readonly of: number;
}

/** Variables that a scheduler sets for each of its tasks. */
type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Reads `--shard`: `2/4`; `slurm`, for a task of a job array; `kubernetes/4`, for a pod of an indexed job, whose index
 * starts at 0 and whose count no variable tells.
 *
 * Sources: Slurm, sbatch(1), output environment variables SLURM_ARRAY_TASK_ID, _COUNT, _MIN and _STEP; Kubernetes
 * documentation, Jobs, completion mode Indexed, JOB_COMPLETION_INDEX.
 */
export const readShard = (text: string | undefined, env: Environment): Shard | Finding | undefined => {
  const asked = text?.trim().toLowerCase();
  if (asked === undefined) return undefined;
  if (asked === 'slurm') return fromSlurm(env);
  const indexed = /^kubernetes\s*\/\s*(\d+)$/.exec(asked);
  if (indexed) return fromKubernetes(Number(indexed[1]), env);
  const stated = /^(\d+)\s*\/\s*(\d+)$/.exec(asked);
  const shard = stated && within({ index: Number(stated[1]), of: Number(stated[2]) });
  return shard ?? optionUnknown(`--shard “${text}” is not a part of a whole.`, FORMS);
};

const FORMS = 'Write --shard 1/4 to 4/4, --shard slurm, or --shard kubernetes/4 with the number of completions.';

const within = (shard: Shard): Shard | undefined =>
  shard.of >= 1 && shard.index >= 1 && shard.index <= shard.of ? shard : undefined;

const wholeNumber = (text: string | undefined): number | undefined =>
  text !== undefined && /^\d+$/.test(text) ? Number(text) : undefined;

/** The place of the task among those of its array, whatever number the first has and however they are spaced. */
const fromSlurm = (env: Environment): Shard | Finding => {
  const id = wholeNumber(env.SLURM_ARRAY_TASK_ID);
  const of = wholeNumber(env.SLURM_ARRAY_TASK_COUNT);
  const first = wholeNumber(env.SLURM_ARRAY_TASK_MIN) ?? 0;
  const step = wholeNumber(env.SLURM_ARRAY_TASK_STEP) ?? 1;
  if (id === undefined || of === undefined) {
    return optionUnknown(
      '--shard slurm: SLURM_ARRAY_TASK_ID and SLURM_ARRAY_TASK_COUNT are not both set.',
      'Submit the job as an array, sbatch --array=1-4, or name the part: --shard 1/4.',
    );
  }
  const shard = within({ index: (id - first) / step + 1, of });
  if (shard && Number.isInteger(shard.index)) return shard;
  return optionUnknown(
    `--shard slurm: task ${id} has no place among ${of} tasks from ${first} on.`,
    'Number the array without gaps, such as --array=1-4, or name the part: --shard 1/4.',
  );
};

const fromKubernetes = (of: number, env: Environment): Shard | Finding => {
  const index = wholeNumber(env.JOB_COMPLETION_INDEX);
  if (index === undefined) {
    return optionUnknown(
      '--shard kubernetes: JOB_COMPLETION_INDEX is not set.',
      'Set completionMode: Indexed in the job, or name the part: --shard 1/4.',
    );
  }
  return (
    within({ index: index + 1, of }) ??
    optionUnknown(
      `--shard kubernetes/${of}: the index ${index} is not below ${of}.`,
      "Give the job's number of completions behind the stroke.",
    )
  );
};

/** Every n-th fitting, so that each part gets its share of the long ones, wherever they stand. */
export const isInShard = (place: number, shard: Shard | undefined): boolean =>
  shard === undefined || (place - 1) % shard.of === shard.index - 1;

export const manifestName = (shard: Shard | undefined): string =>
  shard === undefined ? 'manifest.jsonl' : `manifest.${shard.index}-of-${shard.of}.jsonl`;
