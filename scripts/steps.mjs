// Small steps that the scripts share. Plain node, since they run before anything is installed.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Runs a command with its output shown; ends this script with the same exit code when it fails. */
export const step = (command, args, options = {}) => {
  const { status, error } = spawnSync(command, args, {
    stdio: 'inherit',
    shell: process.platform === 'win32',
    ...options,
  });
  if (error) throw error;
  if (status !== 0) process.exit(status ?? 1);
};

/** Installs the packages of the lock file, once. */
export const install = () => {
  if (existsSync('node_modules/.package-lock.json')) return;
  console.log('Installing packages …');
  step('npm', ['ci']);
};
