import type { MultiPolygon, Polygon, Position } from 'geojson';

/** Pieces narrower than this hold no spot that both files must place alike: coordinates are written to 1e-9 degrees. */
const NARROWEST_DEG = 2e-8;

/** A spot well inside a polygon: the middle of its widest stretch along a parallel through the middle of a part. Null when it is too narrow for one. */
export function spotInside(geometry: Polygon | MultiPolygon): readonly [number, number] | null {
  const polygons = geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates;
  let best: readonly [number, number] | null = null;
  let widest = NARROWEST_DEG;
  for (const rings of polygons) {
    const lats = rings[0].map(([, lat]) => lat);
    const lat = (Math.min(...lats) + Math.max(...lats)) / 2;
    const crossings = rings.flatMap((ring) => crossingsAt(ring, lat)).sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const width = crossings[k + 1] - crossings[k];
      if (width > widest) {
        widest = width;
        best = [(crossings[k] + crossings[k + 1]) / 2, lat];
      }
    }
  }
  return best;
}

/** Longitudes at which a closed ring crosses a parallel. */
function crossingsAt(ring: readonly Position[], at: number): number[] {
  const found: number[] = [];
  for (let k = 0; k + 1 < ring.length; k++) {
    const [x1, y1] = ring[k];
    const [x2, y2] = ring[k + 1];
    if (y1 <= at !== y2 <= at) found.push(x1 + ((at - y1) / (y2 - y1)) * (x2 - x1));
  }
  return found;
}
