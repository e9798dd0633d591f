import type { Issue } from '../../engine/issue.ts';

export function preambleIssue(where: string, line: number): Issue {
  return {
    code: 'csv-preamble',
    severity: 'warning',
    where,
    found: `${line - 1} ${line === 2 ? 'line' : 'lines'} before the table`,
    expected: 'the header in line 1',
    effect: `Line ${line} is taken as the first of the table; the lines above it are not read`,
    remedy: 'State the line of the header, or remove the lines above it, if this is wrong',
  };
}

export function noHeaderIssue(where: string, width: number): Issue {
  return {
    code: 'csv-no-header',
    severity: 'warning',
    where,
    found: 'numbers in the first row',
    expected: 'a row of column names',
    effect: `The columns are called column1 to column${width}`,
    remedy: 'Add a header row or give the column names',
  };
}

export function surveyNamesIssue(where: string, table: string, width: number): Issue {
  return {
    code: 'csv-survey-names',
    severity: 'note',
    where,
    found: `no column names, and the ${width} columns of the public soil survey's table ${table}`,
    expected: 'a row of column names',
    effect: 'The columns go by their published names',
    remedy: 'Rename the file if it is another table',
  };
}

export function unitsRowIssue(where: string, names: readonly string[], units: readonly string[]): Issue {
  const pairs = names
    .map((name, i) => `${name}: ${units[i].trim()}`)
    .filter((_, i) => units[i].trim() !== '');
  return {
    code: 'csv-units-row',
    severity: 'note',
    where,
    found: `a row of units under the header (${pairs.join(', ').slice(0, 400)})`,
    expected: 'data under the header',
    effect: 'It is taken as units, not as a record',
    remedy: 'Remove the row if this is wrong',
  };
}

/** `written`: a number with a decimal comma, and nothing else it could be. */
export function decimalCommaIssue(where: string, delimiter: string, written: string): Issue {
  return {
    code: 'csv-decimal-comma',
    severity: 'note',
    where,
    found: `numbers such as ${written} between ${delimiter}s`,
    expected: 'a decimal point',
    effect: 'The comma is taken as the decimal mark',
    remedy: 'Nothing to do',
  };
}
