import type { Status } from './ledger.ts';
import { store, textIfThere } from './store.ts';

/** One line of `manifest.jsonl`: what a run made for one fitting, and of what. */
export interface ManifestLine {
  readonly fitting: string;
  readonly status: Status;
  readonly folder: string;
  /** Paths within the run's folder, with `/` on every system. */
  readonly outputs: readonly { readonly file: string; readonly sha256: string }[];
  /** SHA-256 over the pattern file and its sheet. */
  readonly input: string;
  /** SHA-256 over the order and all options that bear on the result. */
  readonly options: string;
  readonly version: string;
}

/**
 * Adds the lines of a run to the manifest of its folder. Lines of other fittings stay, so that one wearer after the
 * other can be done into the same folder; a fitting done again gets its new line in the old place.
 */
export const addToManifest = async (path: string, lines: readonly ManifestLine[]): Promise<void> => {
  const merged = new Map<string, string>();
  for (const text of (await textIfThere(path)).split('\n')) {
    const fitting = fittingOf(text);
    if (fitting !== undefined) merged.set(fitting, text);
  }
  for (const line of lines) merged.set(line.fitting, JSON.stringify(line));
  await store(path, [...merged.values(), ''].join('\n'));
};

/** The fitting a line is about; nothing for a line that is none of ours. */
const fittingOf = (text: string): string | undefined => {
  try {
    const { fitting } = JSON.parse(text) as Partial<ManifestLine>;
    return typeof fitting === 'string' ? fitting : undefined;
  } catch {
    return undefined;
  }
};

/** The lines of a manifest in their order; those that are none of ours are passed over. */
export const readManifest = async (path: string): Promise<ManifestLine[]> =>
  (await textIfThere(path))
    .split('\n')
    .filter((text) => fittingOf(text) !== undefined)
    .map((text) => JSON.parse(text) as ManifestLine);
