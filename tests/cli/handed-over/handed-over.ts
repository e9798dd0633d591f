import { soilPolygons } from '../../../sample-fields/generator/soils.ts';
import { random } from '../../../src/engine/math/random.ts';
import type { FileBytes } from '../../../src/formats/file-bytes.ts';
import { writeZip } from '../../../src/formats/zip/write.ts';
import { textFile } from '../../formats/small-files.ts';
import {
  ALBERS,
  DEGREES,
  type GridSystem,
  INDIANA_FEET,
  IOWA_FEET,
  OLD_UTM15,
  OWN_GRID,
  UTM15,
  UTM16,
  WEB_MERCATOR,
} from './grid-systems.ts';
import {
  farmOf,
  fieldRings,
  geojsonPolygons,
  kmlPolygons,
  shapePolygons,
  soilRings,
  taskFilePolygons,
} from './ground-files.ts';
import { type InventedField, inventedField, type Place } from './invented-field.ts';
import { LITTER, type Litter } from './litter.ts';
import { geojsonLog, shapeLog, type TextClothes, textLog } from './log-files.ts';
import { type Language, logColumns, type Quantity, UNIT_SETS, type UnitStyle, WORDS } from './log-words.ts';

/** A yield log of the field among the files, and what is true of it. */
export interface TrueLog {
  /** Beginning of its name in the answer. */
  readonly file: string;
  readonly field: InventedField;
  /** What its columns let anybody know: yield as such, only from grain and ground, or neither (units unsaid). */
  readonly from: 'yield' | 'wet yield' | 'flow';
  /** Of its column of yield. */
  readonly unit: string;
  /** Without physics a unit that no word tells is a guess between plausible ones; names cut to 10 letters often lose it. */
  readonly unitTold: boolean;
  /** Whether it says when or how fast it was driven; without, seconds are a guess. */
  readonly timed: boolean;
}

/** A folder as a grower hands it over, and what is so. */
export interface HandedOver {
  readonly title: string;
  readonly files: readonly FileBytes[];
  readonly args: readonly string[];
  readonly field: InventedField;
  readonly boundary: string;
  readonly record: number | null;
  readonly logs: readonly TrueLog[];
  readonly soils: string | null;
  /** Logs of ground elsewhere, or with places that cannot be. */
  readonly elsewhere: readonly string[];
  /** What must be said before all of it can be placed; the first answer then has to ask for it. */
  readonly say: readonly string[];
}

const MISTAKES = [
  'none',
  'none',
  'none',
  'twice',
  'copied',
  'swapped',
  'no prj',
  'nad27',
  'another field',
  'two crops',
  'two years',
  'jumps',
] as const;
type Mistake = (typeof MISTAKES)[number];

/** Everything that is chosen about a folder; left out it is drawn by the seed. */
export interface Wanted {
  readonly crop?: 'corn' | 'soybean';
  readonly mistake?: Mistake;
  readonly language?: Language;
  readonly units?: keyof typeof UNIT_SETS;
  readonly style?: UnitStyle;
  readonly log?: LogFormat;
  readonly from?: TrueLog['from'];
  readonly boundary?: BoundaryFormat;
  readonly soils?: SoilFormat;
  readonly delay_s?: number;
  readonly litter?: readonly Litter[];
}

const LOGS = [
  'csv',
  'csv ;',
  'csv tab utf-16',
  'csv preamble',
  'shp degrees',
  'shp utm',
  'shp feet',
  'shp own grid',
  'geojson',
  'csv in zip',
  'zip in zip',
] as const;
type LogFormat = (typeof LOGS)[number];
const BOUNDARIES = [
  'geojson',
  'shp utm',
  'shp feet',
  'shp albers',
  'shp mercator',
  'shp own grid',
  'zip',
  'kml',
  'kmz',
  'task file',
  'farm shp',
  'farm geojson',
  'farm kml',
] as const;
type BoundaryFormat = (typeof BOUNDARIES)[number];
const SOILS = ['none', 'rated', 'keyed', 'symbols', 'symbols two tables', 'zip'] as const;
type SoilFormat = (typeof SOILS)[number];

