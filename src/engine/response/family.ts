/** A form of the curve. */
export type FamilyId =
  | 'quadratic'
  | 'quadratic-plateau'
  | 'linear-plateau'
  | 'density-decay'
  | 'parabolic-reciprocal'
  | 'mitscherlich'
  | 'holliday'
  | 'line';

/**
 * One form of yield y (bu/ac) against stand p (1000 plants/ac), as three figures that mean something in the field:
 * `level` (bu/ac, the yield at the best stand, or what the curve climbs towards), `stand` (1000 plants/ac: the best stand, or another the family names) and
 * `bend` (the family's own; NaN where it has none). Level and stand may follow the ground, the bend does not.
 */
export interface Family {
  readonly id: FamilyId;
  readonly title: string;
  readonly source: string;
  /** What `stand` is, in words: `best stand`, `stand of half the level`. */
  readonly stand: string;
  /** What `bend` is, with its unit, in words; null where the family has none. */
  readonly bend: string | null;
  /**
   * How stand and bend enter. `less`: y = level − bend · unit(p, stand). `share`: y = level · unit(p, stand, bend). In both, level (and the bend of `less`)
   * are linear in the data, which is what a fit by variable projection needs.
   */
  readonly form: 'less' | 'share';
  /** Whether there is a stand of highest yield at all. */
  readonly hasOptimum: boolean;
  unit(p: number, stand: number, bend: number): number;
  /** Its derivative by p. At a joint, that of the side beyond it. */
  unitSlope(p: number, stand: number, bend: number): number;
  /** The stand of highest yield; Infinity where yield climbs for ever. */
  agronomicOptimum(level: number, stand: number, bend: number): number;
  /**
   * The stand (0 or more) where the last thousand plants just pay: beyond it the slope is under r, bu per 1000 plants, over zero; before it, back to where the curve is steepest, over it. 0 where it
   * is over r nowhere, Infinity where it always is. Closed form where there is one.
   */
  lastToPay(level: number, stand: number, bend: number, r: number): number;
  /** Why these figures have no stand of highest return between none and without end (it bends upwards, say); null where they have. */
  doubt(level: number, stand: number, bend: number): string | null;
}
