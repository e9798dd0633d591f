import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { zipSync } from 'fflate';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { textFile } from '../formats/small-files.ts';
import {
  FIELD,
  gridFile,
  int32,
  kmlFile,
  kmlPoint,
  kmlSeed,
  kmzSeed,
  PRODUCTS,
  placemark,
  taskFile,
  taskZip,
  typeOneSeed,
  typeOneTask,
  typeTwoTask,
} from '../formats/xml-seeds.ts';
import { buildCli, eachacre, freshFolder, tree } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

interface Answered {
  readonly layers: { file: string; shape: string; records: { read: number } }[];
  readonly issues: { code: string; severity: string }[];
}

/** `inspect` of files laid in a folder, as text and as JSON: the same exit code, every code said, no stack trace, nothing written. */
function inspected(files: readonly FileBytes[], exit: number): Answered {
  for (const { name, bytes } of files) writeFileSync(join(cwd, name), bytes);
  const before = tree(cwd);
  const paths = files.map(({ name }) => name);
  const text = eachacre(['inspect', ...paths], { cwd });
  const json = eachacre(['inspect', ...paths, '--json'], { cwd });
  expect([text.code, json.code]).toEqual([exit, exit]);
  expect(text.err).not.toMatch(/^\s+at .*:\d+/m);
  const answer: Answered = JSON.parse(json.out);
  for (const { code } of answer.issues) expect(text.out + text.err).toContain(`[${code}]`);
  expect(tree(cwd)).toEqual(before);
  return answer;
}

const saidBy = ({ issues }: Answered) => issues.map(({ code, severity }) => `${severity} ${code}`);
const POINT = placemark(kmlPoint('-93.5,42'));
const ENTITY = textFile('<!DOCTYPE kml [<!ENTITY a "x">]><kml><name>&a;</name></kml>', 'a.kml');
const task = (grid: string, bytes?: Uint8Array) => [
  taskFile(`${PRODUCTS}${FIELD}${grid}`),
  ...(bytes ? [gridFile(bytes)] : []),
];
const rate = (ddi: string, value: string) =>
  typeOneTask(undefined, `<TZN A="0"><PDV A="${ddi}" B="${value}"/></TZN>`);
const SIX = new Uint8Array(6);

describe('inspect refuses', () => {
  it.each<[string, FileBytes[], string]>([
    ['K01 a document type', [ENTITY], 'xml-doctype'],
    ['K01 an unknown entity', [kmlFile(placemark('<name>&x;</name>'))], 'xml-syntax'],
    ['K02 unsound coordinates only', [kmlFile(placemark(kmlPoint('nan ,42')))], 'kml-coordinates'],
    ['K02 empty coordinates only', [kmlFile(placemark(kmlPoint('')))], 'kml-coordinates'],
    ['KML cut short', [{ name: 'a.kml', bytes: kmlSeed().bytes.subarray(0, 300) }], 'xml-syntax'],
    ['another root', [textFile('<gpx/>', 'a.kml')], 'kml-root'],
    ['nesting without end', [textFile(`<kml>${'<Folder>'.repeat(100_000)}`, 'a.kml')], 'xml-depth'],
    ['Z01 a KMZ cut short', [{ name: 'a.kmz', bytes: kmzSeed().bytes.subarray(0, -30) }], 'zip-damaged'],
    ['I01 a grid without its file', task(typeOneTask()), 'iso-grid-missing'],
    ['I02 a grid of the wrong size', task(typeOneTask(), new Uint8Array(5)), 'iso-grid-size'],
    ['I02 the same in an archive', [taskZip(task(typeTwoTask(), SIX))], 'iso-grid-size'],
    ['I03 a zone the task does not have', task(typeOneTask(), SIX.with(4, 9)), 'iso-grid-code'],
    ['I05 a tag left open', [taskFile('<TSK A="TSK1">')], 'xml-syntax'],
    ['I06 a rate beyond 32 bits', task(rate('000B', '2147483648'), SIX), 'iso-value-range'],
    ['I06 a rate that overflowed', task(typeTwoTask(), int32(new Array(12).fill(-5))), 'iso-value-range'],
    ['I06 an entity that is none', task(rate('0x0B', '1'), SIX), 'iso-ddi'],
  ])('%s', (_, files, code) => {
    expect(saidBy(inspected(files, 1))).toContain(`error ${code}`);
  });
});

describe('inspect reads, and tells', () => {
  it.each<[string, FileBytes[], string]>([
    [
      'K02 one unsound placemark',
      [kmlFile(POINT + placemark(kmlPoint('nan ,42')))],
      'warning kml-coordinates',
    ],
    ['K03 only addresses', [kmlFile(placemark('<address>x</address>'))], 'warning kml-no-geometry'],
    ['K03 only a link', [kmlFile('<NetworkLink/>')], 'warning kml-no-geometry'],
    [
      'K05 a prefix not declared',
      [textFile(`<kml xsi:a="b">${POINT}</kml>`, 'a.kml')],
      'note xml-prefix-undeclared',
    ],
    ['K06 an altitude', [kmlFile(placemark(kmlPoint('1,2,3')))], 'note altitude-dropped'],
    [
      'K07 several documents',
      [{ name: 'a.kmz', bytes: zipSync({ 'doc.kml': kmlFile(POINT).bytes, 'b.kml': kmlFile(POINT).bytes }) }],
      'warning kmz-several-documents',
    ],
    [
      'I04 a name in small letters',
      typeOneSeed().map((file) => ({ ...file, name: file.name.toLowerCase() })),
      'note iso-file-name-case',
    ],
    [
      'I06 a unit that disagrees',
      task(
        `<VPN A="VPN1" B="0" C="0.1" D="1" E="kg/ha"/>${typeOneTask(undefined, '<TZN A="0"><PDV A="0006" B="1" E="VPN1"/></TZN>')}`,
        SIX,
      ),
      'warning iso-unit-disagrees',
    ],
  ])('%s', (_, files, said) => {
    expect(saidBy(inspected(files, 0))).toContain(said);
  });

  it('K04 markup in a name as text', () => {
    const answer = inspected(
      [kmlFile(placemark('<name>&lt;img src=x onerror=alert(1)></name>', kmlPoint('1,2')))],
      0,
    );
    expect(JSON.stringify(answer.layers)).toContain('<img src=x onerror=alert(1)>');
  });
  it('the layers of a task file and of a KML', () => {
    const { layers, issues } = inspected([...typeOneSeed(), kmlSeed()], 0);
    expect(layers.map(({ file, shape, records }) => [file, shape, records.read])).toEqual([
      ['TASKDATA.XML › fields', 'polygons', 1],
      ['TASKDATA.XML › grid TSK1', 'raster', 6],
      ['a.kml › polygons', 'polygons', 2],
      ['a.kml › points', 'points', 2],
    ]);
    expect(issues.filter(({ severity }) => severity === 'error')).toEqual([]);
  });
  it('a broken grid, and still the fields', () => {
    const { layers } = inspected(task(typeOneTask()), 1);
    expect(layers.map(({ file }) => file)).toEqual(['TASKDATA.XML › fields']);
  });
});
