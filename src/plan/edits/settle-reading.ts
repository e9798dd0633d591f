import { LOG_ROLES, type Role } from '../../engine/harvest/recognise/role.ts';
import { ROLE_UNITS } from '../../engine/harvest/recognise/role-units.ts';
import { UP_IS_ONE } from '../../engine/harvest/recognise/score-state.ts';
import { YIELD_UNITS } from '../../engine/harvest/yield-unit.ts';
import type { Plan } from '../schema.ts';
import { yieldId } from '../yield-id.ts';
import { done, type Edited, refused } from './edit.ts';

type YieldPlan = Plan['evidence']['yields'][number];

/**
 * Settle an open reading of a yield map by the value of one of its options; it is then no question any more. `unit` is that of a column chosen: where it is not
 * known, it becomes a question.
 */
export function settleReading(
  plan: Plan,
  id: string,
  about: string,
  value: string,
  unit = 'unknown',
): Edited {
  const map = plan.evidence.yields.find((own) => yieldId(own) === id);
  if (!map) return refused('There is no such yield map.');
  const settled = settledBy(map, about, value.trim(), unit);
  if (!settled) return refused('That is no answer to this question.');
  const { asks = [], ...change } = settled;
  const open = [...new Set([...map.open.filter((own) => own !== about), ...asks])];
  const yields = plan.evidence.yields.map((own) => (own === map ? { ...map, ...change, open } : own));
  return done({ ...plan, evidence: { ...plan.evidence, yields } });
}

type Settled = Partial<YieldPlan> & { readonly asks?: readonly string[] };

function settledBy(map: YieldPlan, about: string, value: string, unit: string): Settled | null {
  if (value === '') return null;
  if (about === 'yield column') return yieldColumn(map, value, unit);
  if (about === 'yield unit') {
    const own = YIELD_UNITS.find((one) => one === value);
    return own ? { unit: own } : null;
  }
  if (about === 'crop') return { crop: value };
  if (about === 'moisture basis') return value === 'dry' || value === 'wet' ? { moisture: value } : null;
  if (about === 'bushel weight')
    return Number(value) >= 10 && Number(value) <= 100 ? { bushel_lb: Number(value) } : null;
  const role = LOG_ROLES.find((own) => about === `${own} column` || about === `${own} unit`);
  if (!role) return null;
  const units = ROLE_UNITS[role];
  const isUnit = (own: string) => own === 'unknown' || units?.some((one) => one.unit === own);
  if (about.endsWith(' column')) {
    const own = units && unit !== '' ? (isUnit(unit) ? unit : 'unknown') : stateUnit(role, unit);
    return {
      columns: { ...map.columns, [role]: { column: value, unit: own } },
      asks: own === 'unknown' ? [`${role} unit`] : [],
    };
  }
  const before = map.columns[role];
  return before && units && isUnit(value)
    ? { columns: { ...map.columns, [role]: { ...before, unit: value } } }
    : null;
}

/** A state has no unit to ask for, but may be counted the other way round. */
function stateUnit(role: Role, unit: string): string {
  return role === 'header' && unit === UP_IS_ONE.unit ? unit : '';
}

/** What was said of one column holds of no other. */
function yieldColumn(map: YieldPlan, column: string, unit: string): Settled {
  if (column === map.column) return { column };
  const own = YIELD_UNITS.find((one) => one === unit) ?? 'unknown';
  const asks = ['moisture basis', ...(own === 'unknown' ? ['yield unit'] : [])];
  return { column, unit: own, moisture: 'unknown', bushel_lb: null, asks };
}
