import { Argument, Command, Option } from 'commander';
import { version } from '../job/version.ts';
import type { Io } from './io.ts';

/** Told the exit code of the command that ran. */
export type Exited = (code: number) => void;

const EXAMPLE = `
The shortest way, for one wearer:
  retrue alter skirt.dxf --drafted 'waist girth=27in, hip girth=37in' --wearer 'waist girth=28in, hip girth=38in'

Exit codes: 0 all done; 1 some fittings refused or failed, the rest are written; 2 nothing could be done;
3 the program is at fault.`;

const FOR_MANY = `
A rack of fittings:
  retrue alter skirt-12.dxf skirt-14.dxf bodice.dxf --fittings fittings.csv --chart chart.csv --out rack
A row is for the pattern in its column “pattern”, else for every pattern given; of a pattern in several sizes it gets
the one in its column “size”, else the nearest. In --names stand {fitting}, {wearer}, {pattern} and {size}.`;

/** The command line. Each command loads its own work when it runs, so that help comes at once. */
export const program = (io: Io, exited: Exited): Command => {
  const root = new Command('retrue')
    .description(
      'Alters digitized sewing pattern pieces (DXF, SVG) to the measurements of the people who will wear them.',
    )
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .helpCommand(false)
    .addHelpText('after', EXAMPLE)
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: io.err })
    .showHelpAfterError('(retrue help shows what can be typed)');
  survey(root, io, exited);
  amounts(root, io, exited);
  alter(root, io, exited);
  merge(root, io, exited);
  walk(root, io, exited);
  plot(root, io, exited);
  catalogue(root, io, exited);
  fittings(root, io, exited);
  completion(root, io, exited);
  help(root);
  return root;
};

const survey = (root: Command, io: Io, exited: Exited): void => {
  const command = root
    .command('survey')
    .description('tell what is in the file: pieces, lines, sizes, doubts')
    .argument('<pattern...>', 'pattern files');
  aboutThePattern(command);
  command
    .optionsGroup('What is written:')
    .option('--write-sheet <file>', 'write a pattern sheet that says what was found, ready to correct')
    .option('--force', 'replace a pattern sheet that is there already');
  shown(command).action(async (patterns: string[], options) => {
    exited(await (await import('./commands/survey.ts')).survey(patterns, options, io));
  });
};

const amounts = (root: Command, io: Io, exited: Exited): void => {
  const command = root
    .command('amounts')
    .description('reckon the needed changes, shares and limits, and alter nothing')
    .argument('<pattern...>', 'pattern files: other patterns, or other sizes of one');
  aboutTheWearers(command);
  aboutThePattern(command);
  shown(command).action(async (patterns: string[], options) => {
    exited(await (await import('./commands/amounts.ts')).amounts(patterns, options, io));
  });
};

const alter = (root: Command, io: Io, exited: Exited): void => {
  const command = root
    .command('alter')
    .description('alter patterns for one wearer or for a table of fittings')
    .argument('<pattern...>', 'pattern files: other patterns, or other sizes of one')
    .addHelpText('after', FOR_MANY);
  aboutTheWearers(command)
    .option('--true', 'also mend faults the pattern came with')
    .option('--full-grainline', 'run the grainline through the whole piece');
  aboutThePattern(command);
  command
    .optionsGroup('What is written:')
    .option('--out <folder>', 'folder to write to; each fitting gets a folder in it', './altered')
    .option('--names <template>', "how these are named, such as '{wearer}/{pattern} {size}' (default: '{fitting}')")
    .option('--to <formats>', "formats: dxf, svg or dxf,svg (default: the pattern's own)")
    .option('--report <formats>', 'pages for people, with a list of the run: html, pdf or html,pdf', 'html')
    .option('--no-report', 'no pages for people')
    .option(
      '--report-paper <size>',
      'sheets of the PDF: A4 or Letter (default: Letter where most fittings are in inches, else A4)',
    )
    .option('--plot [formats]', 'also lay out the pieces of all fittings: pdf, hpgl, svg, dxf (default: pdf)')
    .option('--force', 'replace what an earlier run wrote')
    .option('--dry-run', 'tell what would be done and written, and write nothing');
  aboutTheRun(command);
  aboutTheSheets(command);
  shown(command).action(async (patterns: string[], options) => {
    exited(await (await import('./commands/alter.ts')).alter(patterns, options, io));
  });
};

const merge = (root: Command, io: Io, exited: Exited): void => {
  root
    .command('merge')
    .description('join the manifests of a run that was spread over machines (alter --shard)')
    .argument('<folder>', 'the folder with what all parts wrote')
    .option('--json', 'print what was joined as JSON')
    .action(async (folder: string, options) => {
      exited(await (await import('./commands/merge.ts')).merge(folder, options, io));
    });
};

