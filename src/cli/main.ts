#!/usr/bin/env node
import { Command, CommanderError, Option } from 'commander';
import { Refusal } from '../engine/issue.ts';
import { type CompareOptions, compare } from './compare.ts';
import { type FitOptions, fitFiles } from './fit.ts';
import { inspect } from './inspect.ts';
import { addLineupCommands } from './lineup-commands.ts';
import { number, port, records, systems, texts } from './option-values.ts';
import { type PlanOptions, plan } from './plan.ts';
import { servesReading } from './reading-worker.ts';
import { run } from './run.ts';
import { serve } from './serve.ts';
import { mindPipes, tellIssues, tellJson, WRONG_INPUT, WRONG_USAGE } from './tell.ts';
import { verify } from './verify.ts';

/** This year until midsummer, then the next: nobody plans last spring. */
function nextSeason(): number {
  const today = new Date();
  return today.getFullYear() + (today.getMonth() >= 6 ? 1 : 0);
}

let exitCode = 0;
const answer = async (code: number | Promise<number>) => {
  exitCode = await code;
};

const program = new Command('eachacre')
  .description(
    'Decides, for every acre of a field, which seed to plant and how thick, and writes files a planter can run.',
  )
  .version('0.1.0')
  .exitOverride()
  .showHelpAfterError();

program
  .command('inspect')
  .description('what is in files: records, columns, units guessed, coordinate system, extent, problems')
  .argument('<file...>')
  .option('--crop <name>', 'crop the units are guessed for', 'corn')
  .option('--json', 'answer in JSON')
  .action((files: string[], options) => answer(inspect(files, options)));

program
  .command('plan')
  .description('make a plan from files; what is guessed is written in it')
  .argument('[file...]', 'files and folders as they came: what each holds is recognised')
  .option('--boundary <file>', 'field boundary')
  .option('--record <n>', 'record of the boundary file that is the field (again for more parts)', records)
  .option('--split-crossing', 'split a boundary that crosses itself instead of refusing it')
  .option('--soils <file>', 'soil polygons')
  .option('--soil-table <file...>', 'tables to join to the soils by mukey or musym')
  .option('--soil-value <column>', 'column that says what the ground can yield')
  .option('--yield <file...>', 'yield maps, one a year')
  .option('--yield-column <column>', 'column of yield; FILE=COLUMN for one file (again for more)', texts)
  .option('--yield-unit <unit>', 'unit of yield, as t/ha; FILE=UNIT for one file (again for more)', texts)
  .option('--swath-unit <unit>', 'unit of swath width, as ft; FILE=UNIT for one file (again for more)', texts)
  .option(
    '--bushel-weight <weight>',
    'what a bushel weighs that a yield map counts by, as 56lb or 25.4kg; FILE=WEIGHT for one file',
    texts,
  )
  .option('--yield-crop <FILE=crop>', 'crop a yield map is of (again for more)', texts)
  .option('--layer <file...>', 'other layers of the ground to look at: rasters, samples, what was planted')
  .option('--lineup <file>', 'lineup document')
  .option('--crop <name>', 'crop to plant (corn when not said)')
  .option('--season <year>', 'year to plant in', number, nextSeason())
  .option('--name <text>', 'name of the plan')
  .option('--grain-price <dollars>', 'grain price, $/bu', number)
  .option('--drying <dollars>', 'drying and hauling, $/bu', number)
  .option('--emergence <share>', 'plants standing per seed, as 0.95', number)
  .option('--hoppers <n>', 'most products the planter carries', number)
  .option('--expected-yield <bu>', 'what the ground yields in an average year, whole field, bu/ac', number)
  .option('--zones <n>', 'management zones', number)
  .addOption(
    new Option('--method <name>', 'how zones are drawn').choices(['natural-breaks', 'fuzzy-c-means']),
  )
  .option('--heading <degrees>', 'planting heading, clockwise from north', number)
  .option('--cell <metres>', 'side of a grid cell', number)
  .addOption(new Option('--shape <name>', 'polygons of the prescription').choices(['cells', 'zones']))
  .option('--crs <FILE=EPSG:n>', 'coordinate system of a file that does not say (again for more)', systems)
  .option('--accept-nad27 <file...>', 'files on NAD27 to be placed by a mean shift, to some 10 m')
  .option('--swap-lon-lat <file...>', 'files whose longitudes and latitudes are to be exchanged')
  .option('--encoding <FILE=name>', 'encoding of a text table, as windows-1252 (again for more)', texts)
  .option('--header-line <FILE=n>', 'line of the header of a text table (again for more)', texts)
  .option(
    '--commas <FILE=COLUMN:thousands>',
    'what a comma in its numbers means: thousands or decimals',
    texts,
  )
  .option('--rows-in-order <file...>', 'tables whose rows are matched to the shapes in order')
  .requiredOption('--out <file>', 'plan to write')
  .option('--force', 'replace an existing file')
  .option('--json', 'answer in JSON')
  .action((files: string[], options: PlanOptions, command: Command) => {
    if (files.length === 0 && options.boundary === undefined)
      command.error("error: files to make the plan of, or '--boundary <file>', are missing");
    return answer(plan(files, options));
  });

