import type { StopId } from '../../run/say.ts';
import type { LayerId } from '../map/layers/shown.ts';

/** What is looked at: stop, layer, spot. None of it is part of the plan. */
export function createSelection() {
  let stop = $state<StopId>('rates');
  let layer = $state<LayerId>('rate');
  let year = $state<string | null>(null);
  let points = $state(false);
  let cell = $state<number | null>(null);

  return {
    get stop() {
      return stop;
    },
    /** Go to a stop and show the layer it is about. */
    goTo(next: StopId, shows: LayerId) {
      stop = next;
      layer = shows;
      cell = null;
    },
    get layer() {
      return layer;
    },
    set layer(next: LayerId) {
      layer = next;
    },
    get year() {
      return year;
    },
    set year(next: string | null) {
      year = next;
    },
    get points() {
      return points;
    },
    set points(next: boolean) {
      points = next;
    },
    /** The picked cell of the grid, or none. */
    get cell() {
      return cell;
    },
    set cell(next: number | null) {
      cell = next;
    },
  };
}

export type Selection = ReturnType<typeof createSelection>;