const walk = (root: Command, io: Io, exited: Exited): void => {
  const command = root
    .command('walk')
    .description('lay edges that are sewn together side by side, and tell whether they match')
    .argument('<pattern...>', 'pattern files');
  aboutThePattern(command);
  shown(command).action(async (patterns: string[], options) => {
    exited(await (await import('./commands/walk.ts')).walk(patterns, options, io));
  });
};

const plot = (root: Command, io: Io, exited: Exited): void => {
  const command = root
    .command('plot')
    .description('lay the pieces out and write true-scale sheets for a printer, plotter or cutter')
    .argument('<pattern...>', 'pattern files; those of the same name are fittings that share a roll');
  aboutThePattern(aboutTheSheets(command))
    .optionsGroup('What is written:')
    .option('--out <folder>', 'folder to write to', './plotted')
    .option(
      '--to <formats>',
      'formats: pdf, hpgl, svg, dxf; apparel, to exchange the pieces; several with commas',
      'pdf',
    )
    .option('--together <name>', 'all patterns in one plot of that name')
    .option('--force', 'replace what is there already');
  shown(command).action(async (patterns: string[], options) => {
    exited(await (await import('./commands/plot.ts')).plot(patterns, options, io));
  });
};

const catalogue = (root: Command, io: Io, exited: Exited): void => {
  const command = root
    .command('catalogue')
    .description('list the alterations: what each does, needs, and its limits')
    .argument('[alteration]', 'one alteration, to tell all about it')
    .option('--svg', 'draw that one before and after, as an SVG picture');
  shown(command).action(async (name: string | undefined, options) => {
    exited(await (await import('./commands/catalogue.ts')).catalogue(name, options, io));
  });
};

const fittings = (root: Command, io: Io, exited: Exited): void => {
  const group = root
    .command('fittings')
    .description('tables of wearers: write an empty one, check one that is filled in');
  fittingsNew(group, io, exited);
  fittingsCheck(group, io, exited);
};

const fittingsNew = (group: Command, io: Io, exited: Exited): void => {
  const command = group
    .command('new')
    .description("write an empty table with the measurements that a pattern's pieces can use, and how to take them")
    .argument('<pattern...>', 'pattern files')
    .optionsGroup('The table:')
    .option('--units <unit>', 'unit of the measurements: in, cm or mm (default: in for a pattern in inches, else cm)')
    .option('--to <kinds>', 'xlsx, csv or xlsx,csv (default: as --out ends, else xlsx)')
    .option('--separator <mark>', 'CSV: comma, semicolon or tab', 'comma')
    .option('--out <file>', 'the table, or the folder for it', '.')
    .option('--notes', 'print how to measure as well')
    .option('--force', 'replace a table that is there already');
  aboutTheBody(command)
    .optionsGroup('The pattern:')
    .option('--pattern-sheet <file>', 'what the drawing does not say (default: PATTERN.sheet.yaml beside it)')
    .option('--drawn-in <unit>', 'unit the pattern is drawn in: mm, cm, in or px')
    .option('--view <name>', 'only the pieces of this view')
    .optionsGroup('What is shown:')
    .option('--json', 'print the result as JSON')
    .action(async (patterns: string[], options) => {
      exited(await (await import('./commands/fittings.ts')).fittingsNew(patterns, options, io));
    });
};

const fittingsCheck = (group: Command, io: Io, exited: Exited): void => {
  const command = group
    .command('check')
    .description('find values that cannot be, or hardly can be, as written, with the likely meaning')
    .argument('<table>', 'table of fittings: XLSX (FILE.xlsx#SHEET for one sheet), CSV, JSON or YAML')
    .argument('[pattern...]', 'pattern files, to look at the rows that are for them with them in view');
  aboutThePattern(aboutTheBody(command));
  command.optionsGroup('What is shown:').option('--json', 'print the result as JSON');
  command.action(async (table: string, patterns: string[], options) => {
    exited(await (await import('./commands/fittings.ts')).fittingsCheck(table, patterns, options, io));
  });
};

const completion = (root: Command, io: Io, exited: Exited): void => {
  root
    .command('completion')
    .description('print a script that lets your shell complete what you type')
    .addArgument(new Argument('<shell>', 'your shell').choices(['bash', 'zsh', 'fish']))
    .action(async (shell: string) => {
      exited((await import('./commands/completion.ts')).completion(shell, root, io));
    });
};

