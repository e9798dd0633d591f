import { cropNamed } from '../../engine/harvest/recognise/recognise-crop.ts';
import { LOG_ROLES, type Role } from '../../engine/harvest/recognise/role.ts';
import { ROLE_UNITS } from '../../engine/harvest/recognise/role-units.ts';
import { UP_IS_ONE } from '../../engine/harvest/recognise/score-state.ts';
import { unitInWords } from '../../engine/harvest/recognise/unit-in-words.ts';
import { YIELD_UNITS } from '../../engine/harvest/yield-unit.ts';
import { sameCrop } from '../../engine/math/crop-name.ts';
import type { Plan } from '../schema.ts';
import { yieldId } from '../yield-id.ts';
import { done, type Edited, refused } from './edit.ts';

type YieldPlan = Plan['evidence']['yields'][number];

/**
 * Settle an open reading of a yield map by the value of one of its options; it is then no question any more. `unit` is that of a column chosen: where it is not
 * known, it becomes a question. `column` is that of a crop chosen among several in a file: only its records are taken.
 */
export function settleReading(
  plan: Plan,
  id: string,
  about: string,
  value: string,
  unit = 'unknown',
  column: string | null = null,
): Edited {
  const map = plan.evidence.yields.find((own) => yieldId(own) === id);
  if (!map) return refused('There is no such yield map.');
  const settled =
    about === 'crop'
      ? cropSettled(map, value.trim(), column, plan.crop)
      : settledBy(map, about, value.trim(), unit);
  if (!settled) return refused('That is no answer to this question.');
  const { asks = [], ...change } = settled;
  const others = plan.evidence.yields.filter((own) => own !== map).map((own) => yieldId(own).toLowerCase());
  if (others.includes(yieldId({ ...map, ...change }).toLowerCase()))
    return refused('There is a map of that harvest already.');
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

/** The crop, its records where the file holds several, and its unit asked anew where only the figures spoke for it: those of another crop may speak for another. */
function cropSettled(map: YieldPlan, value: string, column: string | null, planned: string): Settled | null {
  if (value === '') return null;
  const crop = column === null ? value : cropNamed(value, planned);
  // Records picked by another column, a year's as a rule, stay picked.
  const where =
    column === null || (map.where && map.where.column !== column) ? map.where : { column, equals: value };
  const unitSure =
    sameCrop(crop, map.crop ?? planned) || unitInWords('yield', map.column, undefined) !== null;
  if (unitSure || map.take === 'flow') return { crop, where };
  return { crop, where, unit: 'unknown', asks: crop === 'unknown' ? [] : ['yield unit'] };
}
