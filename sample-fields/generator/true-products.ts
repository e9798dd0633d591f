/** A product as it truly is; the lineup knows it only through trials. Stands in 1000 plants/ac. */
export interface TrueProduct {
  readonly id: string;
  readonly name: string;
  readonly crop: 'corn' | 'soybean';
  readonly maturity: string;
  readonly pricePerUnit: number;
  /** Yield at the best stand where the environment is the crop's reference, bu/ac. */
  readonly yield_buPerAc: number;
  readonly yieldPerEnvironment: number;
  readonly optimum_k: number;
  /** Change of the best stand per bu/ac of environment, 1000 plants/ac. */
  readonly optimumPerEnvironment_k: number;
  /** bu/ac lost per squared 1000 plants/ac. */
  readonly curvature: number;
  /** Sites it was tried at. */
  readonly sites: number;
  /** First season in trials, where it came later than the others. */
  readonly firstYear?: number;
}

/** What is common to a crop: its unit of seed, and how its trials are laid out. */
export const CROPS = {
  corn: {
    seedsPerUnit: 80_000,
    reference_buPerAc: 200,
    environments: [115, 262],
    stands_k: [22, 27, 32, 37, 42],
    emergence: 0.94,
    /** Spread of a product at a site around its curve, and of a plot, bu/ac. */
    siteSd: 3,
    plotSd: 6,
  },
  soybean: {
    seedsPerUnit: 140_000,
    reference_buPerAc: 58,
    environments: [36, 78],
    stands_k: [60, 90, 120, 150, 180],
    emergence: 0.85,
    siteSd: 0.8,
    plotSd: 2.2,
  },
} as const;

/**
 * Invented, within what is published: corn's best stand of 30,000 to 36,000 rises by some 30 plants per bu/ac (Bullock
 * et al. 1998), and of a quadratic as broad as Nafziger's (1994) planting table; soybean's best stand falls as
 * the ground gets better (Carciochi et al. 2019).
 */
export const TRUE_PRODUCTS: readonly TrueProduct[] = [
  corn('sora-105', 'Sora 105', '105', 236, 194, 0.95, 30.6, 0.02, 0.158, 10),
  corn('dunlin-106', 'Dunlin 106', '106', 248, 196.5, 0.98, 33.2, 0.03, 0.146, 9),
  corn('plover-108', 'Plover 108', '108', 264, 199, 0.92, 31.8, 0.022, 0.162, 12),
  corn('curlew-109', 'Curlew 109', '109', 284, 202, 1, 33.6, 0.03, 0.15, 12),
  corn('dowitcher-110', 'Dowitcher 110', '110', 296, 203, 1.03, 34.4, 0.034, 0.138, 8),
  corn('godwit-111', 'Godwit 111', '111', 306, 203.5, 1.05, 35.2, 0.04, 0.132, 7),
  corn('bittern-112', 'Bittern 112', '112', 318, 208.5, 1.08, 35.8, 0.036, 0.144, 12),
  { ...corn('whimbrel-113', 'Whimbrel 113', '113', 278, 200, 1.06, 34.2, 0.028, 0.152, 2), firstYear: 2026 },
  soybean('wren-24', 'Wren 24', '2.4', 54, 57.4, 0.9, 121, -0.7, 0.00105, 10),
  soybean('dickcissel-25', 'Dickcissel 25', '2.5', 49, 56.3, 0.96, 126, -1, 0.00092, 8),
  soybean('whinchat-26', 'Whinchat 26', '2.6', 58, 57.7, 1, 118, -1.1, 0.00118, 12),
  soybean('bobolink-27', 'Bobolink 27', '2.7', 62, 57.9, 1.03, 122, -1.4, 0.00098, 9),
  soybean('pipit-28', 'Pipit 28', '2.8', 69, 58.9, 1.08, 116, -1.2, 0.0011, 11),
  soybean('reedling-29', 'Reedling 29', '2.9', 60, 57.2, 1.05, 128, -0.9, 0.00086, 6),
];

function corn(...[id, name, maturity, ...figures]: Row): TrueProduct {
  return product('corn', id, name, maturity, figures);
}

function soybean(...[id, name, maturity, ...figures]: Row): TrueProduct {
  return product('soybean', id, name, maturity, figures);
}

type Figures = [
  price: number,
  yieldAt: number,
  yieldPer: number,
  optimum: number,
  optimumPer: number,
  curvature: number,
  sites: number,
];
type Row = [id: string, name: string, maturity: string, ...Figures];

function product(
  crop: TrueProduct['crop'],
  id: string,
  name: string,
  maturity: string,
  [
    pricePerUnit,
    yield_buPerAc,
    yieldPerEnvironment,
    optimum_k,
    optimumPerEnvironment_k,
    curvature,
    sites,
  ]: Figures,
): TrueProduct {
  return {
    id,
    name,
    crop,
    maturity,
    pricePerUnit,
    yield_buPerAc,
    yieldPerEnvironment,
    optimum_k,
    optimumPerEnvironment_k,
    curvature,
    sites,
  };
}
