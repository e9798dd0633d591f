import type { Source, SourceLedger } from '../../engine/layers/source.ts';
import type { Plan } from '../../plan/schema.ts';
import type { SourceAccount } from '../results.ts';
import type { Inputs } from '../run.ts';
import type { LaidField } from './lay-field.ts';
import type { ReadLayer } from './read-layer.ts';
import type { ReadSoils } from './read-soils.ts';
import type { ReadYield } from './read-yield.ts';
import type { UsableLineup } from './usable-lineup.ts';

interface Found {
  readonly field: LaidField | null;
  readonly soils: ReadSoils | null;
  readonly yields: readonly ReadYield[];
  readonly layers: readonly ReadLayer[];
  readonly usable: UsableLineup | null;
}

/** The account of every file of the plan: what its reader set aside and what the stage that used it set aside after. */
export function accountSources(plan: Plan, inputs: Inputs, found: Found): SourceAccount[] {
  return plan.sources.map(({ id, file }) => {
    const source = inputs.sources.get(id);
    if (id === plan.lineup?.source) {
      const read = inputs.lineup?.products.length ?? 0;
      const ledger = close({ read, used: read, repaired: 0, setAside: {} }, found.usable?.setAside ?? {});
      return { id, file, format: 'lineup', role: 'lineup', ...ledger };
    }
    if (!source)
      return { id, file, format: 'not read', role: 'not used', read: 0, used: 0, repaired: 0, setAside: {} };
    const { role, setAside } = roleOf(id);
    return { id, file, format: source.format, role, ...close(source.ledger, setAside) };
  });

  function roleOf(id: string): { role: SourceAccount['role']; setAside: Readonly<Record<string, number>> } {
    if (id === plan.field.boundary) {
      const read = inputs.sources.get(id)?.ledger.used ?? 0;
      const notChosen = found.field && plan.field.records ? read - found.field.recordsUsed : 0;
      return { role: 'boundary', setAside: notChosen > 0 ? { 'not-chosen': notChosen } : {} };
    }
    if (id === plan.evidence.soils?.source) return { role: 'soils', setAside: found.soils?.setAside ?? {} };
    const step = plan.evidence.soils?.join.findIndex((own) => own.source === id) ?? -1;
    if (step >= 0) return { role: 'soil table', setAside: found.soils?.tableSetAside[step] ?? {} };
    const maps = found.yields.filter((own) => own.source === id);
    if (maps.length > 0 || plan.evidence.yields.some((map) => map.source === id && map.use)) {
      const source = inputs.sources.get(id);
      return { role: 'yield', setAside: source && maps.length > 0 ? setAsideByAll(source, maps) : {} };
    }
    if (found.layers.some((own) => own.source === id)) return { role: 'layer', setAside: {} };
    return { role: 'not used', setAside: {} };
  }
}

/** A record of a harvest the plan does not use. */
const NOT_CHOSEN = 'another-harvest';

/** Records no yield map of the file uses, by the reason of the first that holds them; rows without a position stand in the reader's own account already. */
function setAsideByAll(source: Source, maps: readonly ReadYield[]): Record<string, number> {
  const reasons = new Array<string>(source.records).fill(NOT_CHOSEN);
  for (const { points, rows } of maps) {
    for (const [k, state] of points.state.entries()) {
      const row = rows ? rows[k] : k;
      if (state === 0) reasons[row] = '';
      else if (reasons[row] === NOT_CHOSEN) reasons[row] = points.reasons[state - 1];
    }
  }
  const counts: Record<string, number> = {};
  for (const [row, reason] of reasons.entries()) {
    if (reason === '' || Number.isNaN(source.x[row])) continue;
    counts[reason] = (counts[reason] ?? 0) + 1;
  }
  return counts;
}

/** Take what a stage set aside off the used records (then off the repaired), so that the account still closes. */
function close(ledger: SourceLedger, more: Readonly<Record<string, number>>): SourceLedger {
  const setAside: Record<string, number> = { ...ledger.setAside };
  for (const [reason, n] of Object.entries(more)) setAside[reason] = (setAside[reason] ?? 0) + n;
  const kept = ledger.read - Object.values(setAside).reduce((sum, n) => sum + n, 0);
  const repaired = Math.min(ledger.repaired, kept);
  return { read: ledger.read, used: kept - repaired, repaired, setAside };
}
