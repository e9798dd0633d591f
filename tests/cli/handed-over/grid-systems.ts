import proj4 from 'proj4';

/** A coordinate system files come in: how PROJ writes it, and the .prj beside a shapefile. */
export interface GridSystem {
  readonly epsg: number | null;
  readonly proj: string;
  /** As GDAL 3.6.2 writes it (`gdalsrsinfo -o wkt_esri`), but for names of their own where there is no code. */
  readonly prj: string;
}

const NAD83 =
  'GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
const WGS84 =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
const NAD27 =
  'GEOGCS["GCS_North_American_1927",DATUM["D_North_American_1927",SPHEROID["Clarke_1866",6378206.4,294.978698213898]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
const mercator = (meridian: number) =>
  `PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",${meridian}.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]`;

export const DEGREES: GridSystem = { epsg: 4326, proj: '+proj=longlat +datum=WGS84', prj: WGS84 };
export const UTM15: GridSystem = {
  epsg: 32615,
  proj: '+proj=utm +zone=15 +datum=WGS84 +units=m',
  prj: `PROJCS["WGS_1984_UTM_Zone_15N",${WGS84},${mercator(-93)}]`,
};
export const UTM16: GridSystem = {
  epsg: 26916,
  proj: '+proj=utm +zone=16 +ellps=GRS80 +towgs84=0,0,0 +units=m',
  prj: `PROJCS["NAD_1983_UTM_Zone_16N",${NAD83},${mercator(-87)}]`,
};
/** A grid nobody has listed, named by whoever made it. */
export const OWN_GRID: GridSystem = {
  epsg: null,
  proj: '+proj=tmerc +lat_0=40 +lon_0=-90 +k=1 +x_0=100000 +y_0=0 +ellps=GRS80 +towgs84=0,0,0 +units=m',
  prj: `PROJCS["County grid 2",${NAD83},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",100000.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-90.0],PARAMETER["Scale_Factor",1.0],PARAMETER["Latitude_Of_Origin",40.0],UNIT["Meter",1.0]]`,
};
export const ALBERS: GridSystem = {
  epsg: 5070,
  proj: '+proj=aea +lat_0=23 +lon_0=-96 +lat_1=29.5 +lat_2=45.5 +x_0=0 +y_0=0 +ellps=GRS80 +towgs84=0,0,0 +units=m',
  prj: `PROJCS["NAD_1983_Contiguous_USA_Albers",${NAD83},PROJECTION["Albers"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-96.0],PARAMETER["Standard_Parallel_1",29.5],PARAMETER["Standard_Parallel_2",45.5],PARAMETER["Latitude_Of_Origin",23.0],UNIT["Meter",1.0]]`,
};
export const WEB_MERCATOR: GridSystem = {
  epsg: 3857,
  proj: '+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m +nadgrids=@null',
  prj: `PROJCS["WGS_1984_Web_Mercator_Auxiliary_Sphere",${WGS84},PROJECTION["Mercator_Auxiliary_Sphere"],PARAMETER["False_Easting",0.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",0.0],PARAMETER["Standard_Parallel_1",0.0],PARAMETER["Auxiliary_Sphere_Type",0.0],UNIT["Meter",1.0]]`,
};
export const IOWA_FEET: GridSystem = {
  epsg: 3417,
  proj: '+proj=lcc +lat_0=41.5 +lon_0=-93.5 +lat_1=43.2666666666667 +lat_2=42.0666666666667 +x_0=1500000 +y_0=999999.99998984 +ellps=GRS80 +towgs84=0,0,0 +units=us-ft',
  prj: `PROJCS["NAD_1983_StatePlane_Iowa_North_FIPS_1401_Feet",${NAD83},PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",4921250.0],PARAMETER["False_Northing",3280833.3333],PARAMETER["Central_Meridian",-93.5],PARAMETER["Standard_Parallel_1",43.2666666666667],PARAMETER["Standard_Parallel_2",42.0666666666667],PARAMETER["Latitude_Of_Origin",41.5],UNIT["US survey foot",0.304800609601219]]`,
};
export const INDIANA_FEET: GridSystem = {
  epsg: 2965,
  proj: '+proj=tmerc +lat_0=37.5 +lon_0=-85.6666666666667 +k=0.999966667 +x_0=99999.9998983998 +y_0=249999.9998984 +ellps=GRS80 +towgs84=0,0,0 +units=us-ft',
  prj: `PROJCS["NAD_1983_StatePlane_Indiana_East_FIPS_1301_Feet",${NAD83},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",328083.333],PARAMETER["False_Northing",820208.333],PARAMETER["Central_Meridian",-85.6666666666667],PARAMETER["Scale_Factor",0.999966667],PARAMETER["Latitude_Of_Origin",37.5],UNIT["US survey foot",0.304800609601219]]`,
};
/** On the old datum, by the mean shift of the contiguous states (some 10 m): -8, 160, 176 m. */
export const OLD_UTM15: GridSystem = {
  epsg: 26715,
  proj: '+proj=utm +zone=15 +a=6378206.4 +b=6356583.8 +towgs84=-8,160,176 +units=m',
  prj: `PROJCS["NAD_1927_UTM_Zone_15N",${NAD27},${mercator(-93)}]`,
};

/** Degrees to coordinates of the system, to the millimetre where they are metres or feet. */
export function inSystem({ proj, epsg }: GridSystem): (lon: number, lat: number) => [number, number] {
  if (epsg === 4326) return (lon, lat) => [lon, lat];
  const { forward } = proj4('+proj=longlat +datum=WGS84', proj);
  return (lon, lat) => {
    const [x, y] = forward([lon, lat]);
    return [Number(x.toFixed(3)), Number(y.toFixed(3))];
  };
}
