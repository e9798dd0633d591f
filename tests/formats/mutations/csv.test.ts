import { describe } from 'vitest';
import { textFile } from '../small-files.ts';
import { readsOrRefuses } from './expect-honest.ts';

const rows = (row: (i: number) => string) => Array.from({ length: 12 }, (_, i) => row(i)).join('\n');
const TEXTS = [
  `lon,lat,name,v\n${rows((i) => `-93.${i + 10},42.${i},"a ""${i}"", b",${i}.5`)}\n`,
  `Farm, invented\n\nlon;lat;v\ndeg;deg;t/ha\n${rows((i) => `-93,${i + 10};42,${i};1,${100 + i}`)}\n`,
  `Latitude\tLongitude\trate\n${rows((i) => `N42 ${i}.5\tW93 30 ${i}\t32,${100 + i}`)}\r\n`,
  `easting,northing,zone,maïs\n${rows((i) => `45500${i},465000${i},15${i % 2 ? 'N' : 'T'},"1,2${i + 10}"`)}\n`,
];

describe('a text table', () => {
  readsOrRefuses(TEXTS.map((text) => [textFile(text)]));
});
