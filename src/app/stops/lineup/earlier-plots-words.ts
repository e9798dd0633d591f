import type { EarlierPlots } from '../../../jobs/earlier-plots.ts';
import { count } from '../../parts/figures.ts';

/** What staying or going means of the plots there were, beyond the words themselves; '' for nothing. */
export function earlierPlotsWords({ untried, otherCrops }: EarlierPlots, stay: boolean): string {
  const without = `${count(untried, 'product')} without a new plot`;
  const curves =
    untried === 1 ? 'its curve, with nothing behind it' : 'their curves, with nothing behind them';
  const said = [
    ...(untried === 0
      ? []
      : stay
        ? [`Were they to go, ${without} would keep ${curves}.`]
        : [`${without} ${untried === 1 ? 'keeps' : 'keep'} ${curves}.`]),
    ...(otherCrops.length === 0 ? [] : [`Plots of ${otherCrops.join(', ')} stay either way.`]),
  ];
  return said.join(' ');
}
