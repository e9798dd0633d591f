import type { FieldDesign, Outline } from './design.ts';
import { smoothed } from './outline.ts';
import { contourUnit } from './soils.ts';

const WEST: Outline = [
  [-296, -302],
  [-62, -310],
  [-14, -60],
  [50, 292],
  [-150, 300],
  [-288, 296],
];

/** Beyond the ditch. */
const EAST: Outline = [
  [-46, -310],
  [288, -296],
  [296, 96],
  [204, 286],
  [66, 292],
  [2, -60],
];

const POND: Outline = [
  [118, -62],
  [160, -44],
  [206, -52],
  [226, -88],
  [204, -126],
  [160, -134],
  [122, -112],
];

/** About 80 acres of soybean in two parts, either side of a ditch, with a pond. All invented. */
export const heronFlat: FieldDesign = {
  folder: 'heron-flat',
  name: 'Heron Flat (invented)',
  boundaryAs: 'utm-shapefile',
  soilsAs: 'geojson',
  crop: 'soybean',
  centre: { lon0: -93.87, lat0: 42.36 },
  heading_deg: 0,
  parts: [
    { outer: WEST, holes: [] },
    { outer: EAST, holes: [smoothed(POND, 2)] },
  ],
  ground: {
    base_buPerAc: 58,
    swells: [
      { at: [-170, 150], radius_m: [150, 90], turn_deg: 35, height: -14 },
      { at: [205, 130], radius_m: [110, 75], turn_deg: -40, height: -11 },
      { at: [-215, -220], radius_m: [120, 90], turn_deg: 0, height: -6 },
      { at: [60, -230], radius_m: [170, 80], turn_deg: 8, height: 4 },
    ],
    valleys: [
      {
        path: [
          [-400, -40],
          [-160, -70],
          [-10, -40],
          [165, -90],
          [400, -60],
        ],
        width_m: 95,
        height: 9,
      },
    ],
    texture: { seed: 80, sd: 1.4, shortest_m: 80, longest_m: 260 },
  },
  soils: [
    contourUnit('5B', 'Sandpiece loamy sand', 44, 4.2, 3, -Infinity),
    contourUnit('9B', 'Larkinsby sandy loam', 51, 6.8, 2, 49.5),
    contourUnit('16A', 'Merrowick loam', 58, 9.9, 1, 55.5),
    contourUnit('27A', 'Heronlea silty clay loam', 65, 11.8, 0.5, 61.5),
  ],
  harvests: [
    {
      year: 2022,
      season: {
        shift: -4,
        stretch: 1.2,
        texture: { seed: 822, sd: 1.2, shortest_m: 120, longest_m: 380 },
        drowned: [],
      },
      machine: { header_ft: 35, speed_mph: 4.4, delay_s: 11, smear_s: 2, offset: 0.6, moisture_pct: 11.6 },
      log: {
        interval_s: 1,
        columns: [
          ['time', 'time_s', 0],
          ['lat', 'lat', 6],
          ['lon', 'lon', 6],
          ['pass', 'pass', 0],
          ['travel deg', 'heading_deg', 0],
          ['speed mph', 'speed_mph', 1],
          ['distance in', 'distance_in', 0],
          ['swath in', 'swath_in', 0],
          ['moisture %', 'moisture_pct', 1],
          ['flow lb/s', 'flow_lbPerS', 2],
          ['yield lb/ac', 'yield_lbPerAc', 0],
        ],
      },
    },
    {
      year: 2024,
      season: {
        shift: 4,
        stretch: 0.8,
        texture: { seed: 824, sd: 1.2, shortest_m: 120, longest_m: 380 },
        drowned: [{ at: [165, -90], radius_m: [85, 70], turn_deg: 0, height: -0.6 }],
      },
      machine: { header_ft: 35, speed_mph: 4.8, delay_s: 9, smear_s: 1.8, offset: 0.15, moisture_pct: 12.4 },
      log: {
        interval_s: 2,
        columns: [
          ['longitude', 'lon', 6],
          ['latitude', 'lat', 6],
          ['yield bu/ac', 'yield_buPerAc', 1],
          ['moisture %', 'moisture_pct', 1],
          ['flow lb/s', 'flow_lbPerS', 2],
          ['speed mph', 'speed_mph', 1],
          ['distance ft', 'distance_ft', 1],
          ['swath ft', 'swath_ft', 0],
          ['heading', 'heading_deg', 0],
          ['seconds', 'time_s', 0],
          ['pass', 'pass', 0],
          ['header down', 'header', 0],
        ],
      },
    },
  ],
  truthClasses: [0, 52, 60],
  plan: (sources) => ({
    document: 'eachacre-plan',
    version: 1,
    name: 'Heron Flat',
    season: 2027,
    crop: 'soybean',
    sources,
    field: { boundary: 'boundary', heading_deg: 0 },
    evidence: {
      soils: { source: 'soils', label: 'soil', column: 'soybean_bu', meaning: 'yield' },
      yields: [
        { source: 'yield-2022', column: 'yield lb/ac', unit: 'lb/ac', year: 2022, crop: 'soybean' },
        { source: 'yield-2024', column: 'yield bu/ac', unit: 'bu/ac', year: 2024, crop: 'soybean' },
      ],
    },
    zones: { count: 3, names: ['Sand rise', 'Bench', 'Swale'] },
    lineup: { source: 'lineup' },
    money: { grainPrice_perBu: 10.8 },
    rates: { emergence: 0.85, hoppers: 2 },
    handoff: { name: 'HERON27' },
  }),
};
