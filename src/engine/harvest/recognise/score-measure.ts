import type { NumberColumn } from '../../layers/source.ts';
import { median } from '../../math/median.ts';
import type { Figures } from './figures.ts';
import { type Look, POINTS, type UnitReading } from './meaning.ts';
import { ratioOf } from './ratio.ts';
import type { Role } from './role.ts';
import { type Range, type RoleUnit, USUAL } from './role-units.ts';

/** Places and speeds agree within this share; GPS at a metre or two of spacing is no better. */
const AGREE = 0.12;

/** Points for the figures of a measured column (flow, distance, speed …) in a unit: their range, and whether they agree with how the machine moved. */
export function scoreMeasure(role: Role, column: NumberColumn, unit: RoleUnit, look: Look): UnitReading {
  const range = USUAL[role];
  const because: string[] = [];
  let score = 0;
  if (range) {
    const share = shareInside(look.sample.figures(column), unit.scale, range);
    score += POINTS.figures * share;
    if (share === 1) because.push(`figures usual in ${unit.unit}`);
    else
      because.push(
        share === 0 ? `figures not usual in ${unit.unit}` : `some figures not usual in ${unit.unit}`,
      );
  }
  const agrees = agreement(role, column, unit, look);
  if (agrees !== null) {
    // A clear contradiction counts as much as the gap that decides.
    score += agrees ? POINTS.agrees : -POINTS.ahead;
    because.push(`${agrees ? 'agrees' : 'does not agree'} with the places`);
  }
  return { unit, points: score, ...(agrees === null ? {} : { agrees }), because };
}

/** Mean over the 5th, 50th and 95th percentile: 1 in the inner range, a half in the outer. */
function shareInside({ p5, p50, p95 }: Figures, scale: number, [least, low, high, most]: Range): number {
  const usual = (own: number) =>
    own * scale >= low && own * scale <= high ? 1 : own * scale >= least && own * scale <= most ? 0.5 : 0;
  return (usual(p5) + usual(p50) + usual(p95)) / 3;
}

/** Whether the figures are those of how the machine moved from place to place; null where it cannot be told. */
function agreement(role: Role, column: NumberColumn, unit: RoleUnit, look: Look): boolean | null {
  const { spacing_m, bearing_deg } = look.movement;
  const next = look.sample.after(column);
  if (role === 'heading') {
    const off = bearing_deg.map((own, k) => Math.abs(((next[k] - own + 540) % 360) - 180));
    const middle = median(off);
    return Number.isNaN(middle) ? null : middle < 20 ? true : null;
  }
  const expected =
    role === 'distance'
      ? spacing_m
      : role === 'speed' && look.step_s > 0
        ? spacing_m.map((own) => own / look.step_s)
        : null;
  if (!expected) return null;
  const ratio = ratioOf(
    next.map((own) => own * unit.scale),
    expected,
  );
  if (Number.isNaN(ratio.median) || ratio.spread > 0.5) return null;
  return Math.abs(ratio.median - 1) <= AGREE ? true : ratio.median > 1.4 || ratio.median < 0.7 ? false : null;
}
