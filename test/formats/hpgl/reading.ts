/* A small reader of HP-GL for tests: what pens do, from the text alone. */

export interface Drawn {
  readonly pen: number;
  readonly type: string;
  readonly points: readonly (readonly [number, number])[];
}
export interface Page {
  readonly size: readonly number[];
  readonly drawn: readonly Drawn[];
  readonly labels: readonly {
    readonly at: readonly [number, number];
    readonly text: string;
    readonly way: readonly number[];
    readonly size: readonly number[];
  }[];
  /** Distance travelled with the pen up, plot units. */
  readonly travel: number;
  readonly commands: readonly string[];
}

/** Pages end with PG, or with the text. */
export const pagesOf = (text: string): Page[] => {
  // Labels end with ETX, everything else with a semicolon.
  const commands = text.replaceAll('\u0003', '¶').match(/LB[^¶]*¶|[A-Z][A-Z][^A-Z;¶]*;/g) ?? [];
  const pages: Page[] = [];
  let page = newPage();
  for (const command of commands) {
    page.read(command);
    if (command.startsWith('PG')) {
      pages.push(page.done());
      page = newPage();
    }
  }
  const rest = page.done();
  return rest.commands.length > 0 ? [...pages, rest] : pages;
};

const newPage = () => {
  const drawn: { pen: number; type: string; points: [number, number][] }[] = [];
  const labels: Page['labels'][number][] = [];
  const commands: string[] = [];
  let [size, way, letters]: number[][] = [[], [1, 0], []];
  let [pen, type, travel, down]: [number, string, number, boolean] = [0, '', 0, false];
  let at: [number, number] = [0, 0];
  const read = (command: string): void => {
    commands.push(command);
    const name = command.slice(0, 2);
    const numbers =
      name === 'LB'
        ? []
        : command
            .slice(2, -1)
            .split(',')
            .filter((s) => s !== '')
            .map(Number);
    if (name === 'PS') size = numbers;
    if (name === 'SP') pen = numbers[0] as number;
    if (name === 'LT') type = command.slice(2, -1);
    if (name === 'DI') way = numbers;
    if (name === 'SI') letters = numbers;
    if (name === 'LB') labels.push({ at, text: command.slice(2, -1), way: way as number[], size: letters as number[] });
    if (name !== 'PU' && name !== 'PD') return;
    for (let i = 0; i < numbers.length; i += 2) {
      const to: [number, number] = [numbers[i] as number, numbers[i + 1] as number];
      if (name === 'PU') travel += Math.hypot(to[0] - at[0], to[1] - at[1]);
      else {
        if (!down) drawn.push({ pen, type, points: [at] });
        drawn.at(-1)?.points.push(to);
        down = true;
      }
      at = to;
    }
    if (name === 'PU') down = false;
  };
  const done = (): Page => ({ size: size as number[], drawn, labels, travel, commands });
  return { read, done };
};