program
  .command('run')
  .description('run a plan, prove the hand-off and write it')
  .argument('<plan>')
  .requiredOption('--out <folder>', 'folder for the hand-off')
  .option('--force', 'replace a hand-off that is there')
  .option('--json', 'answer in JSON')
  .action((path: string, options) => answer(run(path, options)));

program
  .command('verify')
  .description('prove a hand-off that is already there')
  .argument('<folder>')
  .option('--json', 'answer in JSON')
  .action((folder: string, options) => answer(verify(folder, options)));

/** What can be said of the columns of a trial table. */
function aboutTrials(command: Command): Command {
  return command
    .option(
      '--column <role=name>',
      'column by its role, as yield=GY; yield= for none (again for more)',
      texts,
    )
    .option(
      '--unit <role=unit>',
      'unit of yield, stand, rate or environment, as yield=t/ha (again for more)',
      texts,
    )
    .option('--crop <name>', 'crop of all rows that do not tell, and of the products named')
    .option('--product <name>', 'product of all rows, where no column tells')
    .option('--emergence <share>', 'plants standing per seed, where only seeding rates are told', number)
    .addOption(
      new Option('--across <what>', 'what yields in columns side by side are told apart by').choices([
        ...['stand', 'rate', 'year', 'site', 'product', 'rep', 'none'],
      ]),
    )
    .option('--codes <COLUMN=what>', "repeated 0 or 999: 'not known' or 'figures' (again for more)", texts)
    .option('--blanks <COLUMN=what>', "blank cells: 'as above' or 'not known' (again for more)", texts)
    .option('--wet', 'yields count the water they were harvested with')
    .option('--dry', 'yields are at the moisture they are sold at');
}

aboutTrials(
  program
    .command('fit')
    .description('fit a lineup from trials: how each product answers to population, and how sure that is')
    .argument('<trials...>', 'trial tables, a row a plot; several are joined'),
)
  .requiredOption('--out <file>', 'lineup to write')
  .option('--products <file>', 'lineup or table of products: prices, ratings and rules are kept')
  .option('--name <text>', 'name of the lineup')
  .option('--reference <bu>', 'yield environment the figures are given at, bu/ac', number)
  .option(
    '--bootstrap',
    'also the interval of each best stand by drawing its sites again (slow for many products)',
  )
  .option('--force', 'replace an existing file')
  .option('--json', 'answer in JSON')
  .action((paths: string[], options: FitOptions) => answer(fitFiles(paths, options)));

aboutTrials(
  program
    .command('compare')
    .description('products head to head over the sites both were at, and how each answers to ground')
    .argument('<file...>', 'trial tables, or a lineup fitted from them; several are joined'),
)
  .option('--one <name>', 'this product alone')
  .option('--against <name>', 'against this one instead of all the rest')
  .option('--json', 'answer in JSON')
  .action((paths: string[], options: CompareOptions, command: Command) => {
    if (options.against !== undefined && options.one === undefined)
      command.error("error: '--against <name>' wants '--one <name>' too");
    return answer(compare(paths, options));
  });

addLineupCommands(program, answer);

program
  .command('serve')
  .description('open the app on this machine')
  .option('--port <n>', 'port on 127.0.0.1', port, 4173)
  .action((options) => answer(serve(options)));

// The thread that reads files runs this same program.
if (!servesReading()) await commandLine();

async function commandLine(): Promise<void> {
  mindPipes();
  try {
    await program.parseAsync();
  } catch (thrown) {
    if (thrown instanceof CommanderError) exitCode = thrown.exitCode === 0 ? 0 : WRONG_USAGE;
    else if (thrown instanceof Refusal) {
      if (process.argv.includes('--json')) tellJson({ issues: [thrown.issue] });
      else tellIssues([thrown.issue]);
      exitCode = WRONG_INPUT;
    } else if (thrown instanceof Error && thrown.name === 'AbortError') {
      process.stderr.write('Cancelled; nothing was written.\n');
      exitCode = 130;
    } else throw thrown;
  }
  process.exitCode = exitCode;
}
