import type { MoistureBasis } from '../../engine/harvest/moisture-basis.ts';
import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import { bushelAndBase } from '../../engine/harvest/yield-unit.ts';
import type { Issue } from '../../engine/issue.ts';
import type { RowCrops } from './crops-of-rows.ts';
import type { TrialColumns } from './trial-columns.ts';
import { trialIssue } from './trial-issue.ts';
import type { TrialOptions } from './trial-options.ts';
import type { TrialQuestion } from './trial-role.ts';
import { basisNamed } from './trial-words.ts';

export interface TableBasis {
  readonly basis: MoistureBasis | 'dry matter';
  readonly issues: readonly Issue[];
  readonly questions: readonly TrialQuestion[];
}

/** Wet, dry or without any water, as stated or as the yield's name says; `unknown` yields are taken as they are. */
export function basisOfTable(
  columns: TrialColumns,
  crops: RowCrops,
  options: TrialOptions,
  file: string,
): TableBasis {
  const name = columns.yield?.column.name ?? '';
  const basis = options.basis ?? basisNamed(name) ?? 'unknown';
  const where = `${file} › ${name}`;
  const bases = crops.crops.map((crop) => {
    const base = bushelAndBase(crop)?.baseMoisture_pct;
    return base === undefined ? `${crop}, whose base is not known here` : `${crop} at ${base} %`;
  });
  const expected = `yields dry at the moisture they are sold at: ${bases.join(', ')}`;
  if (basis === 'dry matter' || (basis === 'wet' && columns.moisture)) {
    const from = basis === 'wet' ? `wet yields and their moisture` : 'yields of dry matter';
    const effect =
      'They are brought to that moisture by the water alone; a crop without a base stays as it is';
    return {
      basis,
      questions: [],
      issues: [trialIssue('note', 'trial-to-base', where, from, expected, effect, 'Nothing to do')],
    };
  }
  if (basis === 'wet') {
    const effect = 'They are taken as they are';
    return {
      basis: 'unknown',
      questions: [],
      issues: [
        trialIssue(
          'warning',
          'trial-wet',
          where,
          'wet yields, but no moisture',
          expected,
          effect,
          'Add a column of moistures',
        ),
      ],
    };
  }
  if (basis === 'unknown' && columns.moisture && !columns.basis) {
    const effect = 'They are taken as dry';
    const wet = options.basis === undefined ? wetToo(columns, crops) : null;
    if (wet) return { basis, issues: [], questions: [basisQuestion(name, wet)] };
    return {
      basis,
      questions: [],
      issues: [
        trialIssue(
          'note',
          'trial-basis',
          where,
          'moistures, but no word whether yields are wet or dry',
          expected,
          effect,
          'State that they are wet if so',
        ),
      ],
    };
  }
  return { basis, issues: [], questions: [] };
}

/** Moistures so far over the base, %, that it matters whether yields were weighed at them. Our own choice. */
const MATTERS_PCT = 1;

/** The moistures between which most grain was harvested, where some is well over the base its crop is sold at; null where it hardly matters. */
function wetToo({ moisture }: TrialColumns, { crops }: RowCrops): readonly [number, number] | null {
  if (moisture?.column.kind !== 'number') return null;
  const { p5, p95 } = figuresOf(moisture.column.values);
  const scale = p95 <= 1 ? 100 : 1;
  const over = crops.some((crop) => {
    const base = bushelAndBase(crop)?.baseMoisture_pct;
    return base !== undefined && p95 * scale > base + MATTERS_PCT;
  });
  return over ? [Math.round(p5 * scale), Math.round(p95 * scale)] : null;
}

function basisQuestion(column: string, [low, high]: readonly [number, number]): TrialQuestion {
  return {
    about: 'moisture basis',
    column,
    options: [
      { value: 'dry', because: 'yields of trials are told dry as a rule' },
      {
        value: 'wet',
        because: `moistures of ${low === high ? low : `${low} to ${high}`} % stand beside them, and no word says dry`,
      },
    ],
    proposed: 0,
  };
}
