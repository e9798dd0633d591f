import type { Plan } from '../../plan/schema.ts';
import type { Results } from '../../run/results.ts';
import type { StopId } from '../../run/say.ts';
import type { LayerId } from '../map/layers/shown.ts';
import type { Appearance } from '../state/appearance.svelte.ts';
import type { Selection } from '../state/selection.svelte.ts';
import type { Work } from '../state/work.svelte.ts';

/** The stops of the work in order, each with the layer it is about. */
export const stops: readonly { readonly id: StopId; readonly name: string; readonly shows: LayerId }[] = [
  { id: 'field', name: 'Field', shows: 'soils' },
  { id: 'evidence', name: 'Evidence', shows: 'yield' },
  { id: 'zones', name: 'Zones', shows: 'zones' },
  { id: 'lineup', name: 'Lineup', shows: 'product' },
  { id: 'rates', name: 'Rates', shows: 'rate' },
  { id: 'review', name: 'Review', shows: 'rate' },
  { id: 'hand-off', name: 'Hand-off', shows: 'rate' },
];

/** What every stop's sheet is given. `results` may be of an earlier state of `plan` while a run is under way. */
export interface StopProps {
  readonly plan: Plan;
  readonly results: Results;
  readonly work: Work;
  readonly selection: Selection;
  readonly appearance: Appearance;
}
