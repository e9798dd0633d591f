import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { FORMATS, readFiles } from '../../src/formats/registry.ts';
import { dbfFile, pointContent, shpFile, textFile } from './small-files.ts';

const issueCodes = async (...files: FileBytes[]) =>
  (await readFiles(files)).issues.map((issue) => issue.code);
const found = async (file: FileBytes) => (await readFiles([file])).issues[0]?.found;
const bytes = (text: string, name: string): FileBytes => ({
  name,
  bytes: Uint8Array.from(text, (c) => c.charCodeAt(0)),
});
const zip = (members: Record<string, Uint8Array>, name = 'h.zip'): FileBytes => ({
  name,
  bytes: zipSync(members),
});

const SHP = shpFile(1, [pointContent(-93.5, 42)], 'North.shp');
const DBF = dbfFile([['ID', 'N', 2]], [[' 1']], { name: 'NORTH.DBF' });
const CSV = textFile('lon,lat\n-93.5,42\n', 'points.csv');
const JSON_POINT = textFile('{"type":"Point","coordinates":[-93.5,42]}', 'p.geojson');

describe('FORMATS', () => {
  it('claims each extension once', () => {
    const extensions = FORMATS.flatMap((format) => format.extensions);
    expect(new Set(extensions).size).toBe(extensions.length);
  });
  it('recognises each its own small file and no other', () => {
    const claims = [SHP, JSON_POINT, CSV].map((file) =>
      FORMATS.filter((f) => f.recognises(file)).map((f) => f.id),
    );
    expect(claims).toEqual([['shapefile'], ['geojson'], ['csv']]);
  });
});

describe('readFiles', () => {
  it('brings loose members together by base name, any case, and reads every layer', async () => {
    const { sources, issues } = await readFiles([DBF, CSV, SHP, JSON_POINT]);
    expect(sources.map(({ file, format }) => [file, format])).toEqual([
      ['North.shp', 'shapefile'],
      ['points.csv', 'csv'],
      ['p.geojson', 'geojson'],
    ]);
    expect(sources[0].columns.length).toBe(1);
    expect(issues).toEqual([]);
  });

  it('opens a zip and names members after it; litter and sidecars are passed over', async () => {
    const file = zip({
      'in/North.shp': SHP.bytes,
      'in/north.dbf': DBF.bytes,
      'in/North.sbn': strToU8('x'),
      '__MACOSX/in/._North.shp': strToU8('x'),
      'points.csv': CSV.bytes,
    });
    const { sources, issues } = await readFiles([file]);
    expect(sources.map(({ file }) => file)).toEqual(['h.zip › in/North.shp', 'h.zip › points.csv']);
    expect(issues).toEqual([]);
  });

  it('goes by content where the name says otherwise', async () => {
    const { sources } = await readFiles([
      { ...JSON_POINT, name: 'a.csv' },
      { ...CSV, name: 'b.json' },
    ]);
    expect(sources.map(({ format }) => format)).toEqual(['geojson', 'csv']);
  });

  it('takes a readme beside a layer for a note', async () => {
    const { issues } = await readFiles([
      zip({ 'a.csv': CSV.bytes, 'README.txt': strToU8('only words here') }),
    ]);
    expect(issues).toMatchObject([{ code: 'csv-no-table', severity: 'note', where: 'h.zip › README.txt' }]);
  });

  it('reports a refusal and still reads the others', async () => {
    const { sources, issues } = await readFiles([{ ...SHP, bytes: SHP.bytes.subarray(0, 110) }, CSV]);
    expect(sources.length).toBe(1);
    expect(issues).toMatchObject([{ code: 'shp-truncated', severity: 'error' }]);
  });

  it.each([
    ['%PDF-1.7 …', 'a.csv', 'a PDF document'],
    ['\ufeff <!DOCTYPE html><html>404', 'a.geojson', 'a web page, perhaps an error page from a download'],
    ['SQLite format 3\0....', 'a.gpkg', 'a GeoPackage or other SQLite database (not read yet)'],
    ['\x89PNG\r\n', 'a.png', 'a picture (PNG, JPEG or GIF)'],
    ['<?xml version="1.0"?><gpx/>', 'a.gpx', 'an XML document of a kind that is not read'],
    ['\xd0\xcf\x11\xe0\xa1\xb1', 'a.xls', 'an old spreadsheet or office document'],
  ])('knows %j for what it is', async (text, name, what) => {
    const file = text.startsWith('\ufeff') ? textFile(text, name) : bytes(text, name);
    expect(await issueCodes(file)).toEqual(['file-foreign']);
    expect(await found(file)).toBe(what);
  });

  it('knows a spreadsheet in a zip’s clothing', async () => {
    expect(await found(zip({ '[Content_Types].xml': strToU8('<x/>') }, 'a.xlsx'))).toBe(
      'a spreadsheet or office document',
    );
  });

  it('has a code for each thing that is no layer', async () => {
    expect(await issueCodes({ name: 'a.shp', bytes: new Uint8Array(0) })).toEqual(['file-empty']);
    expect(await issueCodes(DBF)).toEqual(['shp-missing']);
    expect(await issueCodes(textFile('x', 'a.shx'))).toEqual(['shp-missing']);
    expect(await issueCodes(SHP, { ...SHP, name: 'north.shp' })).toEqual(['shp-ambiguous']);
    expect(await issueCodes(textFile('hello there\nall of you\n', 'a.txt'))).toEqual(['csv-no-table']);
    expect(await issueCodes(bytes('\x01\x02\x00\x04', 'a.bin'))).toEqual(['file-foreign']);
    expect(await issueCodes(bytes('PK\x03\x04 cut', 'a.zip'))).toEqual(['zip-damaged']);
    expect(await issueCodes(zip({}))).toEqual(['file-empty']);
  });

  it('fills in every part of every issue', async () => {
    const { issues: all } = await readFiles([
      DBF,
      bytes('%PDF', 'b.pdf'),
      textFile('a,b\n"x', 'c.csv'),
      textFile('{', 'd.json'),
    ]);
    expect(all.length).toBe(4);
    for (const issue of all) {
      for (const part of Object.values(issue)) expect(part).not.toBe('');
    }
  });
});
