import { describe } from 'vitest';
import { writeGeojson } from '../../../src/formats/geojson/write.ts';
import { smallLayer, textFile } from '../small-files.ts';
import { readsOrRefuses } from './expect-honest.ts';

const MIXED = `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"EPSG:4326"}},"features":[
{"type":"Feature","id":1,"geometry":{"type":"Point","coordinates":[-93.5,42]},"properties":{"v":1,"__proto__":2}},
{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[0,0],[1,0],[1,1],[0,0]]]},"properties":{"v":null,"o":{"k":[true]}}},
{"type":"Feature","geometry":{"type":"GeometryCollection","geometries":[]},"properties":null},
{"type":"Feature","geometry":null,"properties":{"v":"x"}}]}`;

describe('GeoJSON', () => {
  readsOrRefuses([writeGeojson(smallLayer()), [textFile(MIXED, 'a.geojson')]]);
});
