import { spawnSync } from 'node:child_process';

/** The system's interpreter: the independent readers (ezdxf, shapely, svgelements) are installed for it. */
const INTERPRETER = '/usr/bin/python3';

/**
 * Runs a Python script that finds its input parsed in `given` and leaves its result in `answer`.
 * Throws with what Python printed when it fails.
 */
export const python = (script: string, input: unknown): unknown => {
  const whole = [
    'import json, sys',
    'given = json.load(sys.stdin)',
    'answer = None',
    script,
    'sys.stdout.write("\\n" + json.dumps(answer))',
  ].join('\n');
  const run = spawnSync(INTERPRETER, ['-c', whole], {
    input: JSON.stringify(input),
    encoding: 'utf8',
    maxBuffer: 256 * 1024 * 1024,
    timeout: 120_000,
  });
  if (run.error) throw run.error;
  if (run.status !== 0) throw new Error(`Python failed:\n${run.stderr}`);
  return JSON.parse(run.stdout.slice(run.stdout.lastIndexOf('\n')));
};

/**
 * Whether all the Python modules can be imported. Where checks must not be skipped (env CI set) a missing one throws;
 * elsewhere it is told on stderr and the caller skips: `describe.skipIf(!outsideAvailable(['shapely']))`.
 */
export const outsideAvailable = (modules: readonly string[]): boolean => {
  const run = spawnSync(INTERPRETER, ['-c', modules.map((m) => `import ${m}`).join('\n') || 'pass'], {
    encoding: 'utf8',
  });
  if (!run.error && run.status === 0) return true;
  const why = run.error?.message ?? run.stderr.trim().split('\n').at(-1) ?? '';
  const message = `${INTERPRETER} with ${modules.join(', ')} is needed for this check: ${why}`;
  if (process.env.CI) throw new Error(message);
  process.stderr.write(`skipped: ${message}\n`);
  return false;
};
