import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import initGdalJs from 'gdal3.js/node.js';

/** What of GDAL 3.x and the PROJ inside it, compiled to WebAssembly (gdal3.js 2.8.1), these tests call. */
interface GdalSystems {
  open(file: string): Promise<{ datasets: readonly object[] }>;
  close(dataset: object): Promise<void>;
  gdaltransform(points: readonly number[][], options: readonly string[]): Promise<number[][]>;
  gdalinfo(
    dataset: object,
    options: readonly string[],
  ): Promise<{ coordinateSystem?: { readonly wkt: string } }>;
}

export const DIALECTS = ['WKT1', 'WKT1_ESRI', 'WKT2'] as const;

/** Coordinates and texts of systems by an implementation outside the project. */
export async function gdalSystems() {
  const gdal = (await initGdalJs({
    path: 'node_modules/gdal3.js/dist/package',
    logHandler: () => {},
    errorHandler: () => {},
  })) as unknown as GdalSystems;
  const folder = mkdtempSync(join(tmpdir(), 'eachacre-systems-'));
  mkdirSync(folder, { recursive: true });
  return {
    /** Easting and northing of lon/lat degrees, x before y whatever the registry's axes. */
    forward: (from: string, to: string, points: readonly number[][]) =>
      gdal.gdaltransform(points, ['-s_srs', from, '-t_srs', to, '-output_xy']),
    /** The texts of a system in three dialects. */
    async texts(system: string): Promise<readonly string[]> {
      const path = join(folder, `${system.replaceAll(/\W/g, '-')}.vrt`);
      writeFileSync(
        path,
        `<VRTDataset rasterXSize="1" rasterYSize="1"><SRS>${system}</SRS><GeoTransform>0,1,0,0,0,-1</GeoTransform><VRTRasterBand dataType="Byte" band="1"/></VRTDataset>`,
      );
      const dataset = (await gdal.open(path)).datasets[0];
      const texts: string[] = [];
      for (const dialect of DIALECTS) {
        const told = await gdal.gdalinfo(dataset, ['-wkt_format', dialect]);
        texts.push(told.coordinateSystem?.wkt ?? '');
      }
      await gdal.close(dataset);
      return texts;
    },
    done: () => rmSync(folder, { recursive: true }),
  };
}
