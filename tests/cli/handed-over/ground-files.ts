import type { FieldDesign, Point } from '../../../sample-fields/generator/design.ts';
import { polygonLonLat } from '../../../sample-fields/generator/geojson.ts';
import type { SoilPolygon } from '../../../sample-fields/generator/soils.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { dbfFile, polygonContent, shpFile, shxFile, textFile } from '../../formats/small-files.ts';
import { type GridSystem, inSystem } from './grid-systems.ts';

export type Rings = readonly (readonly Point[])[];

export function fieldRings(design: FieldDesign): Rings {
  return polygonLonLat(design, design.parts[0]);
}

export function geojsonPolygons(
  name: string,
  polygons: readonly Rings[],
  properties: readonly object[],
): FileBytes {
  const features = polygons.map((coordinates, k) => ({
    type: 'Feature',
    properties: properties[k],
    geometry: { type: 'Polygon', coordinates },
  }));
  return textFile(JSON.stringify({ type: 'FeatureCollection', features }), name);
}

/** Polygons with columns of text as a shapefile, in whatever system. */
export function shapePolygons(
  stem: string,
  polygons: readonly Rings[],
  rows: readonly Readonly<Record<string, string | number>>[],
  system: GridSystem,
  withPrj = true,
): FileBytes[] {
  const place = inSystem(system);
  const names = Object.keys(rows[0]);
  const shp = shpFile(
    5,
    // Outer rings run clockwise in a shapefile, holes the other way.
    polygons.map((rings) =>
      polygonContent(rings.map((ring) => ring.map(([lon, lat]) => place(lon, lat)).toReversed())),
    ),
    `${stem}.shp`,
  );
  const dbf = dbfFile(
    names.map((name) => [name, typeof rows[0][name] === 'string' ? 'C' : 'N', 24]),
    rows.map((row) =>
      names.map((name) => {
        const value = row[name];
        return typeof value === 'string' ? value.padEnd(24) : String(value).padStart(24);
      }),
    ),
    { name: `${stem}.dbf` },
  );
  const prj = textFile(system.prj, `${stem}.prj`);
  return [shp, shxFile(shp, `${stem}.shx`), dbf, ...(withPrj ? [prj] : [])];
}

export function kmlPolygons(name: string, polygons: readonly Rings[], names: readonly string[]): FileBytes {
  const ringText = (ring: readonly Point[]) =>
    `<LinearRing><coordinates>${ring.map(([lon, lat]) => `${lon},${lat},0`).join(' ')}</coordinates></LinearRing>`;
  const placemarks = polygons.map(
    ([outer, ...holes], k) =>
      `<Placemark><name>${names[k]}</name><Polygon><outerBoundaryIs>${ringText(outer)}</outerBoundaryIs>${holes
        .map((hole) => `<innerBoundaryIs>${ringText(hole)}</innerBoundaryIs>`)
        .join('')}</Polygon></Placemark>`,
  );
  return textFile(
    `<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2"><Document>${placemarks.join('')}</Document></kml>`,
    name,
  );
}

/** Boundaries as ISO 11783-10 fields (PFD), their rings as PLN of type 1. */
export function taskFilePolygons(polygons: readonly Rings[], names: readonly string[]): FileBytes {
  const line = (ring: readonly Point[], type: number) =>
    `<LSG A="${type}">${ring.map(([lon, lat]) => `<PNT A="2" C="${lat}" D="${lon}"/>`).join('')}</LSG>`;
  const fields = polygons.map(
    ([outer, ...holes], k) =>
      `<PFD A="PFD${k + 1}" C="${names[k]}" D="160000"><PLN A="1">${line(outer, 1)}${holes.map((hole) => line(hole, 2)).join('')}</PLN></PFD>`,
  );
  return textFile(
    `<?xml version="1.0" encoding="UTF-8"?>\n<ISO11783_TaskData VersionMajor="4" VersionMinor="3" ManagementSoftwareManufacturer="nobody" ManagementSoftwareVersion="1" DataTransferOrigin="1">${fields.join('')}</ISO11783_TaskData>`,
    'TASKDATA.XML',
  );
}

/** A farm: the field among squares that lie round it, number `at` of them. */
export function farmOf(field: Rings, count: number, at: number): Rings[] {
  const [lon0, lat0] = field[0][0];
  const squares = Array.from({ length: count - 1 }, (_, k): Rings => {
    const west = lon0 + 0.012 * ((k % 7) + 1);
    const south = lat0 + 0.009 * Math.floor(k / 7) - 0.02;
    return [
      [
        [west, south],
        [west + 0.008, south],
        [west + 0.008, south + 0.006],
        [west, south + 0.006],
        [west, south],
      ],
    ];
  });
  return [...squares.slice(0, at), field, ...squares.slice(at)];
}

export function soilRings(design: FieldDesign, polygons: readonly SoilPolygon[]): Rings[] {
  return polygons.map(({ part }) => polygonLonLat(design, part));
}
