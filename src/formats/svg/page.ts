import type { Affine } from '../../geometry/transform.ts';
import { compose, scaling, translation } from '../../geometry/transform.ts';
import type { DrawingUnits, ReadOptions } from '../drawing.ts';
import { report } from './codes.ts';
import { attribute, type Element } from './elements.ts';
import {
  type Box,
  inMillimetres,
  isPhysical,
  type Length,
  MM_PER_PX,
  parseLength,
  parseViewBox,
  type Surroundings,
  userUnitsPer,
  viewTransform,
} from './lengths.ts';
import type { Log } from './log.ts';
import type { Source } from './source.ts';
import { whereIs } from './source.ts';

/** The outermost svg element as a sheet of paper. */
export interface Page {
  /** Its user units (y down) to millimetres (y up). */
  readonly toMm: Affine;
  readonly around: Surroundings;
  readonly units: DrawingUnits;
  /** How many px (96 to the inch) one user unit spans by the page's own numbers, whatever a px may be. */
  readonly pxPerUnit: number;
}

/** CSS's size of a replaced element that says nothing. */
const DEFAULT_SIZE = { width: 300, height: 150 };
const FONT_SIZE = 16;
/** Proportions that differ by less come from rounding. */
const ASPECT_SLACK = 0.005;

/** The drawing's axes are the page's, turned y up about its top left corner. */
const upright = (millimetres: number, page: Affine): Affine => compose(scaling(millimetres, -millimetres), page);

/** Size and units of the page (SVG 2, sections 8.2 to 8.9). */
export const pageOf = (source: Source, root: Element, options: ReadOptions, log: Log): Page => {
  const where = whereIs(source, root.start, 'svg');
  const size = (name: string): Length | undefined => {
    const text = attribute(root, name);
    if (text === undefined || text.trim() === 'auto' || text.trim() === '') return undefined;
    const length = parseLength(text);
    if (length === undefined || (length.unit !== '%' && length.value <= 0)) {
      const message = `The ${name} of the drawing, "${text}", is no size.`;
      log.add(report('svg-length', where, message, `Write it with a unit, such as ${name}="900mm".`));
      return undefined;
    }
    return length;
  };
  const [width, height] = [size('width'), size('height')];
  const view = viewOf(source, root, log);
  const around = {
    width: view?.width ?? inPx(width) ?? DEFAULT_SIZE.width,
    height: view?.height ?? inPx(height) ?? DEFAULT_SIZE.height,
    fontSize: FONT_SIZE,
  };
  const stated = isPhysical(width) || isPhysical(height);
  const page = onPage(view, inMillimetres(width), inMillimetres(height), attribute(root, 'preserveAspectRatio'));
  const pxPerUnit = page.a / MM_PER_PX;
  if (options.units !== undefined) {
    const { millimetresPerUnit, name } = options.units;
    const own = page.a;
    if (stated && Math.abs(own / millimetresPerUnit - 1) > 1e-3) {
      const message = `The file says that one of its units is ${own.toPrecision(4)} mm, but ${name} was given for this run (${millimetresPerUnit} mm); the latter is used.`;
      log.add(report('svg-units-contradict', where, message, 'Leave the unit out if the file is right.'));
    }
    const offset = view === undefined ? translation({ x: 0, y: 0 }) : translation({ x: -view.x, y: -view.y });
    return {
      toMm: upright(millimetresPerUnit, offset),
      around,
      units: { millimetresPerUnit, statedBy: 'option', name },
      pxPerUnit,
    };
  }
  if (!stated) {
    const offset = view === undefined ? translation({ x: 0, y: 0 }) : translation({ x: -view.x, y: -view.y });
    return {
      toMm: upright(1, offset),
      around,
      units: { millimetresPerUnit: 1, statedBy: 'unstated', name: 'unit' },
      pxPerUnit,
    };
  }
  warnAboutPage(source, root, view, width, height, log);
  return {
    toMm: upright(1, page),
    around,
    units: { millimetresPerUnit: page.a, statedBy: 'file', name: unitName(page.a) },
    pxPerUnit,
  };
};

