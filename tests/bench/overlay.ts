import { regionArea } from '../../src/engine/geometry/area.ts';
import { overlayWith } from '../../src/engine/geometry/overlay.ts';
import { regionFromRings } from '../../src/engine/geometry/region-from-rings.ts';
import type { Region, Ring } from '../../src/engine/geometry/ring.ts';
import { pairsThatMay, readOverlayField } from './overlay-field.ts';

/** Our contestant, a process of its own: `overlay RINGS`. Prints the milliseconds of each step and the area of all intersections as JSON. */
const [file] = process.argv.slice(2);
const steps: Record<string, number> = {};

const field = timed('read', () => readOverlayField(file));
const { parcels, soils } = timed('draw', () => ({
  parcels: field.parcels.map(regionOf),
  soils: field.soils.map(regionOf),
}));
const total = timed('overlay', () => {
  const withSoil = soils.map(overlayWith);
  return pairsThatMay(field).reduce((sum, [i, j]) => sum + regionArea(withSoil[j](parcels[i]).inside), 0);
});
const { user, system } = process.cpuUsage();
console.log(JSON.stringify({ steps, total, cpu_ms: (user + system) / 1000 }));

function regionOf(ring: Ring, k: number): Region {
  const { region, issues } = regionFromRings([ring], `ring ${k + 1}`, { crossing: 'refuse' });
  if (issues.length > 0) throw new Error(`${issues[0].code}: a polygon of the bench is not sound`);
  return region;
}

function timed<T>(step: string, work: () => T): T {
  const from = performance.now();
  const result = work();
  steps[step] = performance.now() - from;
  return result;
}
