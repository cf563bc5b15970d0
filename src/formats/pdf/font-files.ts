import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { Bug } from '../../finding.ts';

/** A font that comes with the program. */
export interface Face {
  /** As the document names it. */
  readonly name: string;
  /** In the folder `fonts` of the built program. */
  readonly file: string;
  /** In the package that it is from, where the program runs unbuilt. */
  readonly module: string;
}

/** In the order in which a letter is looked for. Both are open: the licences are in the packages. */
export const FACES: readonly Face[] = [
  // Latin, Greek, Cyrillic, Armenian, Georgian, Hebrew, Arabic, arrows, fractions.
  { name: 'DejaVuSans', file: 'DejaVuSans.ttf', module: 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf' },
  // Japanese: kana and the characters of JIS X 0208.
  {
    name: 'BIZUDPGothic-Regular',
    file: 'BIZUDPGothic_400Regular.ttf',
    module: '@expo-google-fonts/biz-udpgothic/400Regular/BIZUDPGothic_400Regular.ttf',
  },
];

/** For emphasis; Japanese has none of its own here. */
export const BOLD_FACES: readonly Face[] = [
  { name: 'DejaVuSans-Bold', file: 'DejaVuSans-Bold.ttf', module: 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf' },
  ...FACES.slice(1),
];

/**
 * The bytes of a font. The one place outside the job that opens a file: a part of the program, never a user's.
 * The build lays the fonts beside the entry file, which is one folder above the parts it is split into.
 */
export const fontBytes = async (face: Face): Promise<Uint8Array> => {
  const places = [`../fonts/${face.file}`, `fonts/${face.file}`].map((p) => new URL(p, import.meta.url));
  for (const place of places) {
    const bytes = await readFile(place).catch(() => undefined);
    if (bytes) return bytes;
  }
  try {
    return await readFile(createRequire(import.meta.url).resolve(face.module));
  } catch (error) {
    throw new Bug(`The font ${face.file} is not where the program was installed`, { cause: error });
  }
};
