import type { Feature, FeatureCollection, MultiPolygon, Polygon } from 'geojson';
import shp from 'shpjs';
import type { FileBytes } from '../../formats/file-bytes.ts';

/** The shapefile as shpjs reads it. Only for bytes a strict reader has passed: on broken ones shpjs may never return. */
export async function readShapefileElsewhere(
  files: readonly FileBytes[],
  name: string,
): Promise<Feature<Polygon | MultiPolygon>[]> {
  const member = (ending: string) => {
    const wanted = `${name.slice(0, -4)}.${ending}`;
    const file = files.find((candidate) => candidate.name === wanted);
    if (!file) throw new Error(`no ${wanted}`);
    // The library looks at the whole buffer behind a view, so it is given one of its own.
    return file.bytes.slice().buffer;
  };
  const text = (ending: string) => new TextDecoder().decode(member(ending));
  const read = await shp({ shp: member('shp'), dbf: member('dbf'), prj: text('prj'), cpg: text('cpg') });
  return polygonsOf(Array.isArray(read) ? read[0] : read);
}

/** The GeoJSON by the platform's own JSON. */
export function readGeojsonPlainly(
  files: readonly FileBytes[],
  name: string,
): Feature<Polygon | MultiPolygon>[] {
  const file = files.find((candidate) => candidate.name === name);
  if (!file) throw new Error(`no ${name}`);
  return polygonsOf(
    JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(file.bytes)) as FeatureCollection,
  );
}

function polygonsOf(collection: FeatureCollection): Feature<Polygon | MultiPolygon>[] {
  return collection.features.map((feature, k) => {
    if (feature.geometry?.type !== 'Polygon' && feature.geometry?.type !== 'MultiPolygon') {
      throw new Error(`feature ${k + 1} is a ${feature.geometry?.type ?? 'null shape'}`);
    }
    return feature as Feature<Polygon | MultiPolygon>;
  });
}
