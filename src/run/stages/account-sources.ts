import type { Source, SourceLedger } from '../../engine/layers/source.ts';
import type { Plan } from '../../plan/schema.ts';
import type { SourceAccount } from '../results.ts';
import type { Inputs } from '../run.ts';
import type { LaidField } from './lay-field.ts';
import { REASONS, type ReadLayer } from './read-layer.ts';
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
      const whole = { read, used: read, repaired: 0, setAside: {} };
      const ledger = close(whole, found.usable ? found.usable.setAside : notUsed(whole));
      return { id, file, format: 'lineup', role: 'lineup', ...ledger };
    }
    if (!source)
      return { id, file, format: 'not read', role: 'not used', read: 0, used: 0, repaired: 0, setAside: {} };
    const { role, setAside } = roleOf(id, source);
    return { id, file, format: source.format, role, ...close(source.ledger, setAside) };
  });

  /** What a stage refused, or what none was made of, has no record used. */
  function roleOf(
    id: string,
    source: Source,
  ): { role: SourceAccount['role']; setAside: Readonly<Record<string, number>> } {
    const none = notUsed(source.ledger);
    if (id === plan.field.boundary) {
      if (!found.field) return { role: 'boundary', setAside: none };
      const notChosen = plan.field.records ? source.ledger.used - found.field.recordsUsed : 0;
      return { role: 'boundary', setAside: notChosen > 0 ? { 'not-chosen': notChosen } : {} };
    }
    if (id === plan.evidence.soils?.source)
      return { role: 'soils', setAside: found.soils ? found.soils.setAside : none };
    const step = plan.evidence.soils?.join.findIndex((own) => own.source === id) ?? -1;
    if (step >= 0)
      return { role: 'soil table', setAside: found.soils ? found.soils.tableSetAside[step] : none };
    const maps = found.yields.filter((own) => own.source === id);
    if (maps.length > 0) {
      const judged = maps.map(({ rows, points: { state, reasons } }) => ({ rows, state, reasons }));
      return { role: 'yield', setAside: setAsideByAll(source, judged) };
    }
    if (plan.evidence.yields.some((map) => map.source === id && map.use))
      return { role: 'yield', setAside: none };
    const layers = found.layers.filter((own) => own.source === id);
    if (layers.length > 0) {
      const judged = layers.map(({ state }) => ({ rows: null, state, reasons: REASONS }));
      return { role: 'layer', setAside: setAsideByAll(source, judged) };
    }
    return { role: 'not used', setAside: none };
  }
}

function notUsed({ used, repaired }: SourceLedger): Record<string, number> {
  return used + repaired > 0 ? { 'not-used': used + repaired } : {};
}

/** A record of a harvest the plan does not use. */
const NOT_CHOSEN = 'another-harvest';

/** What one map made of records: state 0 used, else 1 + index into `reasons`; `rows` are those it looked at, null for all. */
interface Judged {
  readonly rows: Uint32Array | null;
  readonly state: Uint8Array;
  readonly reasons: readonly string[];
}

/** Records no map of the file uses, by the reason of the first that holds them; those without a place or any value stand in the reader's own account already. */
function setAsideByAll(source: Source, maps: readonly Judged[]): Record<string, number> {
  const whys = new Array<string>(source.records).fill(NOT_CHOSEN);
  for (const { rows, state, reasons } of maps) {
    for (let k = 0; k < state.length; k++) {
      const row = rows ? rows[k] : k;
      if (state[k] === 0) whys[row] = '';
      else if (whys[row] === NOT_CHOSEN) whys[row] = reasons[state[k] - 1];
    }
  }
  const counts: Record<string, number> = {};
  for (const [row, why] of whys.entries()) {
    if (why === '' || isUnread(source, row)) continue;
    counts[why] = (counts[why] ?? 0) + 1;
  }
  return counts;
}

function isUnread({ shape, x, rings, columns }: Source, row: number): boolean {
  if (shape === 'points') return Number.isNaN(x[row]);
  if (shape === 'polygons') return !rings[row]?.length;
  return columns.every((column) => column.kind === 'number' && Number.isNaN(column.values[row]));
}

/** Take what a stage set aside off the used records (then off the repaired), so that the account still closes. */
function close(ledger: SourceLedger, more: Readonly<Record<string, number>>): SourceLedger {
  const setAside: Record<string, number> = { ...ledger.setAside };
  for (const [reason, n] of Object.entries(more)) setAside[reason] = (setAside[reason] ?? 0) + n;
  const kept = ledger.read - Object.values(setAside).reduce((sum, n) => sum + n, 0);
  const repaired = Math.min(ledger.repaired, kept);
  return { read: ledger.read, used: kept - repaired, repaired, setAside };
}
