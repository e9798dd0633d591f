/** Units as exports write them at the end of a column name, longest first so that `lbs` of flow is not read as `s`. */
const ENDINGS: readonly (readonly [RegExp, string])[] = [
  [/bu_?(per_?)?ac(re)?$|buac$/, 'bu/ac'],
  [/lbs?_?(per_?)?ac(re)?$/, 'lb/ac'],
  [/kg_?(per_?)?ha$/, 'kg/ha'],
  [/(^|_)t_?(per_?)?ha$|tonnes?_?ha$/, 't/ha'],
  [/(k_?)?s(ee)?ds?_?(per_?)?ac$/, 'seeds/ac'],
  [/lbs?_?(per_?)?s(ec)?$|flo?w_lbs$/, 'lb/s'],
  [/kg_?(per_?)?s(ec)?$/, 'kg/s'],
  [/mph$/, 'mi/h'],
  [/km_?h$|kph$/, 'km/h'],
  [/m_s$|mps$/, 'm/s'],
  [/pct$|percent$|_p$/, '%'],
  [/deg(rees?)?$|_dg$/, '°'],
  [/_ft$|feet$/, 'ft'],
  [/_in$|inch(es)?$/, 'in'],
  [/_cm$/, 'cm'],
  [/_mm$/, 'mm'],
  [/_m$|met(e|r)?rs?$|metres?$/, 'm'],
  [/_ac$|acres?$/, 'ac'],
  [/_ha$/, 'ha'],
  [/_sec(onds)?$|_s$/, 's'],
];

/** Columns whose unit goes without saying. */
const BY_NAME: Readonly<Record<string, string>> = {
  lon: '°',
  long: '°',
  longitude: '°',
  lat: '°',
  latitude: '°',
  heading: '°',
  moisture: '%',
};

/** The unit a column's name tells, empty when it tells none. A name is a hint and no proof: show it, do not compute with it. */
export function guessUnit(name: string): string {
  const plain = name
    .trim()
    .toLowerCase()
    .replace(/%/g, 'pct')
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^_|_$/g, '');
  if (Object.hasOwn(BY_NAME, plain)) return BY_NAME[plain];
  return ENDINGS.find(([ending]) => ending.test(plain))?.[1] ?? '';
}
