/** Other people's readers that come without types: only what the tests call. */
declare module 'gdal3.js/node.js' {
  interface Output {
    readonly local: string;
  }
  export interface Gdal {
    open(files: readonly string[]): Promise<{ datasets: readonly object[]; errors: readonly string[] }>;
    ogr2ogr(dataset: object, options: readonly string[]): Promise<Output>;
    gdal_translate(dataset: object, options: readonly string[], name: string): Promise<Output>;
    getInfo(dataset: object): Promise<{
      readonly width: number;
      readonly height: number;
      readonly bandCount: number;
      /** Origin x, column x, row x, origin y, column y, row y. */
      readonly coordinateTransform: Readonly<Record<0 | 1 | 2 | 3 | 4 | 5, number>>;
    }>;
    getFileBytes(output: Output): Promise<Uint8Array>;
  }
  export default function initGdalJs(options: object): Promise<Gdal>;
}
declare module 'shapefile' {
  export function read(
    shp: ArrayBuffer,
    dbf: ArrayBuffer | undefined,
    options?: { encoding?: string },
  ): Promise<import('geojson').FeatureCollection>;
}