/** `help fittings new`, for commands that belong to another too. */
const help = (root: Command): void => {
  root
    .command('help')
    .description('show help for a command')
    .argument('[command...]', 'the command, with the one that it belongs to')
    .helpOption(false)
    .action((names: string[]) => {
      const asked = names.flatMap((name) => name.split(' ')).reduce(commandIn, root);
      asked.outputHelp();
    });
};

const commandIn = (of: Command, name: string): Command => {
  const found = of.commands.find((c) => c.name() === name);
  return found ?? of.error(`error: unknown command '${name}'`, { code: 'commander.unknownCommand' });
};

const aboutTheWearers = (command: Command): Command =>
  aboutTheBody(
    command
      .optionsGroup('Who it is for:')
      .option('--wearer <list>', "one wearer: 'waist girth=28in, hip girth=38in, full abdomen=10mm'")
      .option('--name <name>', 'name of that fitting (default: wearer)')
      .option(
        '--fittings <file>',
        'many wearers: a table (XLSX, CSV, JSON or YAML) with a row for each; FILE.xlsx#SHEET',
      ),
  )
    .optionsGroup('How it is altered:')
    .option('--choose <list>', "methods: 'ALTERATION OPTION=VALUE, …' (see retrue catalogue NAME)")
    .option('--ease <list>', "ease on the body in place of the design's: 'bust girth=2in, hip girth=least', or least")
    .option(
      '--unfold',
      'open half pieces out, and draw pairs as left and right, where one side is to differ from the other',
    )
    .option('--beyond-limits', 'alter past the customary limits, and tell where');

const aboutTheRun = (command: Command): Command =>
  command
    .optionsGroup('How a run over many goes:')
    .option('--workers <count>', 'how many are altered side by side; the result is the same', 'auto')
    .option('--resume', 'go on with a run that ended early: what is done, as recorded, is kept')
    .option('--retry-failed', 'the same, and do again what was refused or failed')
    .option('--fail-fast', 'stop at the first fitting that is refused or fails')
    .option('--shard <part>', 'only a part of the table: 2/4, slurm, or kubernetes/4; see retrue merge');

const aboutTheBody = (command: Command): Command =>
  command
    .optionsGroup('Whom it was drafted for:')
    .option('--drafted <list>', "body measurements: 'waist girth=27in, hip girth=37in'")
    .option('--chart <file>', 'size chart with body measurements, a row to a size')
    .option(
      '--size <size>',
      "row of the chart (default: the pattern's own size); of several sizes given, the one to alter",
    );

const aboutTheSheets = (command: Command): Command =>
  command
    .optionsGroup('What the pieces are laid on:')
    .option('--roll <width>', 'width of the roll: 914, 36in, 90cm')
    .option('--paper <size>', 'sheets to tape together: A4, Letter, A3, A0, or 210x297')
    .option('--machine <name>', 'a machine that is known, or a JSON file that describes yours')
    .option('--margin <width>', "what the machine cannot reach at the edges (default: the machine's)")
    .option('--overlap <width>', 'what neighbouring sheets both show (default: 15 mm)')
    .option('--user-unit', 'PDF: one page past 5080 mm, which some readers show at the wrong size')
    .option('--no-test-square', 'leave out test squares, rulers and first page')
    .optionsGroup('How they are laid:')
    .option('--lay <on>', 'paper (at any turn), cloth (with the grain), folded (half pieces on the fold)', 'paper')
    .option('--nap', 'cloth: all pieces with their tops the same way')
    .option('--line <line>', 'which line is cut: cutting or seam', 'cutting')
    .option('--copies <count>', "'as cut' (as often as the pieces say) or once", 'as cut')
    .option('--gap <width>', 'between pieces (default: 5 mm)')
    .option('--effort <name>', 'quick, usual, good, best, or how many trials (for each lot of many pieces)', 'usual')
    .option('--seed <number>', 'another seed, another layout; the same seed, the same', '1')
    .option('--cloth <width>', 'width of the cloth for the estimate (default: 150 cm)');

const aboutThePattern = (command: Command): Command =>
  command
    .optionsGroup('The pattern:')
    .option('--pattern-sheet <file>', 'what the drawing does not say (default: PATTERN.sheet.yaml beside it)')
    .option('--units <unit>', 'unit it is drawn in: mm, cm, in or px')
    .option('--view <name>', 'only the pieces of this view');

const shown = (command: Command): Command =>
  command
    .optionsGroup('What is shown:')
    .addOption(
      new Option('--show <unit>', 'unit of lengths (default: the one you work in)').choices(['in', 'cm', 'mm']),
    )
    .option('--json', 'print the result as JSON, lengths in millimetres');
