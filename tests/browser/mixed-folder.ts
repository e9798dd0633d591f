import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SAMPLES } from './in-process.ts';

/** A folder as it is handed over, in this order of trust: a boundary, soils, a harvest, a harvest of an unnamed unit, a broken zip, a readme. */
export function mixedFolder() {
  const root = mkdtempSync(join(tmpdir(), 'eachacre-loose-'));
  const folder = join(root, 'Marl Hollow papers');
  mkdirSync(join(folder, 'harvest'), { recursive: true });
  const sample = (file: string) => join(SAMPLES, 'marl-hollow', file);
  copyFileSync(sample('boundary.geojson'), join(folder, 'boundary.geojson'));
  copyFileSync(sample('soils.zip'), join(folder, 'soils.zip'));
  copyFileSync(sample('yield-2023.zip'), join(folder, 'harvest', 'yield-2023.zip'));
  writeFileSync(join(folder, 'harvest', 'grain-2021.csv'), grainWithoutUnit(sample('boundary.geojson')));
  // The first half of a zip: whoever copied it was interrupted.
  writeFileSync(join(folder, 'broken.zip'), readFileSync(sample('yield-2022.zip')).subarray(0, 4000));
  writeFileSync(
    join(folder, 'README.txt'),
    'Files of Marl Hollow, an invented field.\nAsk at the office for more.\n',
  );
  return { folder, close: () => rmSync(root, { recursive: true, force: true }) };
}

/** Points over the box of the field; about 11,000 could be kg/ha or lb/ac of corn: 175 or 196 bu/ac. */
function grainWithoutUnit(boundary: string): string {
  const json = JSON.parse(readFileSync(boundary, 'utf8'));
  const numbers: number[] = json.features.flatMap((feature: { geometry: { coordinates: unknown } }) =>
    flat(feature.geometry.coordinates),
  );
  const lon = numbers.filter((_, k) => k % 2 === 0);
  const lat = numbers.filter((_, k) => k % 2 === 1);
  const rows = ['longitude,latitude,Yield'];
  const steps = 60;
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const x = Math.min(...lon) + ((i + 0.5) / steps) * (Math.max(...lon) - Math.min(...lon));
      const y = Math.min(...lat) + ((j + 0.5) / steps) * (Math.max(...lat) - Math.min(...lat));
      const value = 11_000 + 1500 * Math.sin(i / 9) + 900 * Math.cos(j / 7);
      rows.push(`${x.toFixed(7)},${y.toFixed(7)},${value.toFixed(0)}`);
    }
  }
  return `${rows.join('\n')}\n`;
}

function flat(coordinates: unknown): number[] {
  return Array.isArray(coordinates) ? coordinates.flatMap(flat) : [Number(coordinates)];
}
