import { GRAIN, type YieldRecord } from '../../../sample-fields/generator/monitor.ts';

/** What a column of a log holds. */
export type Quantity =
  | 'lon'
  | 'lat'
  | 'dry'
  | 'wet'
  | 'flow'
  | 'moisture'
  | 'distance'
  | 'swath'
  | 'speed'
  | 'heading'
  | 'time'
  | 'pass'
  | 'header'
  | 'crop'
  | 'year';

/** A unit as it is written, and what one of the base (dry and wet lb/ac, lb/s, ft, mph, %) is in it. */
type Unit = readonly [text: string, scale: number];
export type UnitSet = Readonly<Partial<Record<Quantity, Unit>>>;

const KG = 0.45359237;
const HA = 0.40468564224;
/** Pounds an acre in bushels an acre go by the crop: 0 stands for that. */
const BUSHELS: Unit = ['bu/ac', 0];

export const UNIT_SETS = {
  'bu ft': {
    dry: BUSHELS,
    wet: BUSHELS,
    flow: ['lb/s', 1],
    distance: ['ft', 1],
    swath: ['ft', 1],
    speed: ['mph', 1],
    moisture: ['%', 1],
  },
  'lb in': {
    dry: ['lb/ac', 1],
    wet: ['lb/ac', 1],
    flow: ['lb/s', 1],
    distance: ['in', 12],
    swath: ['in', 12],
    speed: ['mph', 1],
    moisture: ['%', 1],
  },
  't m': {
    dry: ['t/ha', KG / HA / 1000],
    wet: ['t/ha', KG / HA / 1000],
    flow: ['kg/s', KG],
    distance: ['m', 0.3048],
    swath: ['m', 0.3048],
    speed: ['km/h', 1.609344],
    moisture: ['%', 1],
  },
  'kg m': {
    dry: ['kg/ha', KG / HA],
    wet: ['kg/ha', KG / HA],
    flow: ['kg/s', KG],
    distance: ['m', 0.3048],
    swath: ['m', 0.3048],
    speed: ['km/h', 1.609344],
    moisture: ['%', 1],
  },
  'q m': {
    dry: ['q/ha', KG / HA / 100],
    wet: ['q/ha', KG / HA / 100],
    flow: ['t/h', KG * 3.6],
    distance: ['m', 0.3048],
    swath: ['m', 0.3048],
    speed: ['km/h', 1.609344],
    moisture: ['fraction', 0.01],
  },
  'kg cm': {
    dry: ['kg/ha', KG / HA],
    wet: ['kg/ha', KG / HA],
    flow: ['kg/s', KG],
    distance: ['cm', 30.48],
    swath: ['cm', 30.48],
    speed: ['m/s', 0.44704],
    moisture: ['%', 1],
  },
} as const satisfies Record<string, UnitSet>;

