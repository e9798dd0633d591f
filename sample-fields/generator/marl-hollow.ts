import type { FieldDesign, Outline } from './design.ts';
import { MARL_HOLLOW_HARVESTS } from './marl-hollow-harvests.ts';
import { smoothed } from './outline.ts';
import { contourUnit } from './soils.ts';

const OUTLINE: Outline = [
  [-352, -485],
  [20, -491],
  [205, -478],
  [362, -452],
  [367, -120],
  [360, 226],
  [72, 222],
  [66, 492],
  [-200, 497],
  [-358, 488],
  [-367, 120],
];

/** The creek with its trees. */
const CREEK: Outline = [
  [-80, -30],
  [-35, -24],
  [15, -40],
  [60, -62],
  [105, -90],
  [150, -132],
  [195, -161],
  [245, -168],
  [252, -194],
  [222, -214],
  [178, -208],
  [130, -180],
  [88, -146],
  [45, -116],
  [0, -96],
  [-45, -80],
  [-88, -66],
  [-102, -46],
];

/** Low ground west of the creek where water stands in a wet year. */
const SLOUGH: Outline = [
  [-312, -84],
  [-262, -62],
  [-205, -70],
  [-184, -104],
  [-214, -142],
  [-270, -150],
  [-318, -126],
];

/** About 150 acres of corn: two hills, a shoulder between, and rich ground along a creek. All invented. */
export const marlHollow: FieldDesign = {
  folder: 'marl-hollow',
  name: 'Marl Hollow (invented)',
  boundaryAs: 'geojson',
  soilsAs: 'shapefile',
  crop: 'corn',
  centre: { lon0: -97.21, lat0: 41.73 },
  heading_deg: 12,
  parts: [{ outer: OUTLINE, holes: [smoothed(CREEK, 2)] }],
  ground: {
    base_buPerAc: 200,
    swells: [
      { at: [-185, 300], radius_m: [210, 125], turn_deg: 24, height: -62 },
      { at: [190, -395], radius_m: [230, 115], turn_deg: -14, height: -56 },
      { at: [265, 130], radius_m: [130, 85], turn_deg: 60, height: -40 },
      { at: [-235, -330], radius_m: [170, 120], turn_deg: 10, height: 13 },
      { at: [-10, 420], radius_m: [120, 160], turn_deg: 0, height: 10 },
      { at: [-250, -106], radius_m: [62, 40], turn_deg: -8, height: -14 },
    ],
    valleys: [
      {
        path: [
          [-460, -30],
          [-250, -106],
          [-90, -52],
          [50, -92],
          [150, -165],
          [240, -190],
          [460, -260],
        ],
        width_m: 115,
        height: 36,
      },
      {
        path: [
          [50, -92],
          [80, 60],
          [60, 200],
          [110, 420],
        ],
        width_m: 75,
        height: 20,
      },
    ],
    texture: { seed: 41, sd: 4.5, shortest_m: 80, longest_m: 260 },
  },
  soils: [
    contourUnit('3D', 'Cobbard gravelly loam', 145, 5.1, 9, -Infinity),
    contourUnit('7C', 'Thornlede loam', 165, 7.4, 6, 158),
    contourUnit('12B', 'Quillstow silt loam', 185, 9.6, 3, 178),
    contourUnit('21A', 'Fenwhistle silt loam', 205, 11.2, 1, 196),
    contourUnit('30A', 'Oxmarl silty clay loam', 225, 12.3, 0.5, 214),
    {
      symbol: '34',
      soil: 'Dabslough silty clay',
      rating_buPerAc: 190,
      water_in: 9,
      slope_pct: 0,
      where: { spot: SLOUGH },
    },
  ],
  harvests: MARL_HOLLOW_HARVESTS,
  truthClasses: [0, 165, 190, 210],
  plan: (sources) => ({
    document: 'eachacre-plan',
    version: 1,
    name: 'Marl Hollow',
    season: 2027,
    crop: 'corn',
    sources,
    field: { boundary: 'boundary', heading_deg: 12 },
    evidence: {
      soils: { source: 'soils', label: 'SOIL', column: 'CORN_BU', meaning: 'yield' },
      yields: [
        { source: 'yield-2022', column: 'dry yield bu/ac', unit: 'bu/ac', year: 2022, crop: 'corn' },
        { source: 'yield-2023', column: 'yield_dry_t_ha', unit: 't/ha', year: 2023, crop: 'corn' },
        { source: 'yield-2024', column: 'YIELD_BU', unit: 'bu/ac', year: 2024, crop: 'corn' },
      ],
    },
    zones: { count: 4, names: ['Hilltop', 'Shoulder', 'Flat', 'Bottom'] },
    lineup: { source: 'lineup' },
    money: { grainPrice_perBu: 4.2 },
    rates: { emergence: 0.94, hoppers: 2 },
    handoff: { name: 'MARL27' },
  }),
};
