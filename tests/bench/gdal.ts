import { execFileSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import proj4 from 'proj4';
import { DATA, HALF_SIDE_M, LIKE, placeOf, SIDE_CELLS, UTM_ZONE } from './field.ts';
import { type Timed, timedProcess } from './timed-process.ts';

const EPSG = `EPSG:${32600 + UTM_ZONE}`;
const THREADS = { GDAL_NUM_THREADS: 'ALL_CPUS' };
export const UNKNOWN = -9999;

/** GDAL's own words for its version, null when it is not installed. */
export function gdalVersion(): string | null {
  try {
    return ['ogr2ogr', 'gdal_grid'].map((program) =>
      execFileSync(program, ['--version']).toString().trim(),
    )[0];
  } catch {
    return null;
  }
}

/** A way through GDAL from a file of points to a surface of doubles on disk, row by row from the north. */
export interface Chain {
  readonly name: string;
  run(file: string, column: string, out: string): Promise<Timed>;
}

/** The two fastest ways found; docs/bench.md names those that were tried. Both read only the yield column. */
export const CHAINS: readonly Chain[] = [
  {
    name: 'ogr2ogr to FlatGeobuf, gdal_grid',
    async run(file, column, out) {
      const vrt = join(DATA, 'plain.vrt');
      writeFileSync(vrt, `<OGRVRTDataSource>${layer(file, column)}</OGRVRTDataSource>`);
      const projected = join(DATA, 'projected.fgb');
      rmSync(projected, { force: true });
      const format = ['-f', 'FlatGeobuf', '-lco', 'SPATIAL_INDEX=NO'];
      const first = await timedProcess('ogr2ogr', [...format, '-t_srs', EPSG, projected, vrt], THREADS);
      const second = await timedProcess('gdal_grid', [...gridding(column), projected, out], THREADS);
      return { ...second, ms: first.ms + second.ms, peak_MB: larger(first.peak_MB, second.peak_MB) };
    },
  },
  {
    name: 'gdal_grid from a projecting VRT',
    run(file, column, out) {
      const vrt = join(DATA, 'warped.vrt');
      const warped = `<OGRVRTWarpedLayer>${layer(file, column)}<TargetSRS>${EPSG}</TargetSRS></OGRVRTWarpedLayer>`;
      writeFileSync(vrt, `<OGRVRTDataSource>${warped}</OGRVRTDataSource>`);
      return timedProcess('gdal_grid', [...gridding(column), vrt, out], THREADS);
    },
  },
];

function layer(file: string, column: string): string {
  const places = file.endsWith('.csv') ? '<GeometryField encoding="PointFromColumns" x="lon" y="lat"/>' : '';
  return `<OGRVRTLayer name="yield"><SrcDataSource>${file}</SrcDataSource><GeometryType>wkbPoint</GeometryType><LayerSRS>EPSG:4326</LayerSRS>${places}<Field name="${column}" src="${column}" type="Real"/></OGRVRTLayer>`;
}

/** The same cells as ours: the field's sides in UTM, so that every centre is the same place on the ground. */
function gridding(column: string): string[] {
  const { forward } = proj4(`+proj=utm +zone=${UTM_ZONE} +datum=WGS84 +units=m`);
  const utm = (x: number, y: number) => forward([...placeOf(x, y)]);
  const [west, east] = [utm(-HALF_SIDE_M, 0)[0], utm(HALF_SIDE_M, 0)[0]];
  const [south, north] = [utm(0, -HALF_SIDE_M)[1], utm(0, HALF_SIDE_M)[1]];
  const { radius_m, most, power } = LIKE;
  const rule = `invdistnn:power=${power}:radius=${radius_m}:max_points=${most}:min_points=1:nodata=${UNKNOWN}`;
  const place = ['-txe', west, east, '-tye', south, north, '-outsize', SIDE_CELLS, SIDE_CELLS].map(String);
  // ENVI is bare numbers on disk: the least work to write, and nothing to decode for the comparison.
  const form = ['-ot', 'Float64', '-of', 'ENVI', '-l', 'yield', '-zfield', column];
  return ['-q', '-a', rule, ...place, ...form];
}

function larger(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : Math.max(a, b);
}
