import { dirname, resolve, sep } from 'node:path';

/**
 * Whose each file is, by the folder it lies in; where two folders have one name, by as many
 * folders above it as tell them apart: `Monday/Ann` and `Tuesday/Ann`.
 */
export const folderLabels = (paths: readonly string[]): readonly string[] => {
  const folders = paths.map((path) => dirname(resolve(path)).split(sep));
  return folders.map((own) => {
    const others = folders.filter((f) => f.join(sep) !== own.join(sep));
    for (let depth = 1; depth < own.length; depth++) {
      const label = own.slice(-depth).join('/');
      if (others.every((f) => f.slice(-depth).join('/') !== label)) return label;
    }
    return own.join('/');
  });
};
