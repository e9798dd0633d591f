import type { FileBytes } from '../file-bytes.ts';
import { safeFileName } from '../file-name.ts';
import { checkLayer, type PolygonLayer } from '../polygon-layer.ts';
import { dbfBytes } from './write-dbf.ts';
import { shpBytes } from './write-shp.ts';

/** WGS 84 in the dialect shapefile readers expect, exactly as GDAL writes it. */
const WGS84_PRJ =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';

/**
 * A polygon shapefile: .shp, .shx, .dbf, .prj (WGS 84) and .cpg (UTF-8), all of one base name. Deterministic.
 * Throws a Refusal, naming the record, for anything that does not fit; nothing is cut or rounded away silently.
 */
export function writeShapefile(layer: PolygonLayer): FileBytes[] {
  checkLayer(layer);
  const base = safeFileName(layer.name);
  const { shp, shx } = shpBytes(layer);
  const ascii = new TextEncoder();
  return [
    { name: `${base}.shp`, bytes: shp },
    { name: `${base}.shx`, bytes: shx },
    { name: `${base}.dbf`, bytes: dbfBytes(layer) },
    { name: `${base}.prj`, bytes: ascii.encode(WGS84_PRJ) },
    { name: `${base}.cpg`, bytes: ascii.encode('UTF-8') },
  ];
}
