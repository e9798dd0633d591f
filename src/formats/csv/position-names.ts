import { columnKey } from '../../engine/layers/column-key.ts';

/** Names of a pair of columns, east-west first. English, then Spanish, Portuguese, French, Italian, Dutch and German where they differ. */
export interface NamePair {
  readonly x: RegExp;
  readonly y: RegExp;
}

export const DEGREES: readonly NamePair[] = [
  {
    x: /^(lon|long|lng|londd|lond|gpslon|gpslong|gpslng|wgs84lon|decimallongitude|(gps)?longitude.*)$/,
    y: /^(lat|latdd|latd|gpslat|wgs84lat|decimallatitude|(gps)?latitude.*)$/,
  },
  {
    x: /^(gps)?longitud(ine)?(decimal|wgs84|gps|grados|gradi)?$/,
    y: /^(gps)?latitud(ine)?(decimal|wgs84|gps|grados|gradi)?$/,
  },
  { x: /^(lengtegraad|lengtegr)$/, y: /^(breedtegraad|breedtegr)$/ },
  {
    x: /^(geogr(aphische)?)?(langengrad|laengengrad)$|^geogr(aphische)?(lange|laenge)$/,
    y: /^(geogr(aphische)?)?breitengrad$|^geogr(aphische)?breite$/,
  },
];

export const PROJECTED: readonly NamePair[] = [
  {
    x: /^(east|easting|utme|utmx|xutm|utmeast|utmeasting|eastingutm|easting(m|ft)|eastingmeters|projx)$/,
    y: /^(north|northing|utmn|utmy|yutm|utmnorth|utmnorthing|northingutm|northing(m|ft)|northingmeters|projy)$/,
  },
  { x: /^(utm)?(coordenada|coord)?(este|leste)(utm|m)?$/, y: /^(utm)?(coordenada|coord)?norte(utm|m)?$/ },
  { x: /^(utm)?(coordonnee)?est(utm|m)?$/, y: /^(utm)?(coordonnee)?nord(utm|m)?$/ },
  { x: /^(rechtswert|ostwert|ost|utmost)$/, y: /^(hochwert|nordwert|nord|utmnord)$/ },
];

/** Degrees or metres, which the numbers must tell. */
export const BARE: readonly NamePair[] = [
  { x: /^(x|xcoord|xcoordinate|pointx|coordx)$/, y: /^(y|ycoord|ycoordinate|pointy|coordy)$/ },
  { x: /^(coordenadax|xcoordenada)$/, y: /^(coordenaday|ycoordenada)$/ },
  { x: /^(coordonneex|xkoordinate|koordinatex)$/, y: /^(coordonneey|ykoordinate|koordinatey)$/ },
];

/** A column of UTM zones. */
export const ZONE = /^(utm)?(zone|zona|huso|fuso|fuseau)(utm)?$/;

/** As `columnKey`, letters without their accents. */
export function nameKey(name: string): string {
  return columnKey(name.normalize('NFKD').replace(/\p{M}/gu, ''));
}

export function isDegreeName(name: string): boolean {
  const key = nameKey(name);
  return DEGREES.some(({ x, y }) => x.test(key) || y.test(key));
}

/** The UTM zone in a column's name (`Easting_15N`, `UTM 15 Northing`), and the name without it; null without one. */
export function zoneInName(name: string): { key: string; zone: string } | null {
  const key = nameKey(name);
  const match = /(?:zone)?(\d{1,2})([ns]?)(?![a-z]*\d)/.exec(key);
  if (!match) return null;
  const [whole, digits, letter] = match;
  // 15n of 'utm15northing' is the name's own n.
  const rest = (taken: string) => key.replace(taken, '');
  const own = [rest(whole), rest(whole.slice(0, whole.length - letter.length))];
  const known = own.findIndex((each) => PROJECTED.some(({ x, y }) => x.test(each) || y.test(each)));
  if (known < 0 || (letter === '' && !key.includes('utm') && !key.includes('zone'))) return null;
  return { key: own[known], zone: digits + (known === 0 ? letter.toUpperCase() : '') };
}
