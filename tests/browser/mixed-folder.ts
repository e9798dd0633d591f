import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SAMPLES } from './in-process.ts';

/** A folder as it is handed over: a boundary, soils, soil tests, a harvest, a harvest of an unnamed unit, a broken zip, a readme. */
export function mixedFolder() {
  const root = mkdtempSync(join(tmpdir(), 'eachacre-loose-'));
  const folder = join(root, 'Marl Hollow papers');
  mkdirSync(join(folder, 'harvest'), { recursive: true });
  const sample = (file: string) => join(SAMPLES, 'marl-hollow', file);
  copyFileSync(sample('boundary.geojson'), join(folder, 'boundary.geojson'));
  copyFileSync(sample('soils.zip'), join(folder, 'soils.zip'));
  copyFileSync(sample('yield-2023.zip'), join(folder, 'harvest', 'yield-2023.zip'));
  const corners = boxOf(sample('boundary.geojson'));
  // About 11,000 could be kg/ha or lb/ac of corn: 175 or 196 bu/ac.
  const grain = (u: number, v: number) =>
    (11_000 + 1500 * Math.sin(7 * u) + 900 * Math.cos(9 * v)).toFixed(0);
  const tests = (u: number, v: number) => `${(6 + u).toFixed(1)},${(2 + 1.5 * v).toFixed(1)}`;
  writeFileSync(join(folder, 'harvest', 'grain-2021.csv'), pointsOver(corners, 60, 'Yield', grain));
  writeFileSync(join(folder, 'soil tests 2024.csv'), pointsOver(corners, 9, 'pH,OM (%)', tests));
  // The first half of a zip: whoever copied it was interrupted.
  writeFileSync(join(folder, 'broken.zip'), readFileSync(sample('yield-2022.zip')).subarray(0, 4000));
  writeFileSync(
    join(folder, 'README.txt'),
    'Files of Marl Hollow, an invented field.\nAsk at the office for more.\n',
  );
  return { folder, close: () => rmSync(root, { recursive: true, force: true }) };
}

interface Box {
  readonly west: number;
  readonly south: number;
  readonly wide: number;
  readonly high: number;
}

function boxOf(boundary: string): Box {
  const json = JSON.parse(readFileSync(boundary, 'utf8'));
  const numbers: number[] = json.features.flatMap((feature: { geometry: { coordinates: unknown } }) =>
    flat(feature.geometry.coordinates),
  );
  const lon = numbers.filter((_, k) => k % 2 === 0);
  const lat = numbers.filter((_, k) => k % 2 === 1);
  const [west, south] = [Math.min(...lon), Math.min(...lat)];
  return { west, south, wide: Math.max(...lon) - west, high: Math.max(...lat) - south };
}

/** A table of points over a box, `steps` a side; `cells` of the shares of the way across and up. */
function pointsOver(
  { west, south, wide, high }: Box,
  steps: number,
  columns: string,
  cells: (u: number, v: number) => string,
): string {
  const rows = [`longitude,latitude,${columns}`];
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const [u, v] = [(i + 0.5) / steps, (j + 0.5) / steps];
      rows.push(`${(west + u * wide).toFixed(7)},${(south + v * high).toFixed(7)},${cells(u, v)}`);
    }
  }
  return `${rows.join('\n')}\n`;
}

function flat(coordinates: unknown): number[] {
  return Array.isArray(coordinates) ? coordinates.flatMap(flat) : [Number(coordinates)];
}
