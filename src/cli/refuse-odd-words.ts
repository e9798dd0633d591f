import { basename, dirname, resolve } from 'node:path';
import { ROLE_UNITS } from '../engine/harvest/recognise/role-units.ts';
import { YIELD_UNITS } from '../engine/harvest/yield-unit.ts';
import { type Issue, Refusal } from '../engine/issue.ts';
import { bushelWeight_lb } from './option-values.ts';
import type { PlanOptions } from './plan.ts';
import { fileAndWord, namedBy, namesGiven } from './plan-files.ts';

const SWATH_UNITS = (ROLE_UNITS.swath ?? []).map(({ unit }) => unit);

type Words = readonly string[] | undefined;

/** What no file can mend: words about a file that is not among those given, a unit there is not, and a plan written over what it rests on. */
export function refuseOddWords(names: readonly string[], options: PlanOptions): void {
  const refuse = (issue: Pick<Issue, 'code' | 'where' | 'found' | 'expected' | 'remedy'>): never => {
    throw new Refusal({ ...issue, effect: 'The plan is not written' });
  };
  const notGiven = (option: string, said: string, remedy: string) =>
    refuse({
      code: option === 'crs' ? 'crs-file-not-given' : 'file-not-given',
      where: `--${option} ${said}`,
      found: 'no such file among those given',
      expected: `one of ${names.map((name) => basename(name)).join(', ')}`,
      remedy,
    });
  const AS_GIVEN = 'Write the file as you gave it, or its name alone';
  const ofFiles: Record<string, Words> = {
    crs: options.crs,
    encoding: options.encoding,
    'header-line': options.headerLine,
    commas: options.commas,
  };
  for (const [option, texts] of Object.entries(ofFiles))
    for (const text of texts ?? [])
      if (!fileAndWord(names, text)) notGiven(option, text, `Write FILE=…: ${AS_GIVEN}`);
  const files: Record<string, Words> = {
    'accept-nad27': options.acceptNad27,
    'swap-lon-lat': options.swapLonLat,
    'rows-in-order': options.rowsInOrder,
  };
  for (const [option, paths] of Object.entries(files))
    for (const path of paths ?? []) if (namedBy(names, path).length === 0) notGiven(option, path, AS_GIVEN);
  for (const [option, texts] of Object.entries(yieldWords(options)))
    for (const text of texts ?? [])
      if (text.includes('=') && !namesGiven(names, text))
        notGiven(option, text, `${AS_GIVEN}; of a word with a = in it too, the file stands before it`);
  for (const path of options.swapLonLat ?? []) {
    if (!/\.tiff?$/i.test(path)) continue;
    refuse({
      code: 'swap-of-raster',
      where: `--swap-lon-lat ${path}`,
      found: 'a raster',
      expected: 'points or polygons, each with a longitude and a latitude',
      remedy: 'Export the raster again with its axes in their places',
    });
  }
  for (const said of options.yieldUnit ?? []) {
    const unit = said.slice(said.lastIndexOf('=') + 1);
    if (YIELD_UNITS.some((own) => own === unit)) continue;
    refuse({
      code: 'yield-unit-not-known',
      where: `--yield-unit ${said}`,
      found: unit,
      expected: YIELD_UNITS.join(', '),
      remedy: 'Write one of these',
    });
  }
  for (const said of options.swathUnit ?? []) {
    const unit = said.slice(said.lastIndexOf('=') + 1);
    if (SWATH_UNITS.includes(unit)) continue;
    refuse({
      code: 'swath-unit-not-known',
      where: `--swath-unit ${said}`,
      found: unit,
      expected: SWATH_UNITS.join(', '),
      remedy: 'Write one of these',
    });
  }
  for (const said of options.bushelWeight ?? []) {
    const weight = said.slice(said.lastIndexOf('=') + 1);
    if (bushelWeight_lb(weight) !== null) continue;
    refuse({
      code: 'bushel-weight-not-known',
      where: `--bushel-weight ${said}`,
      found: weight,
      expected: 'a weight with its unit, of 10 to 100 lb: 56lb, 25.4kg',
      remedy: 'Write it so',
    });
  }
  if (names.some((name) => resolve(dirname(options.out), name) === resolve(options.out)))
    refuse({
      code: 'plan-over-source',
      where: options.out,
      found: 'a file the plan rests on',
      expected: 'a name of its own',
      remedy: 'Choose another name for the plan',
    });
}

/** Words about a file that is given and is no yield map of the plan: they come to nothing, and that is told. */
export function idleYieldWords(
  names: readonly string[],
  yields: readonly string[],
  options: PlanOptions,
): Issue[] {
  return Object.entries(yieldWords(options)).flatMap(([option, texts]) =>
    (texts ?? [])
      .filter((text) => namesGiven(names, text) && !fileAndWord(yields, text))
      .map(
        (text): Issue => ({
          code: 'file-not-yield',
          severity: 'warning',
          where: `--${option} ${text}`,
          found: 'a file that is no yield map of the plan',
          expected: yields.length > 0 ? `one of ${yields.join(', ')}` : 'a yield map',
          effect: 'What is said of it is not used',
          remedy: 'If it is a yield map of this field, name it (command line: --yield FILE)',
        }),
      ),
  );
}

function yieldWords(options: PlanOptions): Record<string, Words> {
  return {
    'yield-column': options.yieldColumn,
    'yield-unit': options.yieldUnit,
    'yield-crop': options.yieldCrop,
    'swath-unit': options.swathUnit,
    'bushel-weight': options.bushelWeight,
  };
}