/** What exports call things, by language. */
export const WORDS = {
  en: {
    lon: 'Longitude',
    lat: 'Latitude',
    dry: 'Dry yield',
    wet: 'Wet yield',
    flow: 'Grain flow',
    moisture: 'Moisture',
    distance: 'Distance',
    swath: 'Swath width',
    speed: 'Speed',
    heading: 'Heading',
    time: 'Time',
    pass: 'Pass',
    header: 'Header',
    crop: 'Crop',
    year: 'Year',
  },
  plain: {
    lon: 'x',
    lat: 'y',
    dry: 'Yield',
    wet: 'Yield wet',
    flow: 'Flow',
    moisture: 'Moist',
    distance: 'Dist',
    swath: 'Swath',
    speed: 'Spd',
    heading: 'Track',
    time: 'GPS time',
    pass: 'Pass num',
    header: 'Hdr',
    crop: 'Grain',
    year: 'Year',
  },
  es: {
    lon: 'Longitud',
    lat: 'Latitud',
    dry: 'Rendimiento seco',
    wet: 'Rendimiento húmedo',
    flow: 'Flujo de grano',
    moisture: 'Humedad',
    distance: 'Distancia',
    swath: 'Ancho de corte',
    speed: 'Velocidad',
    heading: 'Rumbo',
    time: 'Tiempo',
    pass: 'Pasada',
    header: 'Cabezal',
    crop: 'Cultivo',
    year: 'Año',
  },
  pt: {
    lon: 'Longitude',
    lat: 'Latitude',
    dry: 'Produtividade seca',
    wet: 'Produtividade úmida',
    flow: 'Fluxo de grãos',
    moisture: 'Umidade',
    distance: 'Distância',
    swath: 'Largura da plataforma',
    speed: 'Velocidade',
    heading: 'Direção',
    time: 'Tempo',
    pass: 'Passada',
    header: 'Plataforma',
    crop: 'Cultura',
    year: 'Ano',
  },
  fr: {
    lon: 'Longitude',
    lat: 'Latitude',
    dry: 'Rendement sec',
    wet: 'Rendement humide',
    flow: 'Débit',
    moisture: 'Humidité',
    distance: 'Distance',
    swath: 'Largeur',
    speed: 'Vitesse',
    heading: 'Cap',
    time: 'Heure',
    pass: 'Passage',
    header: 'Bec',
    crop: 'Culture',
    year: 'Année',
  },
  de: {
    lon: 'Längengrad',
    lat: 'Breitengrad',
    dry: 'Ertrag trocken',
    wet: 'Ertrag feucht',
    flow: 'Durchsatz',
    moisture: 'Kornfeuchte',
    distance: 'Strecke',
    swath: 'Arbeitsbreite',
    speed: 'Geschwindigkeit',
    heading: 'Fahrtrichtung',
    time: 'Zeit',
    pass: 'Spur',
    header: 'Schneidwerk',
    crop: 'Fruchtart',
    year: 'Jahr',
  },
  it: {
    lon: 'Longitudine',
    lat: 'Latitudine',
    dry: 'Resa secca',
    wet: 'Resa umida',
    flow: 'Flusso',
    moisture: 'Umidità',
    distance: 'Distanza',
    swath: 'Larghezza',
    speed: 'Velocità',
    heading: 'Direzione',
    time: 'Tempo',
    pass: 'Passata',
    header: 'Testata',
    crop: 'Coltura',
    year: 'Anno',
  },
} as const satisfies Record<string, Record<Quantity, string>>;
export type Language = keyof typeof WORDS;

export type UnitStyle = 'in brackets' | 'underscores' | 'none' | 'row below';

export interface LogColumn {
  readonly name: string;
  /** For a row of units below the names. */
  readonly unit: string;
  readonly decimals: number;
  readonly at: (record: YieldRecord, k: number) => number | string;
}

/** The columns of a log in the words and units of one program. */
export function logColumns(
  quantities: readonly Quantity[],
  { language, units, style }: { language: Language; units: UnitSet; style: UnitStyle },
  crop: 'corn' | 'soybean',
  interval_s: number,
  year: number,
): LogColumn[] {
  return quantities.map((quantity) => {
    const [text, scale] = units[quantity] ?? ['', 1];
    const word = WORDS[language][quantity];
    const name =
      text === '' || style === 'none' || style === 'row below'
        ? style === 'underscores'
          ? word.replaceAll(' ', '_')
          : word
        : style === 'underscores'
          ? `${word}_${text}`.replace(/%/, 'pct').replace(/[^\p{L}0-9]+/gu, '_')
          : `${word} (${text})`;
    const factor = scale === 0 ? 1 / GRAIN[crop].lbPerBu : scale;
    return {
      name,
      unit: text,
      decimals: DECIMALS[quantity] ?? 3,
      at: (record) => {
        const value = base(quantity, record, crop, interval_s, year);
        return typeof value === 'string' ? value : value * factor;
      },
    };
  });
}

const DECIMALS: Partial<Record<Quantity, number>> = {
  lon: 7,
  lat: 7,
  heading: 1,
  time: 0,
  pass: 0,
  header: 0,
  year: 0,
};

function base(
  quantity: Quantity,
  record: YieldRecord,
  crop: 'corn' | 'soybean',
  interval_s: number,
  year: number,
): number | string {
  const acres = (record.distance_ft * record.swath_ft) / 43560;
  const wet = acres < 1e-6 ? 0 : (record.flow_lbPerS * interval_s) / acres;
  switch (quantity) {
    case 'dry':
      return (wet * (100 - record.moisture_pct)) / (100 - GRAIN[crop].base_pct);
    case 'wet':
      return wet;
    case 'flow':
      return record.flow_lbPerS;
    case 'moisture':
      return record.moisture_pct;
    case 'distance':
      return record.distance_ft;
    case 'swath':
      return record.swath_ft;
    case 'speed':
      return record.speed_mph;
    case 'heading':
      return record.heading_deg;
    case 'time':
      return record.time_s;
    case 'pass':
      return record.pass;
    case 'header':
      return record.headerDown ? 1 : 0;
    case 'crop':
      return crop === 'corn' ? 'Corn' : 'Soybeans';
    case 'year':
      return year;
    default:
      return record[quantity];
  }
}