const PHYSICS: readonly Quantity[] = [
  'flow',
  'moisture',
  'distance',
  'swath',
  'speed',
  'heading',
  'time',
  'pass',
  'header',
];

export function handedOver(seed: number, wanted: Wanted = {}): HandedOver {
  const { uniform } = random(seed);
  const pick = <T>(all: readonly T[]): T => all[Math.floor(uniform() * all.length)];
  const crop = wanted.crop ?? pick(['corn', 'corn', 'soybean'] as const);
  const place: Place = pick(['iowa', 'indiana'] as const);
  const delay_s = wanted.delay_s ?? Math.round(10 * (-2 + 18 * uniform())) / 10;
  const field = inventedField({ seed, crop, place, delay_s });
  const mistake = wanted.mistake ?? pick(MISTAKES);
  const language = wanted.language ?? pick(Object.keys(WORDS) as Language[]);
  const unitsName = wanted.units ?? pick(Object.keys(UNIT_SETS) as (keyof typeof UNIT_SETS)[]);
  const style = wanted.style ?? pick(['in brackets', 'in brackets', 'underscores', 'none'] as const);
  const log = wanted.log ?? pick(LOGS);
  const from = wanted.from ?? pick(['yield', 'yield', 'yield', 'wet yield', 'flow'] as const);
  // Which field of a farm it is, only yield points tell.
  const boundaryFormat =
    wanted.boundary ?? pick(mistake === 'swapped' ? BOUNDARIES.slice(0, 10) : BOUNDARIES);
  const soilFormat = wanted.soils ?? pick(SOILS);
  const bare = from === 'yield' && uniform() < 0.2;
  const utm = place === 'iowa' ? UTM15 : UTM16;
  const feet = place === 'iowa' ? IOWA_FEET : INDIANA_FEET;

  const files: FileBytes[] = [];
  const say: string[] = [];

  // Boundary.
  const ours = fieldRings(field.design);
  const farm = boundaryFormat.startsWith('farm');
  const at = farm ? Math.floor(40 * uniform()) : 0;
  const polygons = farm ? farmOf(ours, 40, at) : [ours];
  const names = polygons.map((_, k) => `Field ${k + 1}`);
  const rows = names.map((name) => ({ NAME: name }));
  const stem = pick(['boundary', 'Home place', 'north_40 outline', 'Feld', 'limite']);
  const nad27 = mistake === 'nad27' && place === 'iowa';
  const noPrj = mistake === 'no prj';
  const asShape = (system: GridSystem) => shapePolygons(stem, polygons, rows, system);
  const boundaryFiles: readonly FileBytes[] = nad27
    ? asShape(OLD_UTM15)
    : noPrj
      ? shapePolygons(stem, polygons, rows, utm, false)
      : boundaryFormat === 'geojson' || boundaryFormat === 'farm geojson'
        ? [
            geojsonPolygons(
              `${stem}.geojson`,
              polygons,
              names.map((name) => ({ name })),
            ),
          ]
        : boundaryFormat === 'shp utm' || boundaryFormat === 'farm shp'
          ? asShape(utm)
          : boundaryFormat === 'shp feet'
            ? asShape(feet)
            : boundaryFormat === 'shp albers'
              ? asShape(ALBERS)
              : boundaryFormat === 'shp mercator'
                ? asShape(WEB_MERCATOR)
                : boundaryFormat === 'shp own grid'
                  ? asShape(OWN_GRID)
                  : boundaryFormat === 'zip'
                    ? [writeZip(`${stem}.zip`, asShape(utm))]
                    : boundaryFormat === 'kmz'
                      ? [writeZip(`${stem}.kmz`, [kmlPolygons('doc.kml', polygons, names)])]
                      : boundaryFormat === 'task file'
                        ? [inFolder('TASKDATA', taskFilePolygons(polygons, names))]
                        : [kmlPolygons(`${stem}.kml`, polygons, names)];
  files.push(...boundaryFiles);
  if (nad27) say.push('--accept-nad27', boundaryFiles[0].name);
  if (noPrj) say.push('--crs', `${boundaryFiles[0].name}=EPSG:${utm.epsg}`);

  // Yield logs.
  const logs: TrueLog[] = [];
  const elsewhere: string[] = [];
  const units = UNIT_SETS[unitsName];
  const own: Quantity[] = [
    'lon',
    'lat',
    ...(from === 'flow' ? [] : ([from === 'yield' ? 'dry' : 'wet'] as const)),
    ...(bare ? [] : PHYSICS),
    ...(mistake === 'two crops' ? (['crop'] as const) : []),
    ...(mistake === 'two years' ? (['year'] as const) : []),
  ];
  const writeLog = (
    of: InventedField,
    name: string,
    records = of.records,
    more: Quantity[] = own,
  ): FileBytes[] => {
    const columns = logColumns(more, { language, units, style }, crop, of.interval_s, of.year);
    const text: TextClothes = {
      separator: ',',
      decimal: '.',
      encoding: 'utf-8',
      preamble: [],
      unitsRow: false,
    };
    const table = (clothes: Partial<TextClothes> = {}, ending = 'csv') =>
      textLog(`${name}.${ending}`, records, columns, { ...text, ...clothes });
    const shape = (system: GridSystem) =>
      shapeLog(
        name,
        records,
        columns.filter((_, k) => k > 1),
        system,
      );
    if (log === 'csv ;') return [table({ separator: ';', decimal: ',', encoding: 'latin1' })];
    if (log === 'csv tab utf-16') return [table({ separator: '\t', encoding: 'utf-16le' }, 'txt')];
    if (log === 'csv preamble')
      return [
        table({
          preamble: ['Exported by,Somebody', 'Farm,Home place', ''],
          unitsRow: style === 'row below',
        }),
      ];
    if (log === 'shp degrees') return shape(DEGREES);
    if (log === 'shp utm') return shape(utm);
    if (log === 'shp feet') return shape(feet);
    if (log === 'shp own grid') return shape(OWN_GRID);
    if (log === 'geojson')
      return [
        geojsonLog(
          `${name}.json`,
          records,
          columns.filter((_, k) => k > 1),
        ),
      ];
    if (log === 'csv in zip') return [writeZip(`${name}.zip`, [table()])];
    if (log === 'zip in zip') return [writeZip(`${name}.zip`, [writeZip('inner.zip', [table()])])];
    return [table()];
  };
  const yearTold = uniform() < 0.7;
  const logName = `${pick(['yield', 'harvest', 'log', 'Ernte', 'cosecha', 'field export'])}${yearTold ? ` ${field.year}` : ''}`;
  let records = field.records;
  if (mistake === 'twice') records = [...records, ...records.slice(0, Math.floor(records.length / 3))];
  if (mistake === 'jumps')
    records = records.map((record, k) =>
      k % 97 === 5 ? { ...record, lon: record.lon + 0.004, lat: record.lat - 0.003 } : record,
    );
  // Metres exchanged are another story.
  const swapped = mistake === 'swapped' && (log === 'shp degrees' || !log.startsWith('shp'));
  if (swapped) records = records.map((record) => ({ ...record, lon: record.lat, lat: record.lon }));
  let logFiles = writeLog(field, logName, records);
  if (mistake === 'two crops') {
    // The other crop's harvest of the field next door, in the one export.
    const other = inventedField({
      seed: seed + 70,
      crop: crop === 'corn' ? 'soybean' : 'corn',
      place,
      delay_s,
      neighbour: 1,
    });
    logFiles = twoInOne(field, other, logName);
  }
  if (mistake === 'two years') {
    logFiles = twoInOne(field, inventedField({ seed, crop, place, delay_s, later: 1 }), logName);
  }
  files.push(...logFiles);
  if (swapped) elsewhere.push(logFiles[0].name);
  else
    logs.push({
      file: logFiles[0].name,
      field,
      from,
      unit: units.dry[0],
      unitTold: style !== 'none' && !log.startsWith('shp'),
      timed: !bare,
    });
  if (mistake === 'copied')
    files.push(...logFiles.map(({ name, bytes }) => ({ name: `Copy of ${name}`, bytes })));
  if (mistake === 'another field') {
    const other = inventedField({ seed: seed + 50, crop, place, delay_s, neighbour: 1 });
    const strange = writeLog(other, 'yield south farm');
    files.push(...strange);
    elsewhere.push(strange[0].name);
  }

  function twoInOne(first: InventedField, second: InventedField, name: string): FileBytes[] {
    const text: TextClothes = {
      separator: ',',
      decimal: '.',
      encoding: 'utf-8',
      preamble: [],
      unitsRow: false,
    };
    const write = (of: InventedField) =>
      textLog(
        `${name}.csv`,
        of.records,
        logColumns(own, { language, units, style }, of.design.crop, of.interval_s, of.year),
        text,
      );
    const [a, b] = [write(first), write(second)];
    const rest = new TextDecoder().decode(b.bytes);
    return [
      {
        name: a.name,
        bytes: new TextEncoder().encode(
          new TextDecoder().decode(a.bytes) + rest.slice(rest.indexOf('\n') + 1),
        ),
      },
    ];
  }

  // Soils.
  const drawn = soilPolygons(field.design, seed + 21);
  const rings = soilRings(field.design, drawn);
  const keyOf = (symbol: string) =>
    String(400_100 + field.design.soils.findIndex((unit) => unit.symbol === symbol));
  let soils: string | null = null;
  if (soilFormat !== 'none') {
    const rated = drawn.map(({ unit }) => ({
      SYMBOL: unit.symbol,
      SOIL: unit.soil,
      [`${crop.toUpperCase()}_BU`.slice(0, 10)]: Math.round(unit.rating_buPerAc),
    }));
    const keyed = drawn.map(({ unit }) => ({
      AREASYMBOL: 'IA999',
      MUSYM: unit.symbol,
      MUKEY: keyOf(unit.symbol),
    }));
    const bySymbol = drawn.map(({ unit }) => ({ AREASYMBOL: 'IA999', MUSYM: unit.symbol }));
    const table = (withKey: boolean) =>
      textFile(
        `musym${withKey ? ',mukey' : ''},muname,aws0100wta,${crop === 'corn' ? 'corn_yield_bu' : 'soybean_yield_bu'}\n${field.design.soils
          .map(
            (unit) =>
              `${unit.symbol}${withKey ? `,${keyOf(unit.symbol)}` : ''},"${unit.soil}, 0 to 2 percent slopes",${(2.54 * unit.water_in).toFixed(2)},${Math.round(unit.rating_buPerAc)}`,
          )
          .join('\n')}\n`,
        'soil ratings.csv',
      );
    const layer =
      soilFormat === 'rated' || soilFormat === 'zip'
        ? shapePolygons('soils', rings, rated, utm)
        : shapePolygons('soilmu', rings, soilFormat === 'keyed' ? keyed : bySymbol, DEGREES);
    const handed = soilFormat === 'zip' ? [writeZip('soils.zip', layer)] : layer;
    files.push(...handed);
    soils = handed[0].name;
    if (soilFormat === 'keyed' || soilFormat.startsWith('symbols'))
      files.push(table(soilFormat !== 'symbols'));
    if (soilFormat === 'symbols two tables')
      files.push({
        ...textFile('musym|farmndclass\n5B|Not prime\n9B|Prime\n16A|Prime\n27A|Prime\n'),
        name: 'class.txt',
      });
  }

  // Litter.
  const litter = wanted.litter ?? (Object.keys(LITTER) as Litter[]).filter(() => uniform() < 0.2);
  for (const kind of litter) files.push(...LITTER[kind]());

  return {
    title: [
      `seed ${seed}`,
      crop,
      `boundary ${nad27 ? 'nad27 shp' : noPrj ? 'shp without prj' : boundaryFormat}`,
      `log ${log} ${bare ? 'bare ' : ''}${from} ${unitsName} ${language} ${style}`,
      `soils ${soilFormat}`,
      mistake,
      `delay ${delay_s}`,
      litter.join('+'),
    ].join(' · '),
    files,
    args: ['--crop', crop, '--season', '2027'],
    field,
    boundary: boundaryFiles[0].name,
    record: farm ? at + 1 : null,
    logs,
    soils,
    elsewhere,
    say,
  };
}

function inFolder(folder: string, { name, bytes }: FileBytes): FileBytes {
  return { name: `${folder}/${name}`, bytes };
}