const viewOf = (source: Source, root: Element, log: Log): Box | undefined => {
  const text = attribute(root, 'viewBox');
  if (text === undefined) return undefined;
  const view = parseViewBox(text);
  if (view === undefined) {
    const message = `The coordinate range viewBox="${text}" is not four numbers with a size above nothing; sizes may be wrong.`;
    log.add(
      report(
        'svg-viewbox',
        whereIs(source, root.start, 'svg'),
        message,
        'Save the drawing again, or take the viewBox out.',
      ),
    );
  }
  return view;
};

const inPx = (length: Length | undefined): number | undefined => {
  const millimetres = inMillimetres(length);
  return millimetres === undefined ? undefined : millimetres / MM_PER_PX;
};

/** The page's user units on paper, in mm, still y down. */
const onPage = (
  view: Box | undefined,
  width: number | undefined,
  height: number | undefined,
  aspect: string | undefined,
): Affine => {
  if (view === undefined) return scaling(MM_PER_PX);
  const w = width ?? (height === undefined ? view.width * MM_PER_PX : (height * view.width) / view.height);
  const h = height ?? (width === undefined ? view.height * MM_PER_PX : (width * view.height) / view.width);
  return viewTransform(view, { x: 0, y: 0, width: w, height: h }, aspect);
};

const warnAboutPage = (
  source: Source,
  root: Element,
  view: Box | undefined,
  width: Length | undefined,
  height: Length | undefined,
  log: Log,
): void => {
  const where = whereIs(source, root.start, 'svg');
  const onlyPx = [width, height].every((l) => l === undefined || l.unit === 'px' || l.unit === '' || l.unit === '%');
  if (onlyPx) {
    const message =
      'The size is stated in px only. It is read at 96 px to the inch, as the standard says; some programs mean 72 or 90.';
    const tip =
      'Check one known length. If it is out, give the unit for the run: 0.352778 mm at 72, 0.282222 mm at 90 to the inch.';
    log.add(report('svg-units-px', where, message, tip));
  }
  const [w, h] = [inMillimetres(width), inMillimetres(height)];
  if (view === undefined || w === undefined || h === undefined) return;
  const difference = w / h / (view.width / view.height) - 1;
  if (Math.abs(difference) <= ASPECT_SLACK) return;
  const stretched = attribute(root, 'preserveAspectRatio')?.trim().startsWith('none') === true;
  const message = `Width and height of the drawing have other proportions than its viewBox (${(Math.abs(difference) * 100).toFixed(1)} % apart); ${
    stretched ? 'as it asks, it is stretched to fit' : 'it is scaled evenly to fit inside'
  }.`;
  log.add(report('svg-aspect', where, message, 'Check a known length across and one along.'));
};

const unitName = (millimetres: number): string => {
  const names = ['mm', 'cm', 'in', 'pt', 'pc', 'px'];
  const around = { width: 0, height: 0, fontSize: FONT_SIZE };
  const near = names.find((name) => Math.abs((userUnitsPer(name, 'x', around) * MM_PER_PX) / millimetres - 1) < 1e-4);
  return near ?? 'user unit';
};

/** Without a physical size: what the drawing would measure under each customary reading. */
export const reportUnstated = (
  source: Source,
  root: Element,
  page: Page,
  extent: { width: number; height: number },
  log: Log,
): void => {
  const at = (millimetres: number): string =>
    `${(extent.width * millimetres).toFixed(1)} × ${(extent.height * millimetres).toFixed(1)} mm`;
  const px = page.pxPerUnit;
  const perInch = [96, 90, 72].map((dpi) => {
    const unit = (px * 25.4) / dpi;
    return `${at(unit)} at ${dpi} to the inch (${Number(unit.toPrecision(6))} mm)`;
  });
  const message =
    'The file does not say how large it is: its width and height have no unit. It is read as millimetres, which is a guess.';
  const tip = `Give the unit for the run. All lines together would be ${at(1)} in millimetres, ${perInch.join(', ')}.`;
  log.add(report('svg-units-unstated', whereIs(source, root.start, 'svg'), message, tip));
};
