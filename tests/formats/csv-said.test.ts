import { describe, expect, it } from 'vitest';
import { crsToLonLat, statedCrs, WGS84 } from '../../src/engine/geodesy/crs.ts';
import { readTogether } from '../../src/formats/registry.ts';
import { textFile } from './small-files.ts';

const read = async (text: string, options: Parameters<typeof readTogether>[1]) => {
  const { sources, issues } = await readTogether([textFile(text)], options);
  expect(issues).toEqual([]);
  return sources[0];
};
const crs = (code: number) => {
  const stated = statedCrs(code, 'test', { acceptNad27: true });
  if (!stated.crs) throw new Error(stated.issues[0].found);
  return stated.crs;
};

describe('what is said of the places of a text table', () => {
  it.each(['lon,lat', 'x,y'])('degrees under %s are on the datum that is said', async (names) => {
    const text = `${names},yield\n-93.5,42.1,150\n-93.4,42.2,160\n`;
    expect((await read(text, {})).crs).toEqual(WGS84);
    const own = await read(text, { crs: crs(4267) });
    expect(own.crs?.code).toBe('EPSG:4267');
    const { lon } = crsToLonLat(crs(4267), own.x, own.y);
    // Some 15 to 20 m west in Iowa, 83 km a degree (from memory).
    expect((own.x[0] - lon[0]) * 83_000).toBeGreaterThan(10);
    expect((own.x[0] - lon[0]) * 83_000).toBeLessThan(25);
  });

  it('a projected system makes no degrees of longitude and latitude its own', async () => {
    expect((await read('lon,lat,yield\n-93.5,42.1,150\n', { crs: crs(32615) })).crs).toEqual(WGS84);
  });

  it.each(['lon,lat', 'x,y'])('degrees under %s are exchanged where that is said', async (names) => {
    const own = await read(`${names},yield\n42.1,-93.5,150\n42.2,-93.4,160\n`, { swapLonLat: true });
    expect([[...own.x], [...own.y]]).toEqual([
      [-93.5, -93.4],
      [42.1, 42.2],
    ]);
  });
});
