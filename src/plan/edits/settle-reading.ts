import { YIELD_UNITS } from '../../engine/harvest/yield-unit.ts';
import { LOG_ROLES } from '../evidence-schema.ts';
import type { Plan } from '../schema.ts';
import { yieldId } from '../yield-id.ts';
import { done, type Edited, refused } from './edit.ts';

type YieldPlan = Plan['evidence']['yields'][number];

/** Settle an open reading of a yield map by the value of one of its options; it is then no question any more. */
export function settleReading(plan: Plan, id: string, about: string, value: string): Edited {
  const map = plan.evidence.yields.find((own) => yieldId(own) === id);
  if (!map) return refused('There is no such yield map.');
  const settled = settledBy(map, about, value);
  if (!settled) return refused('That is no answer to this question.');
  const open = map.open.filter((own) => own !== about);
  const yields = plan.evidence.yields.map((own) => (own === map ? { ...map, ...settled, open } : own));
  return done({ ...plan, evidence: { ...plan.evidence, yields } });
}

function settledBy(map: YieldPlan, about: string, value: string): Partial<YieldPlan> | null {
  if (about === 'yield column') return { column: value };
  if (about === 'yield unit') {
    const unit = YIELD_UNITS.find((own) => own === value);
    return unit ? { unit } : null;
  }
  if (about === 'crop') return { crop: value };
  if (about === 'moisture basis') return value === 'dry' || value === 'wet' ? { moisture: value } : null;
  if (about === 'bushel weight') return Number(value) > 0 ? { bushel_lb: Number(value) } : null;
  const role = LOG_ROLES.find((own) => about === `${own} column` || about === `${own} unit`);
  if (!role) return null;
  const before = map.columns[role];
  const column = about.endsWith(' column')
    ? { column: value, unit: 'unknown' }
    : before && { ...before, unit: value };
  return column ? { columns: { ...map.columns, [role]: column } } : null;
}
