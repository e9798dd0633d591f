/** What is known of a piece of ground, as placement rules ask for it. */
export interface GroundFacts {
  /** Name of the zone. */
  readonly zone: string;
  /** Yield environment, bu/ac; NaN where nothing tells. */
  readonly environment_buPerAc: number;
  /** Layers and columns of numbers of the soil map. Of two of one name the first that is known well enough speaks. */
  readonly figures: readonly GroundFigure[];
  /** What soils it is made of; shares not listed are not mapped. */
  readonly soils: readonly GroundSoil[];
}

export interface GroundFigure {
  readonly name: string;
  readonly unit: string;
  /** By area over the ground where it is known; NaN where it is known nowhere. */
  readonly mean: number;
  /** Share of the ground where it is known, 0–1. */
  readonly knownShare: number;
}

/** One soil of the ground. */
export interface GroundSoil {
  /** Name of the map unit; null where the map does not tell. */
  readonly name: string | null;
  /** Share of the ground, 0–1. */
  readonly share: number;
  /** Its words by column of the soil map. */
  readonly words: ReadonlyMap<string, string>;
}

/** Whether two names of layers, soils, columns or zones mean the same: case, and blanks, `_` and `-` between words, do not count. */
export function sameName(a: string, b: string): boolean {
  return plain(a) === plain(b);
}

function plain(name: string): string {
  return name
    .normalize('NFC')
    .toLowerCase()
    .replace(/[\s_-]+/gu, ' ')
    .trim();
}
