import { Argument, type Command, InvalidArgumentError, Option } from 'commander';
import { checkLineup } from './lineup-check.ts';
import { type ReadOptions, readTable } from './lineup-read.ts';
import { judgeSeason, type SeasonOptions } from './lineup-season.ts';
import { saveTable, type TableOptions } from './lineup-table.ts';
import { saveTemplate, TEMPLATES, type TemplateName, type TemplateOptions } from './lineup-template.ts';
import { monthDay } from './month-day.ts';
import { number, texts } from './option-values.ts';

/** `eachacre lineup …`: what is done with a lineup by itself. */
export function addLineupCommands(
  program: Command,
  answer: (code: number | Promise<number>) => Promise<void>,
): void {
  const lineup = program
    .command('lineup')
    .description('lineups of products: check one, to and from a table, templates, what ripens in a season');

  lineup
    .command('check')
    .description('whether a lineup holds together, and what of each product is known')
    .argument('<lineup>', 'lineup document, or table of products')
    .option('--crop <name>', 'crop of the rows of a table that do not tell')
    .option('--json', 'answer in JSON')
    .action((path: string, options) => answer(checkLineup(path, options)));

  lineup
    .command('template')
    .description('write a table to fill in: the examples in it are invented and show what goes where')
    .addArgument(new Argument('<which>', 'trials or products').choices(TEMPLATES))
    .requiredOption('--out <file>', 'table to write')
    .option('--force', 'replace an existing file')
    .option('--json', 'answer in JSON')
    .action((which: TemplateName, options: TemplateOptions) => answer(saveTemplate(which, options)));

  lineup
    .command('table')
    .description('write the products of a lineup as a table, one a row')
    .argument('<lineup>', 'lineup document')
    .requiredOption('--out <file>', 'table to write')
    .option('--force', 'replace an existing file')
    .option('--json', 'answer in JSON')
    .action((path: string, options: TableOptions) => answer(saveTable(path, options)));

  lineup
    .command('read')
    .description('make a lineup of a table of products')
    .argument('<table>', 'table of products, one a row')
    .requiredOption('--out <file>', 'lineup to write')
    .option('--onto <lineup>', 'lineup whose responses, trials and rules are kept, product by product')
    .option('--crop <name>', 'crop of the rows that do not tell')
    .option('--name <text>', 'name of the lineup')
    .option('--force', 'replace an existing file')
    .option('--json', 'answer in JSON')
    .action((path: string, options: ReadOptions) => answer(readTable(path, options)));

  lineup
    .command('season')
    .description('which corn ripens before the freeze, by growing degree days (86/50 °F)')
    .argument('<lineup>', 'lineup document, or table of products')
    .requiredOption('--weather <file>', 'highest and lowest temperatures, a row a day, or a row a month')
    .requiredOption('--planted <day>', 'day of planting, month first, as 5-10', monthDay)
    .requiredOption('--freeze <day>', 'day of the killing freeze to be ready for, as 10-5', monthDay)
    .addOption(
      new Option('--rated-from <stage>', 'where the ratings of the products count from').choices([
        'planting',
        'emergence',
      ]),
    )
    .addOption(
      new Option('--region <name>', 'what late planting takes off was measured in Indiana and Ohio')
        .choices(['indiana-ohio', 'elsewhere'])
        .default('elsewhere'),
    )
    .option('--year <year>', 'year of the record; of several the mean is taken where none is said', number)
    .addOption(
      new Option('--unit <unit>', 'of the temperatures, C/10 being tenths of °C').choices(['F', 'C', 'C/10']),
    )
    .option('--column <role=name>', 'column by its role, as highest=TX (again for more)', texts)
    .option(
      '--relation <RM=GDD>',
      'degree days a relative maturity needs, for products without a rating, as 110=2700',
      relation,
    )
    .option('--gdd-per-point <n>', 'degree days a point of relative maturity makes', number)
    .option('--relation-by <text>', 'who says so')
    .option('--crop <name>', 'crop of the rows of a table that do not tell')
    .option('--json', 'answer in JSON')
    .action((path: string, options: SeasonOptions, command: Command) => {
      if ((options.relation === undefined) !== (options.gddPerPoint === undefined))
        command.error("error: '--relation <RM=GDD>' and '--gdd-per-point <n>' go together");
      return answer(judgeSeason(path, options));
    });
}

function relation(text: string): { relativeMaturity: number; gdd: number } {
  const match = /^\s*(\d+(?:\.\d+)?)\s*=\s*(\d+(?:\.\d+)?)\s*$/.exec(text);
  if (!match || Number(match[2]) <= 0) throw new InvalidArgumentError('RM=GDD is expected, as 110=2700.');
  return { relativeMaturity: Number(match[1]), gdd: Number(match[2]) };
}
