import { describe } from 'vitest';
import { writeShapefile } from '../../../src/formats/shapefile/write.ts';
import {
  dbfFile,
  multipointContent,
  NULL_CONTENT,
  pointContent,
  shpFile,
  shxFile,
  smallLayer,
  textFile,
  WGS84_PRJ,
} from '../small-files.ts';
import { readsOrRefuses } from './expect-honest.ts';

const SHP = shpFile(1, [pointContent(-93.5, 42), NULL_CONTENT, pointContent(-93.4, 42.1)]);
const DBF = dbfFile(
  [
    ['ID', 'N', 6],
    ['NAME', 'C', 6],
    ['DAY', 'D', 8],
    ['DONE', 'L', 1],
  ],
  [1, 2, 3].map((i) => [`  ${i}.25`, 'ma\xefs  ', '20150812', 'T']),
  { deleted: [1] },
);
const SEVERAL = shpFile(8, [
  multipointContent([[-93.5, 42]]),
  multipointContent([
    [0, 0],
    [1, 1],
  ]),
]);

describe('a shapefile', () => {
  readsOrRefuses([
    writeShapefile(smallLayer()),
    [SHP, DBF, shxFile(SHP), textFile('ISO 8859-2', 'a.cpg')],
    [SEVERAL, WGS84_PRJ],
  ]);
});
