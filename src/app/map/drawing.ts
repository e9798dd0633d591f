import type { Region } from '../../engine/geometry/ring.ts';
import type { Results } from '../../run/results.ts';
import type { Fineness, Picture } from './picture/canvas.ts';

export interface RampKey {
  readonly kind: 'ramp';
  readonly title: string;
  /** Colours from low to high, evenly spaced. */
  readonly colours: readonly string[];
  /** Low, middle and high, as shown. */
  readonly ticks: readonly string[];
  readonly classes: readonly ClassKey[];
  readonly note: string;
}

export interface ClassesKey {
  readonly kind: 'classes';
  readonly title: string;
  readonly classes: readonly ClassKey[];
  readonly note: string;
}

/** One class of a legend; `hatch` as in `picture/hatch.ts`. */
export interface ClassKey {
  readonly label: string;
  readonly detail: string;
  readonly colour: string;
  readonly hatch: number;
  /** Path of a mark shown in place of the colour, as in `layers/set-aside-marks.ts`. */
  readonly mark?: string;
}

export type Key = RampKey | ClassesKey;

export interface MapLabel {
  readonly cell: number;
  readonly title: string;
  readonly detail: string;
}

/** Everything the map shows of one layer. */
export interface Drawing {
  readonly key: Key;
  readonly picture: Picture | null;
  /** Lines between cells of different label, or about regions. */
  readonly divisions: { readonly between: ArrayLike<number> } | { readonly about: readonly Region[] } | null;
  readonly labels: readonly MapLabel[];
}

export interface DrawOptions {
  readonly night: boolean;
  readonly fineness: Fineness;
  /** Which yield map. */
  readonly year: string | null;
  /** Yield as single points with what was set aside, not as cells. */
  readonly points: boolean;
  /** Only points set aside for this reason. */
  readonly reason: string | null;
  /** Which of the other layers. */
  readonly other: string | null;
}

/** A layer the map can show: `draw` answers null when the run has nothing of it. */
export interface ShownLayer {
  readonly id:
    | 'soils'
    | 'yield'
    | 'other'
    | 'environment'
    | 'error'
    | 'spread'
    | 'zones'
    | 'product'
    | 'rate';
  readonly name: string;
  /** Whether the run has anything of it. */
  isIn(results: Results): boolean;
  draw(results: Results, options: DrawOptions): Drawing | null;
}
