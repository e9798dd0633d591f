import { strToU8, zipSync } from 'fflate';
import { describe } from 'vitest';
import { writeShapefile } from '../../../src/formats/shapefile/write.ts';
import { writeZip } from '../../../src/formats/zip/write.ts';
import { smallLayer } from '../small-files.ts';
import { readsOrRefuses } from './expect-honest.ts';

const TABLE = strToU8('lon,lat,v\n-93.5,42,1\n-93.6,42,2\n');

describe('an archive', () => {
  readsOrRefuses([
    [writeZip('h.zip', writeShapefile(smallLayer()))],
    [{ name: 't.zip', bytes: zipSync({ 'a.csv': TABLE, 'd/b.csv': [TABLE, { level: 0 }] }) }],
    [{ name: 'n.zip', bytes: zipSync({ 'in.zip': zipSync({ '../a.csv': TABLE }) }) }],
  ]);
});
