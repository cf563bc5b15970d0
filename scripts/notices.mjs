// The licence notices of the packages whose code is bundled: they ask to be kept with every copy.
import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';

/** Names under which packages keep their licence, and the notices it may ask to be kept too. */
const LICENCE = /^(?:licen[cs]e|copying|notice)(?:[-.].*)?$/i;

/** Of packages that name their licence but come without its text: as it stands in the repository each names as its own. */
const TEXTS = new URL('licences/', import.meta.url);

/**
 * Name, version, licence and licence text of every package that has code in the bundle, and the copyright notices that
 * stand in the files themselves.
 *
 * @param metafile esbuild's, of the build
 * @throws when a package has no licence text: it must not be handed on like that
 */
export const noticesOf = async (metafile) => {
  const files = usedFiles(metafile);
  const folders = [...new Set(files.map(folderOf))];
  const notices = await Promise.all(
    folders.map((folder) =>
      noticeOf(
        folder,
        files.filter((f) => folderOf(f) === folder),
      ),
    ),
  );
  return [
    'The program holds code of these packages, under these licences. The fonts have theirs beside them, in fonts/.\n',
    ...notices.toSorted(),
  ].join(`\n${'-'.repeat(80)}\n\n`);
};

/** Files of packages that any of the written files has code of; those that the bundler left out are not. */
const usedFiles = ({ outputs }) => {
  const used = Object.values(outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([path, { bytesInOutput }]) => (bytesInOutput > 0 ? [path] : [])),
  );
  return [...new Set(used)].filter((path) => folderOf(path) !== undefined);
};

const folderOf = (path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(path)?.[0];

const noticeOf = async (folder, files) => {
  const { name, version, license } = JSON.parse(await readFile(`${folder}/package.json`, 'utf8'));
  const texts = await licenceTexts(folder, name);
  if (!license || texts.length === 0) throw new Error(`${name} ${version} is bundled but has no licence text.`);
  const inFiles = new Set((await Promise.all(files.map(copyrightIn))).flat());
  const parts = [...texts, ...(inFiles.size === 0 ? [] : ['In its files:', ...inFiles])];
  return `${name} ${version}\nLicence: ${license}\n\n${parts.map((part) => part.trim()).join('\n\n')}\n`;
};

const licenceTexts = async (folder, name) => {
  const own = (await readdir(folder)).filter((file) => LICENCE.test(file)).toSorted();
  const kept = new URL(`${name.replace('@', '').replace('/', '-')}.txt`, TEXTS);
  const files = own.length > 0 ? own.map((file) => `${folder}/${file}`) : existsSync(kept) ? [kept] : [];
  return Promise.all(files.map((file) => readFile(file, 'utf8')));
};

const COMMENT = /\/\*[\s\S]*?\*\/|(?:^[ \t]*\/\/.*\n)+/gm;

const copyrightIn = async (file) => {
  const comments = (await readFile(file, 'utf8')).match(COMMENT) ?? [];
  return comments.filter((comment) => /copyright (?:\(c\)|\d{4}|[A-Z])/i.test(comment));
};
