import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import initGdalJs, { type Gdal } from 'gdal3.js/node.js';
import type { FileBytes } from '../../src/formats/file-bytes.ts';

/** GDAL 3.x compiled to WebAssembly (gdal3.js 2.8.1): the outside reader of these tests. */
export function openGdal(): Promise<Gdal> {
  return initGdalJs({
    path: 'node_modules/gdal3.js/dist/package',
    logHandler: () => {},
    errorHandler: () => {},
  });
}

/** A vector file as a shapefile in its own coordinates, by GDAL. */
export async function asShapefile(gdal: Gdal, path: string): Promise<FileBytes[]> {
  const { datasets, errors } = await gdal.open([path]);
  if (errors.length > 0) throw new Error(errors.join('; '));
  const output = await gdal.ogr2ogr(datasets[0], ['-f', 'ESRI Shapefile']);
  return Promise.all(
    ['shp', 'shx', 'dbf', 'prj'].map(async (ending) => {
      const local = output.local.replace(/\.[a-z]+$/, `.${ending}`);
      return { name: local.slice(local.lastIndexOf('/') + 1), bytes: await gdal.getFileBytes({ local }) };
    }),
  );
}

/** Features of a query in GDAL's SQLite dialect over a layer given as files. */
export async function query(
  gdal: Gdal,
  folder: string,
  files: readonly FileBytes[],
  sql: (layer: string) => string,
): Promise<Record<string, unknown>[]> {
  const paths = files.map(({ name, bytes }) => {
    const path = join(folder, name);
    writeFileSync(path, bytes);
    return path;
  });
  const { datasets, errors } = await gdal.open(paths);
  if (errors.length > 0) throw new Error(errors.join('; '));
  const layer = files[0].name.replace(/\.[a-z]+$/, '');
  const output = await gdal.ogr2ogr(datasets[0], [
    ...['-f', 'GeoJSON', '-dialect', 'SQLite', '-sql', sql(layer)],
  ]);
  const text = new TextDecoder().decode(await gdal.getFileBytes(output));
  return JSON.parse(text).features.map((feature: { properties: unknown }) => feature.properties);
}

/** Path of other people's data, outside the project: `../shared/data` or EACHACRE_DATA. */
export function dataPath(path: string): string {
  return join(process.env.EACHACRE_DATA ?? join(import.meta.dirname, '../../../shared/data'), path);
}
