import { Argument, type Command } from 'commander';
import { checkLineup } from './lineup-check.ts';
import { type ReadOptions, readTable } from './lineup-read.ts';
import { saveTable, type TableOptions } from './lineup-table.ts';
import { saveTemplate, TEMPLATES, type TemplateName, type TemplateOptions } from './lineup-template.ts';

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
}
