import type { Feature, MultiPolygon, Polygon, Position } from 'geojson';
import type { ProofCheck } from '../prove.ts';

type Shape = Feature<Polygon | MultiPolygon>;

/** The GeoJSON has nine decimals, so its degrees are within half of 1e-9 of the doubles in the shapefile. */
const CLOSE_DEG = 2e-9;
const DECIMALS = 9;

/** Two readings of the same polygons, matched by their ID: every attribute and every ring. */
export function filesAgree(file: string, one: readonly Shape[], other: readonly Shape[]): ProofCheck[] {
  const byId = new Map(other.map((feature) => [feature.properties?.['ID'], feature]));
  const ids = new Set(one.map((feature) => feature.properties?.['ID']));
  const paired = ids.size === one.length && byId.size === other.length && one.length === other.length;
  const count = (same: (a: Shape, b: Shape) => boolean) =>
    paired
      ? one.filter((feature) => {
          const twin = byId.get(feature.properties?.['ID']);
          return twin !== undefined && same(feature, twin);
        }).length
      : 0;
  const check = (what: string, alike: number): ProofCheck => ({
    file,
    what,
    expected: `${one.length} of ${one.length}`,
    found: `${alike} of ${one.length}`,
    ok: one.length > 0 && alike === one.length,
  });
  return [
    check('polygons with the same attributes in both', count(sameAttributes)),
    check('polygons with the same rings in both', count(sameRings)),
  ];
}

function sameAttributes(a: Shape, b: Shape): boolean {
  const [here, there] = [a.properties ?? {}, b.properties ?? {}];
  const names = Object.keys(here);
  return names.length === Object.keys(there).length && names.every((name) => here[name] === there[name]);
}

/** Readers group and order rings as they like; each must have its own twin. */
function sameRings(a: Shape, b: Shape): boolean {
  const here = ringsOf(a);
  const left = ringsOf(b);
  if (here.length !== left.length) return false;
  return here.every((ring) => {
    const twin = left.findIndex((candidate) => sameRing(ring, candidate));
    if (twin >= 0) left.splice(twin, 1);
    return twin >= 0;
  });
}

function ringsOf({ geometry }: Shape): Position[][] {
  return geometry.type === 'Polygon' ? [...geometry.coordinates] : geometry.coordinates.flat();
}

/** Rings begin at the same vertex in both files and may run either way; vertices that are one at nine decimals count once. */
function sameRing(a: readonly Position[], b: readonly Position[]): boolean {
  if (!near(a[0], b[0])) return false;
  const [here, there] = a.length === b.length ? [a, b] : [withoutRepeats(a), withoutRepeats(b)];
  if (here.length !== there.length) return false;
  const last = there.length - 1;
  return (
    here.every((position, k) => near(position, there[k])) ||
    here.every((position, k) => near(position, there[last - k]))
  );
}

function near(a: Position, b: Position): boolean {
  return Math.abs(a[0] - b[0]) <= CLOSE_DEG && Math.abs(a[1] - b[1]) <= CLOSE_DEG;
}

function withoutRepeats(ring: readonly Position[]): Position[] {
  const written = ([lon, lat]: Position) => `${lon.toFixed(DECIMALS)} ${lat.toFixed(DECIMALS)}`;
  return ring.filter((position, k) => k === 0 || written(position) !== written(ring[k - 1]));
}
