declare module 'shpjs' {
  import type { FeatureCollection } from 'geojson';

  /** The members of one shapefile, or several layers when given a zip. */
  export default function shp(members: {
    shp: ArrayBufferLike;
    dbf: ArrayBufferLike;
    prj: string;
    cpg: string;
  }): Promise<FeatureCollection | FeatureCollection[]>;
}
