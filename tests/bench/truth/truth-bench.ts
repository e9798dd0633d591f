import { DESIGNS } from './truth-designs.ts';
import { scoresOf, type TruthRow, truthRow } from './truth-table.ts';

/** Fields of each kind: 200, or as many as asked for. */
const COUNT = Number(process.argv[2] ?? 200);
const SEED = 5000;

const dollars = (value: number) => (Number.isFinite(value) ? value.toFixed(2) : '–');
const percent = (value: number) => (Number.isFinite(value) ? `${Math.round(100 * value)} %` : '–');
const COLUMNS: readonly (readonly [string, (row: TruthRow) => string])[] = [
  ['attainable $/ac', (row) => dollars(row.attainable)],
  ['captured where it is $2 or more', (row) => `${percent(row.captured)} (${row.real})`],
  ['claimed over its flat plan', (row) => dollars(row.claimed)],
  ['true gain over it', (row) => dollars(row.gain)],
  ['90 % interval holds it', (row) => percent(row.held)],
  ['true gain below it', (row) => percent(row.below)],
  ['width of it', (row) => dollars(row.width)],
  ['knowing would bring', (row) => dollars(row.knowing)],
  ['short of attainable', (row) => dollars(row.short)],
  ['"flat" where under $0.50 is attainable', (row) => `${percent(row.saidFlat)} (${row.nothing})`],
  ['"map" where $2 or more is', (row) => percent(row.saidMap)],
  ['true gain where "map" is said', (row) => dollars(row.gainOfMap)],
];

console.log(`${COUNT} fields of each kind, seeds from ${SEED}\n`);
const rows: TruthRow[] = [];
for (const { of } of DESIGNS) rows.push(truthRow(await scoresOf(of, SEED, COUNT)));
console.log(`| | ${DESIGNS.map(({ name }) => name).join(' | ')} |`);
console.log(`| --- |${DESIGNS.map(() => ' ---: |').join('')}`);
for (const [name, show] of COLUMNS) console.log(`| ${name} | ${rows.map(show).join(' | ')} |`);
