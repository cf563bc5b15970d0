import { cruise, type ICruiseResult, type IModule } from 'dependency-cruiser';
import { beforeAll, expect, it } from 'vitest';

/** Which folder may import which. Every folder may import src/finding.ts and itself. */
const ARROWS: Readonly<Record<string, readonly string[]>> = {
  geometry: [],
  measurements: [],
  pattern: ['geometry'],
  paper: ['geometry', 'pattern'],
  formats: ['geometry'],
  recognise: ['geometry', 'pattern', 'formats', 'measurements'],
  alterations: ['paper', 'pattern', 'measurements', 'geometry'],
  layout: ['geometry', 'pattern', 'formats'],
  picture: ['geometry', 'pattern'],
  report: ['picture', 'formats', 'geometry'],
  checks: ['pattern', 'paper', 'geometry', 'measurements'],
  job: [
    'alterations',
    'checks',
    'formats',
    'geometry',
    'layout',
    'measurements',
    'paper',
    'pattern',
    'picture',
    'recognise',
    'report',
  ],
  cli: ['job'],
  // The library is what the job offers, and its types.
  'index.ts': ['job', 'alterations', 'checks', 'formats', 'pattern'],
};

/** Folders of the job, and which of the others each may import. What lies beside them is common ground. */
const JOB: Readonly<Record<string, readonly string[]>> = {
  orders: [],
  unfold: [],
  report: [],
  plot: [],
  fittings: ['orders'],
  catalogue: ['orders', 'unfold'],
  run: ['orders', 'report'],
};

/** Packages, by the only folders that may know of them. Node's own modules are for reading, writing and hashing only. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  'dxf-parser': ['formats/dxf'],
  'dxf-writer': ['formats/dxf'],
  'svg-parser': ['formats/svg'],
  'svg-pathdata': ['formats/svg'],
  saxes: ['formats/svg', 'measurements/xlsx'],
  fflate: ['measurements/xlsx'],
  'write-excel-file': ['job'],
  'iconv-lite': ['formats/dxf', 'formats/svg'],
  'pdf-lib': ['formats/pdf'],
  '@pdf-lib/fontkit': ['formats/pdf'],
  'polygon-clipping': ['geometry'],
  'csv-parse': ['measurements'],
  yaml: ['measurements', 'recognise/sheet'],
  ajv: ['recognise/sheet', 'job'],
  commander: ['cli'],
  'cli-progress': ['cli'],
  piscina: ['job'],
};

/** Fewer than this and the reader has not seen the code: some versions report nothing and pass. */
const FEWEST_MODULES = 60;

let modules: readonly IModule[] = [];
let arrows: readonly { from: string; to: string; typesOnly: boolean }[] = [];

beforeAll(async () => {
  const result = await cruise(
    ['src'],
    { tsPreCompilationDeps: true, doNotFollow: { path: 'node_modules' }, combinedDependencies: true },
    { extensions: ['.ts', '.js', '.json'], bustTheCache: true },
  );
  modules = (result.output as ICruiseResult).modules.filter((m) => m.source.startsWith('src/'));
  arrows = modules.flatMap((m) =>
    m.dependencies.map((d) => ({ from: m.source, to: d.resolved, typesOnly: d.dependencyTypes.includes('type-only') })),
  );
});

/** `src/formats/dxf/tags.ts` → `formats`. */
const folderOf = (file: string): string => file.split('/')[1] ?? '';
const shown = ({ from, to }: { from: string; to: string }): string => `${from} → ${to}`;

it('sees the whole source', () => {
  expect(modules.length).toBeGreaterThan(FEWEST_MODULES);
  expect(arrows.length).toBeGreaterThan(FEWEST_MODULES);
});

it('knows every folder', () => {
  const folders = new Set(
    modules
      .map((m) => m.source)
      .filter((s) => s.split('/').length > 2)
      .map(folderOf),
  );
  expect([...folders].filter((folder) => !(folder in ARROWS))).toEqual([]);
});

it('imports only along the arrows', () => {
  const inside = arrows.filter(({ to }) => to.startsWith('src/') && to !== 'src/finding.ts');
  const wrong = inside.filter(({ from, to }) => {
    const [own, other] = [folderOf(from), folderOf(to)];
    return own !== other && !ARROWS[own]?.includes(other);
  });
  expect(wrong.map(shown)).toEqual([]);
});

it('knows every folder of the job, and lets them import only along their arrows', () => {
  const partOf = (file: string): string | undefined => /^src\/job\/(.+?)\//.exec(file)?.[1];
  expect([...new Set(modules.map((m) => partOf(m.source)))].filter((part) => part && !(part in JOB))).toEqual([]);
  const wrong = arrows.filter(({ from, to }) => {
    const [own, other] = [partOf(from), partOf(to)];
    return own && other && own !== other && !JOB[own]?.includes(other);
  });
  expect(wrong.map(shown)).toEqual([]);
});

it('lets nothing but the job see into a format, and no format into another', () => {
  const wrong = arrows.filter(({ from, to }) => {
    // The contracts lie beside the formats' folders.
    if (!/^src\/formats\/.*\//.test(to)) return false;
    const own = to.split('/').slice(0, 3).join('/');
    return !from.startsWith(`${own}/`) && folderOf(from) !== 'job';
  });
  expect(wrong.map(shown)).toEqual([]);
});

it('keeps packages where they belong', () => {
  const packages = arrows.flatMap(({ from, to }) => {
    const name = /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(to)?.[1];
    return name === undefined ? [] : [{ from, to: name.replace('@types/', '') }];
  });
  expect(packages.length).toBeGreaterThan(0);
  const wrong = packages.filter(({ from, to }) => !PACKAGES[to]?.some((folder) => from.startsWith(`src/${folder}/`)));
  expect(wrong.map(shown)).toEqual([]);
});

/** Fonts lie beside the program and are read when a PDF needs them. */
const FONTS = 'src/formats/pdf/font-files.ts';

it('touches files only in the job', () => {
  const disk = arrows.filter(({ to }) => /^(node:)?(fs|fs\/promises|child_process|net|https?)$/.test(to));
  expect(disk.filter(({ from }) => folderOf(from) !== 'job' && from !== FONTS).map(shown)).toEqual([]);
});

it('has no circles, but for types, which are gone when the program runs', () => {
  const next = new Map<string, string[]>();
  for (const { from, to, typesOnly } of arrows) {
    if (!typesOnly) next.set(from, [...(next.get(from) ?? []), to]);
  }
  const reaches = (start: string): Set<string> => {
    const seen = new Set<string>();
    const open = [start];
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      for (const to of next.get(at) ?? []) {
        if (!seen.has(to)) open.push(to);
        seen.add(to);
      }
    }
    return seen;
  };
  expect([...next.keys()].filter((module) => reaches(module).has(module))).toEqual([]);
});
