import { strToU8, zipSync } from 'fflate';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { pointContent, shpFile, textFile } from '../../formats/small-files.ts';

/** Files that lie about in such folders and hold nothing for a plan, each broken or foreign in its own way. */
export const LITTER: Readonly<Record<string, () => FileBytes[]>> = {
  photo: () => [
    {
      name: 'IMG_0412.JPG',
      bytes: Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 74, 70, 73, 70, 0, 1, 2, 3]),
    },
  ],
  readme: () => [
    textFile(
      'Hi,\nhere are the maps of the home place.\nCall me when you need more, thanks!\n',
      'read me first.txt',
    ),
  ],
  pdf: () => [textFile('%PDF-1.4\n1 0 obj << /Type /Catalog >> endobj\n%%EOF\n', 'Soil report.pdf')],
  page: () => [
    textFile(
      '<!DOCTYPE html><html><head><title>404 Not Found</title></head><body>Not Found</body></html>',
      'yield 2019.csv',
    ),
  ],
  sheet: () => [
    {
      name: 'costs.xlsx',
      bytes: zipSync({
        '[Content_Types].xml': strToU8('<Types/>'),
        'xl/workbook.xml': strToU8('<workbook/>'),
      }),
    },
  ],
  empty: () => [{ name: 'boundary new.geojson', bytes: new Uint8Array(0) }],
  'cut zip': () => [
    {
      name: 'yield 2018.zip',
      bytes: zipSync({ 'a.csv': strToU8('lon,lat,yield\n-93.5,42,180\n'.repeat(50)) }).subarray(0, 90),
    },
  ],
  'cut shp': () => [
    {
      name: 'old yield.shp',
      bytes: shpFile(
        1,
        Array.from({ length: 9 }, (_, k) => pointContent(-93 - k / 9, 42)),
      ).bytes.subarray(0, 110),
    },
  ],
  'dbf alone': () => [textFile('\x03\x7e\x01\x01', 'lost.dbf')],
  'cut json': () => [
    textFile(
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{},"geom',
      'fields.geojson',
    ),
  ],
  'cut kml': () => [
    textFile(
      '<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Placemark><na',
      'farm.kml',
    ),
  ],
  mac: () => [
    textFile('\x00\x05\x16\x07', '._yield.csv'),
    textFile('Bud1', '.DS_Store'),
    textFile('\x00\x05\x16\x07', '__MACOSX/._boundary.shp'),
  ],
  windows: () => [textFile('x', 'Thumbs.db'), textFile('[.ShellClassInfo]', 'desktop.ini')],
  contacts: () => [textFile('Name;Phone\nElevator;555 0100\nSeed dealer;555 0101\n', 'phones.csv')],
  invoice: () => [textFile('Item,Bags,Price\nSeed corn,42,265.00\nTreatment,42,18.50\n', 'invoice.csv')],
  word: () => [
    { name: 'letter.doc', bytes: Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, 0, 0]) },
  ],
  layer: () => [{ name: 'fields.gpkg', bytes: strToU8('SQLite format 3\0rest of it') }],
};
export type Litter = keyof typeof LITTER;
