import proj4 from 'proj4';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import type { LayerField, PolygonLayer } from '../../src/formats/polygon-layer.ts';
import { writeShapefile } from '../../src/formats/shapefile/write.ts';
import { dbfBytes } from '../../src/formats/shapefile/write-dbf.ts';
import { shpBytes } from '../../src/formats/shapefile/write-shp.ts';
import type { FieldDesign, Part, Point } from './design.ts';
import { polygonLonLat } from './geojson.ts';
import type { SoilPolygon } from './soils.ts';
import { round } from './turned-frame.ts';

/** The day the files say they were made, whenever that is. */
const DATE = { year: 2026, month: 11, day: 2 };

/** Soils as a shapefile in degrees, with the short upper-case names such files have. */
export function soilsShapefile(design: FieldDesign, polygons: readonly SoilPolygon[]): FileBytes[] {
  return writeShapefile({
    name: 'soils',
    date: DATE,
    fields: [
      text('SYMBOL', 8),
      text('SOIL', 40),
      number('SLOPE_PCT', 5, 1),
      number(`${design.crop.toUpperCase()}_BU`, 5, 0),
      number('WATER_IN', 5, 1),
    ],
    features: polygons.map(({ unit, part }) => ({
      values: [unit.symbol, unit.soil, unit.slope_pct, unit.rating_buPerAc, unit.water_in],
      rings: [flatRings(design, part, (point) => point)],
    })),
  });
}

/** The boundary as a shapefile in metres of its UTM zone (WGS 84, north), to the centimetre. */
export function boundaryUtmShapefile(design: FieldDesign, name: string): FileBytes[] {
  const zone = Math.floor((design.centre.lon0 + 180) / 6) + 1;
  const { forward } = proj4(`+proj=utm +zone=${zone} +datum=WGS84 +units=m`);
  const toUtm = (point: Point): Point => {
    const [easting, northing] = forward([...point]);
    return [round(easting, 2), round(northing, 2)];
  };
  const layer: PolygonLayer = {
    name: 'boundary',
    date: DATE,
    fields: [text('FIELD', 40)],
    features: [{ values: [name], rings: design.parts.map((part) => flatRings(design, part, toUtm)) }],
  };
  const { shp, shx } = shpBytes(layer);
  const encoder = new TextEncoder();
  return [
    { name: 'boundary.shp', bytes: shp },
    { name: 'boundary.shx', bytes: shx },
    { name: 'boundary.dbf', bytes: dbfBytes(layer) },
    { name: 'boundary.prj', bytes: encoder.encode(utmPrj(zone)) },
  ];
}

/** Rings as the writer takes them: flat, first point not repeated. */
function flatRings(design: FieldDesign, part: Part, place: (point: Point) => Point): Float64Array[] {
  return polygonLonLat(design, part).map((ring) => Float64Array.from(ring.slice(0, -1).flatMap(place)));
}

/** In the dialect shapefiles use, as GDAL writes it for EPSG:326 and the zone. */
function utmPrj(zone: number): string {
  const degrees =
    'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
  return `PROJCS["WGS_1984_UTM_Zone_${zone}N",${degrees},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",${6 * zone - 183}.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`;
}

function text(name: string, width: number): LayerField {
  return { name, kind: 'text', width, decimals: 0 };
}

function number(name: string, width: number, decimals: number): LayerField {
  return { name, kind: 'number', width, decimals };
}
