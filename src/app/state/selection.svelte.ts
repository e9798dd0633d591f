import type { StopId } from '../../run/say.ts';
import type { LayerId } from '../map/layers/shown.ts';

/** What is looked at: stop, layer, spot. None of it is part of the plan. */
export function createSelection() {
  let stop = $state<StopId>('rates');
  let handedOver = $state(false);
  let layer = $state<LayerId>('rate');
  let year = $state<string | null>(null);
  let opened = $state(false);
  let points = $state(false);
  let reason = $state<string | null>(null);
  let glance = $state<string | null>(null);
  let other = $state<string | null>(null);
  let cell = $state<number | null>(null);
  let product = $state<string | null>(null);

  return {
    get stop() {
      return stop;
    },
    /** Go to a stop and show the layer it is about. */
    goTo(next: StopId, shows: LayerId) {
      stop = next;
      layer = shows;
      handedOver = false;
      opened = points = false;
      reason = glance = product = null;
      cell = null;
    },
    /** The sheet of what was handed over, in place of the stop's. */
    get handedOver() {
      return handedOver;
    },
    set handedOver(next: boolean) {
      handedOver = next;
    },
    get layer() {
      return layer;
    },
    set layer(next: LayerId) {
      layer = next;
    },
    /** The yield map looked at. */
    get year() {
      return year;
    },
    set year(next: string | null) {
      year = next;
      reason = glance = null;
    },
    /** Whether that yield map lies open, point by point and rule by rule. */
    get opened() {
      return opened;
    },
    open(id: string) {
      year = id;
      layer = 'yield';
      opened = points = true;
      reason = glance = null;
    },
    shut() {
      opened = points = false;
      reason = glance = null;
    },
    get points() {
      return points;
    },
    set points(next: boolean) {
      points = next;
    },
    /** The reason whose points alone are shown: one pointed at, else the one opened. */
    get reason() {
      return glance ?? reason;
    },
    /** The rule that lies open. */
    get rule() {
      return reason;
    },
    set rule(next: string | null) {
      reason = next;
    },
    set glance(next: string | null) {
      glance = next;
    },
    /** The other layer looked at. */
    get other() {
      return other;
    },
    set other(next: string | null) {
      other = next;
    },
    /** The picked cell of the grid, or none. */
    get cell() {
      return cell;
    },
    set cell(next: number | null) {
      cell = next;
    },
    /** The product whose card lies open, by its id. */
    get product() {
      return product;
    },
    set product(next: string | null) {
      product = next;
    },
    /** Nothing of the field before is looked at any more. */
    clear() {
      cell = year = other = reason = glance = product = null;
      opened = points = handedOver = false;
    },
  };
}

export type Selection = ReturnType<typeof createSelection>;
