/** A piece of ground to be planted alike. */
export interface Ground {
  readonly environment_buPerAc: number;
  readonly area_ac: number;
}

/** How sure the ground is, as standard deviations, bu/ac: what the field as a whole is expected to yield, and by how much each zone departs from that. */
export interface GroundDoubt {
  readonly levelSd_buPerAc: number;
  readonly zoneSd_buPerAc: readonly number[];
}
