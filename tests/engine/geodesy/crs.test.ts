import { describe, expect, it } from 'vitest';
import { crsFromEpsg, crsFromWkt, crsToLonLat, WGS84 } from '../../../src/engine/geodesy/crs.ts';

const geogcs = (datum: string, ellipsoid: string) =>
  `GEOGCS["any",DATUM["${datum}",SPHEROID[${ellipsoid}]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]]`;
const GRS80 = '"GRS_1980",6378137,298.257222101';
const NAD83 = geogcs('D_North_American_1983', GRS80);
const utm = (geographic: string, unit = 'UNIT["Meter",1]') =>
  `PROJCS["any",${geographic},PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000],PARAMETER["False_Northing",0],PARAMETER["Central_Meridian",-93],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0],${unit}]`;

const codeOf = (wkt: string) => crsFromWkt(wkt, 'a.prj').crs?.code;
const issuesOf = (wkt: string) =>
  crsFromWkt(wkt, 'a.prj').issues.map(({ code, severity }) => `${severity} ${code}`);

describe('a system by its text', () => {
  it('knows by parameters, not by name', () => {
    expect(codeOf(utm(NAD83))).toBe('EPSG:26915');
    expect(codeOf(utm(geogcs('WGS_1984', '"WGS 84",6378137,298.257223563')))).toBe('EPSG:32615');
    expect(codeOf(geogcs('World Geodetic System 1984 ensemble', '"WGS 84",6378137,298.257223563'))).toBe(
      'EPSG:4326',
    );
    expect(codeOf(utm(NAD83).replace('-93]', '-93.01]'))).toBe('custom');
  });

  it('reads Web Mercator as three dialects write it', () => {
    const wgs84 = geogcs('WGS_1984', '"WGS 84",6378137,298.257223563');
    const parameters =
      'PARAMETER["central_meridian",0],PARAMETER["scale_factor",1],PARAMETER["false_easting",0],PARAMETER["false_northing",0],UNIT["metre",1]';
    const extension =
      'EXTENSION["PROJ4","+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +units=m +nadgrids=@null +wktext +no_defs"]';
    expect(codeOf(`PROJCS["m",${wgs84},PROJECTION["Mercator_1SP"],${parameters},${extension}]`)).toBe(
      'EPSG:3857',
    );
    expect(
      codeOf(
        `PROJCS["m",${wgs84},PROJECTION["Mercator_Auxiliary_Sphere"],PARAMETER["Standard_Parallel_1",0],PARAMETER["Auxiliary_Sphere_Type",0],${parameters}]`,
      ),
    ).toBe('EPSG:3857');
    // The ellipsoidal Mercator of the same name is another projection.
    expect(issuesOf(`PROJCS["m",${wgs84},PROJECTION["Mercator_1SP"],${parameters}]`)).toEqual([
      'error crs-projection-not-supported',
    ]);
  });

  it('reads WKT 2, its bound and compound forms', () => {
    const base =
      'BASEGEOGCRS["NAD83",DATUM["North American Datum 1983",ELLIPSOID["GRS 1980",6378137,298.257222101,LENGTHUNIT["metre",1]]],PRIMEM["Greenwich",0,ANGLEUNIT["degree",0.0174532925199433]]]';
    const feet = 'LENGTHUNIT["US survey foot",0.304800609601219]';
    const projected = `PROJCRS["Iowa North",${base},CONVERSION["c",METHOD["Lambert Conic Conformal (2SP)",ID["EPSG",9802]],PARAMETER["Latitude of false origin",41.5],PARAMETER["Longitude of false origin",-93.5],PARAMETER["Latitude of 1st standard parallel",43.2666666666667],PARAMETER["Latitude of 2nd standard parallel",42.0666666666667],PARAMETER["Easting at false origin",4921250,${feet}],PARAMETER["Northing at false origin",3280833.3333,${feet}]],CS[Cartesian,2],AXIS["easting (X)",east,ORDER[1],${feet}],AXIS["northing (Y)",north,ORDER[2],${feet}]]`;
    expect(codeOf(projected)).toBe('EPSG:3417');
    const vertical =
      'VERTCRS["NAVD88",VDATUM["North American Vertical Datum 1988"],CS[vertical,1],AXIS["up",up],LENGTHUNIT["metre",1]]';
    expect(codeOf(`COMPOUNDCRS["both",${projected},${vertical}]`)).toBe('EPSG:3417');
    expect(issuesOf(`COMPOUNDCRS["both",${projected},${vertical}]`)).toEqual(['note crs-part-ignored']);
    const target =
      'TARGETCRS[GEOGCRS["WGS 84",DATUM["World Geodetic System 1984",ELLIPSOID["WGS 84",6378137,298.257223563]]]]';
    expect(codeOf(`BOUNDCRS[SOURCECRS[${projected}],${target},ABRIDGEDTRANSFORMATION["none"]]`)).toBe(
      'EPSG:3417',
    );
  });

  it('reads a height system set behind the map’s', () => {
    const vertical = 'VERTCS["NAVD_1988",VDATUM["North_American_Vertical_Datum_1988"],UNIT["Meter",1.0]]';
    expect(codeOf(`${NAD83},${vertical}`)).toBe('EPSG:4269');
    expect(issuesOf(`${NAD83},${vertical}`)).toEqual(['note crs-part-ignored']);
  });

  it('tells feet apart by their factor, whatever they are called', () => {
    const feet = (factor: number) => crsFromWkt(utm(NAD83, `UNIT["Foot",${factor}]`), 'a.prj').crs?.proj4;
    expect(feet(0.3048006096)).toContain(`+to_meter=${1200 / 3937}`);
    expect(feet(0.3048)).toContain('+to_meter=0.3048 ');
    expect(feet(0.3048)).toContain(`+x_0=${500000 * 0.3048}`);
    expect(issuesOf(utm(NAD83, 'UNIT["Chain",20.1168]'))).toEqual(['error crs-projection-not-supported']);
  });

  it('takes an unnamed datum on a modern ellipsoid as WGS 84, and says so', () => {
    expect(issuesOf(utm(geogcs('D_unknown', GRS80)))).toEqual(['note crs-datum-assumed']);
    expect(codeOf(utm(geogcs('D_unknown', GRS80)))).toBe('custom');
  });

  it.each([
    ['NAD83 named, Clarke meant', 'D_North_American_1983', '"Clarke_1866",6378206.4,294.9786982'],
    ['an unnamed datum on Clarke', 'D_unknown', '"Clarke_1866",6378206.4,294.9786982'],
    ['WGS 72', 'WGS_1972', '"WGS 72",6378135,298.26'],
    ['another datum on Bessel', 'D_MGI', '"Bessel_1841",6377397.155,299.1528128'],
    ['a plate that has moved', 'GDA94', GRS80],
  ])('refuses %s', (_, datum, ellipsoid) => {
    expect(issuesOf(geogcs(datum, ellipsoid))).toEqual(['error crs-datum-not-supported']);
    expect(crsFromWkt(utm(geogcs(datum, ellipsoid)), 'a.prj').crs).toBeNull();
  });

  it('refuses a shift of its own, of four numbers or of seven, but not of zeros', () => {
    const shifted = (numbers: string) => NAD83.replace(']],PRIMEM', `],TOWGS84[${numbers}]],PRIMEM`);
    expect(issuesOf(shifted('1,2,3,4'))).toEqual(['error crs-datum-not-supported']);
    expect(issuesOf(shifted('1,2,3,4,5,6,7'))).toEqual(['error crs-datum-not-supported']);
    expect(codeOf(shifted('0,0,0,0,0,0,0'))).toBe('EPSG:4269');
  });

  it.each([
    ['another projection', utm(NAD83).replace('Transverse_Mercator', 'Polyconic')],
    [
      'a parameter it does not know',
      utm(NAD83).replace('UNIT["Meter"', 'PARAMETER["Azimuth",30],UNIT["Meter"'),
    ],
    ['no origin', utm(NAD83).replace('PARAMETER["Central_Meridian",-93],', '')],
    ['an impossible scale', utm(NAD83).replace('0.9996', '0')],
    ['grads', NAD83.replace('0.0174532925199433', '0.01570796326794897')],
  ])('refuses %s', (_, wkt) => {
    expect(issuesOf(wkt)).toEqual(['error crs-projection-not-supported']);
  });

  it('tells New York East from New Jersey, which share all their numbers, by the name alone', () => {
    const text = (name: string) =>
      utm(NAD83)
        .replace('"any"', `"${name}"`)
        .replace('500000]', '150000]')
        .replace('-93]', '-74.5]')
        .replace('0.9996]', '0.9999]')
        .replace('"Latitude_Of_Origin",0]', '"Latitude_Of_Origin",38.83333333333334]');
    expect(codeOf(text('NAD_1983_StatePlane_New_York_East_FIPS_3101'))).toBe('EPSG:32115');
    expect(codeOf(text('NAD_1983_StatePlane_New_Jersey_FIPS_2900'))).toBe('EPSG:32111');
    expect(codeOf(text('New_York_East_in_name_only').replace('38.83', '38.84'))).toBe('custom');
  });

  it('names the unit of what it places in feet, listed or not', () => {
    const name = (unit: string) => crsFromWkt(utm(NAD83, unit), 'a.prj').crs?.name;
    expect(name('UNIT["Foot_US",0.304800609601219]')).toBe('any (US survey feet)');
    expect(name('UNIT["Foot",0.3048]')).toBe('any (international feet)');
    expect(name('UNIT["Meter",1]')).toBe('NAD83 / UTM zone 15N');
    expect(crsFromEpsg(3417)?.name).toBe('NAD83 / Iowa North (US survey feet)');
    expect(crsFromEpsg(2256)?.name).toBe('NAD83 / Montana (international feet)');
  });

  it('refuses longitudes from elsewhere than Greenwich', () => {
    expect(issuesOf(NAD83.replace('"Greenwich",0', '"Paris",2.33722917'))).toEqual([
      'error crs-datum-not-supported',
    ]);
  });

  it.each([
    ['nothing', ''],
    ['a web page', '<!DOCTYPE html><html></html>'],
    ['a text cut short', utm(NAD83).slice(0, 120)],
    ['a lone word', 'WGS84'],
    ['a local system', 'LOCAL_CS["site",UNIT["metre",1]]'],
    ['brackets without end', 'A['.repeat(10000)],
    ['a text of 10 MB', `GEOGCS["${'x'.repeat(10_000_000)}"]`],
    ['an open quote', 'GEOGCS["WGS 84'],
  ])('finds %s unreadable, at once', (_, wkt) => {
    const { crs, issues } = crsFromWkt(wkt, 'layer.prj');
    expect(crs).toBeNull();
    expect(issues.map(({ code, where }) => [code, where])).toEqual([['crs-unreadable', 'layer.prj']]);
  });
});

describe('coordinates to lon/lat', () => {
  it('leaves degrees alone and makes NaN of what is no place', () => {
    const { lon, lat } = crsToLonLat(
      WGS84,
      Float64Array.of(-93.5, 42, Number.NaN, 480000),
      Float64Array.of(42, -93.5, 1, 5230000),
    );
    expect([...lon]).toEqual([-93.5, Number.NaN, Number.NaN, Number.NaN]);
    expect([...lat]).toEqual([42, Number.NaN, Number.NaN, Number.NaN]);
  });

  it('makes NaN of infinite metres and keeps the others', () => {
    const { lon, lat } = crsToLonLat(
      crsFromEpsg(32615)!,
      Float64Array.of(Number.POSITIVE_INFINITY, 500000),
      Float64Array.of(0, 4649776.2),
    );
    expect([lon[0], lat[0]]).toEqual([Number.NaN, Number.NaN]);
    expect(lon[1]).toBeCloseTo(-93, 9);
  });
});
