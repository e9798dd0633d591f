/** Coordinate system texts as GDAL 3.6 writes them beside a shapefile (`ogr2ogr`), one line each. */
const geogcs = (name: string, datum: string, spheroid: string) =>
  `GEOGCS["${name}",DATUM["${datum}",SPHEROID[${spheroid}]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]`;

export const WGS84_TEXT = geogcs('GCS_WGS_1984', 'D_WGS_1984', '"WGS_1984",6378137.0,298.257223563');
export const NAD83_TEXT = geogcs(
  'GCS_North_American_1983',
  'D_North_American_1983',
  '"GRS_1980",6378137.0,298.257222101',
);
export const NAD27_TEXT = geogcs(
  'GCS_North_American_1927',
  'D_North_American_1927',
  '"Clarke_1866",6378206.4,294.9786982',
);

/** UTM zone 15 north on any of them. */
export function utm15(geographic: string): string {
  return `PROJCS["UTM_Zone_15N",${geographic},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`;
}

/** Iowa North, its false origin in the unit given. */
export function iowaNorth(easting: number, northing: number, unit: string): string {
  return `PROJCS["NAD_1983_StatePlane_Iowa_North_FIPS_1401",${NAD83_TEXT},PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",${easting}],PARAMETER["False_Northing",${northing}],PARAMETER["Central_Meridian",-93.5],PARAMETER["Standard_Parallel_1",43.2666666666667],PARAMETER["Standard_Parallel_2",42.0666666666667],PARAMETER["Latitude_Of_Origin",41.5],UNIT[${unit}]]`;
}

export const IOWA_NORTH_FEET = iowaNorth(4921250, 3280833.3333, '"US survey foot",0.304800609601219');
