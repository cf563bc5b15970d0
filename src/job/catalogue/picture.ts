import { fileURLToPath } from 'node:url';
import type { Alteration } from '../../alterations/alteration.ts';
import type { AlterationCard, Altered, LengthShown } from '../../alterations/contract.ts';
import { alterationCalled } from '../../alterations/index.ts';
import { Bug, hasErrors } from '../../finding.ts';
import { MM_PER_INCH } from '../../measurements/units.ts';
import type { Pattern } from '../../pattern/pattern.ts';
import { inARow, OVERLAY_STYLE, overlay, type Picture } from '../../picture/overlay.ts';
import { escaped, written } from '../../picture/path-data.ts';
import { type Bench, fitOrder } from '../fitting.ts';
import { measure } from '../measures.ts';
import type { Order } from '../orders/orders.ts';
import { readPatternFile } from '../patternfile.ts';
import { piecesToUnfold, withUnfolded } from '../unfold/opened.ts';
import { shown, wrapped } from '../words.ts';
import { demoBlockPath, demoBlocks } from './demo-blocks.ts';

/*
 * What an alteration does, at a glance: the pieces of a demo block before and after its worked example, both ways. The
 * pieces are altered by the program itself, as they would be for a wearer.
 */

/** @returns a whole SVG file; @throws Bug when no demo block can show the alteration */
export const cardPicture = async (card: AlterationCard, show: LengthShown): Promise<string> => {
  const alteration = alterationCalled(card.name);
  if (!alteration) throw new Bug(`no alteration is called ${card.name}`);
  const amount = exampleAmount(alteration);
  const views = [await shownOn(card, amount, show), await shownOn(card, -amount, show)];
  const signs = [card.plus, card.minus];
  return page(
    card.title,
    views.flatMap((v, i) => (v ? [{ ...v, says: `${i === 0 ? '+' : '−'} ${signs[i]}` }] : [])),
  );
};

/** The worked example's own amount, mm. */
const exampleAmount = ({ examples }: Alteration): number => Math.abs(examples[0]?.amount ?? 0.5) * MM_PER_INCH;

interface View {
  readonly picture: Picture;
  readonly did: readonly string[];
}

/** The first demo block on which the alteration can be done, before and after. */
const shownOn = async (card: AlterationCard, amount: number, show: LengthShown): Promise<View | undefined> => {
  for (const block of demoBlocks) {
    const bench = await benchOf(fileURLToPath(await demoBlockPath(block)));
    const order = orderFor(card, amount, show);
    const first = fitOrder(bench, order);
    const halves = piecesToUnfold(bench.file, first.plan);
    const open = halves.length > 0 ? withUnfolded(bench, halves).bench : bench;
    const { altered } = halves.length > 0 ? fitOrder(open, order) : first;
    if (altered && !hasErrors(altered.findings)) return viewOf(open.file.pattern, altered, show);
  }
  return undefined;
};

const benches = new Map<string, Promise<Bench>>();
const benchOf = (path: string): Promise<Bench> => {
  const known = benches.get(path) ?? makeBench(path);
  benches.set(path, known);
  return known;
};

const makeBench = async (path: string): Promise<Bench> => {
  const { file } = await readPatternFile(path, {});
  if (!file) throw new Bug(`the demo block ${path} cannot be read`);
  return {
    file,
    before: measure(file.pattern),
    plan: { beyondLimits: true, choices: {} },
    unfold: true,
    alter: { true: false, fullGrainline: false },
    formats: [],
  };
};

const orderFor = (card: AlterationCard, amount: number, show: LengthShown): Order => ({
  needs: { fitting: 'example', measurements: {}, direct: { [card.name]: { amount, column: card.name } } },
  ...{ show, wearer: '', note: '', refused: false, findings: [] },
});

/** The pieces that changed. */
const viewOf = (before: Pattern, { pattern, steps, followed }: Altered, show: LengthShown): View | undefined => {
  const pairs = before.pieces.flatMap((piece) => {
    const after = pattern.pieces.find((p) => p.id === piece.id);
    return after && after !== piece ? [{ before: piece, after }] : [];
  });
  if (pairs.length === 0) return undefined;
  const words = (mm: number): string => shown(mm, show);
  return {
    picture: inARow(pairs.map((p) => overlay(p, words))),
    did: [...steps.flatMap((s) => s.did), ...followed.map((f) => f.did)],
  };
};

const TITLE = 40;
const LINE = 18;
/** Letters of the words under a picture that fit into a millimetre of it. */
const LETTERS_PER_MM = 0.145;

const page = (title: string, views: readonly (View & { says: string })[]): string => {
  if (views.length === 0) throw new Bug(`${title}: no demo block shows it`);
  let x = 0;
  const columns = views.map((v) => {
    const width = Math.max(v.picture.width, 360);
    const lines = v.did.flatMap((d) => wrapped(d, Math.floor(width * LETTERS_PER_MM)));
    const column = { x, width, view: v, lines };
    x += width + 40;
    return column;
  });
  const top = TITLE + 34;
  const tall = Math.max(...columns.map((c) => c.view.picture.height));
  const height = top + tall + LINE * (Math.max(...columns.map((c) => c.lines.length)) + 3);
  const words = (look: string, px: number, py: number, text: string): string =>
    `<text class="${look}" x="${written(px)}" y="${written(py)}">${escaped(text)}</text>`;
  const parts = columns.map((c) =>
    [
      words('p-head', c.x + 28, TITLE + 20, c.view.says),
      `<g transform="translate(${written(c.x)} ${written(top + tall - c.view.picture.height)})">${c.view.picture.markup}</g>`,
      ...c.lines.map((line, i) => words('p-text', c.x + 28, top + tall + LINE * (i + 1), line)),
    ].join(''),
  );
  const key = `<path class="p-was" d="M28 ${written(height - 18)}h40"/>${words('p-text', 76, height - 14, 'as it was')}<path class="p-is" d="M150 ${written(height - 18)}h40"/>${words('p-text', 198, height - 14, 'altered')}`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${written(x)} ${written(height)}" width="${written(x)}" height="${written(height)}" role="img" aria-label="${escaped(title)}">`,
    `<style>${OVERLAY_STYLE}.p-title{font:bold 20px sans-serif;fill:#111}.p-head{font:bold 15px sans-serif;fill:#0b2f52}</style>`,
    `<rect width="100%" height="100%" fill="#fff"/>`,
    words('p-title', 28, 28, title),
    ...parts,
    key,
    '</svg>\n',
  ].join('\n');
};
