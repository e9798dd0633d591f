import type { Issue } from '../../engine/issue.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { decimalIn } from '../text/decimal.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute, childrenNamed } from '../xml/tree.ts';
import { type Entity, entityOf, scaleShown } from './entities.ts';
import { isoIssue, refuseIso } from './iso-refusal.ts';
import type { TaskData } from './task-data.ts';

/** One thing a treatment zone asks for (PDV). */
export interface ZoneValue {
  /** Number of the entity, four hexadecimal digits in upper case. */
  readonly ddi: string;
  readonly entity: Entity;
  /** In the entity's unit. */
  readonly value: number;
  readonly product: string | null;
}

/** A treatment zone of a task (TZN). */
export interface Zone {
  readonly code: number;
  readonly name: string;
  readonly values: readonly ZoneValue[];
  readonly polygons: readonly XmlElement[];
}

const INT32 = 2 ** 31;
const CODES = 'a whole number from 0 to 254';

/** The zones of a task. Codes that are no codes are set aside; a code that is there twice and a value that cannot be are refused. */
export function readZones(
  task: XmlElement,
  data: TaskData,
  where: string,
): { zones: Zone[]; issues: Issue[] } {
  const issues: Issue[] = [];
  const aside = newTally();
  const zones: Zone[] = [];
  const odd = new Map<string, Issue>();
  for (const element of childrenNamed(task, 'TZN')) {
    const code = decimalIn(attribute(element, 'A'));
    if (!Number.isInteger(code) || code < 0 || code > 254) {
      note(aside, `'${attribute(element, 'A').slice(0, 20)}' in line ${element.line}`);
      continue;
    }
    if (zones.some((zone) => zone.code === code)) {
      refuseIso('iso-zone-twice', `${where} › line ${element.line}`, `zone ${code} again`, 'every code once');
    }
    const values = childrenNamed(element, 'PDV').map((pdv) =>
      zoneValue(pdv, data, `${where} › zone ${code} › line ${pdv.line}`, odd),
    );
    zones.push({
      code,
      name: attribute(element, 'B'),
      values,
      polygons: childrenNamed(element, 'PLN'),
    });
  }
  if (aside.count > 0) {
    issues.push(
      isoIssue(
        'iso-zone-code',
        'warning',
        where,
        tallyText(aside, 'zone codes'),
        CODES,
        'These zones are set aside',
      ),
    );
  }
  return { zones, issues: [...issues, ...odd.values()] };
}

function zoneValue(pdv: XmlElement, data: TaskData, where: string, odd: Map<string, Issue>): ZoneValue {
  const ddi = attribute(pdv, 'A').toUpperCase();
  if (!/^[0-9A-F]{4}$/.test(ddi)) {
    refuseIso(
      'iso-ddi',
      where,
      `entity '${attribute(pdv, 'A').slice(0, 20)}'`,
      'four hexadecimal digits, such as 000B',
    );
  }
  const known = entityOf(Number.parseInt(ddi, 16));
  if (!known && !odd.has(ddi)) odd.set(ddi, unknownEntity(where, ddi));
  const entity = known ?? { label: `entity ${ddi} as in the file`, unit: '', scale: 1, negative: true };
  const raw = decimalIn(attribute(pdv, 'B'));
  if (!Number.isInteger(raw) || raw < (entity.negative ? -INT32 : 0) || raw >= INT32) {
    const range = `a whole number from ${entity.negative ? -INT32 : 0} to ${INT32 - 1}`;
    refuseIso('iso-value-range', where, `value '${attribute(pdv, 'B').slice(0, 30)}'`, range);
  }
  const presentation = data.find(attribute(pdv, 'E'), where);
  if (known && presentation) {
    const disagreement = disagrees(known, presentation, where);
    const key = `${ddi} ${attribute(presentation, 'A')}`;
    if (disagreement && !odd.has(key)) odd.set(key, disagreement);
  }
  const id = attribute(pdv, 'C');
  const product = data.find(id, where);
  return {
    ddi,
    entity,
    value: raw * entity.scale,
    product: product ? attribute(product, 'B') || id : id || null,
  };
}

function unknownEntity(where: string, ddi: string): Issue {
  return isoIssue(
    'iso-ddi-unknown',
    'warning',
    where,
    `entity ${ddi}`,
    'an entity known here',
    'Its figures are given as in the file, without a unit',
    'Look up its unit before using them',
  );
}

/** A presentation that multiplies by what its unit does not mean: one of the two is wrong. */
function disagrees(entity: Entity, presentation: XmlElement, where: string): Issue | null {
  const [scale, unit] = [decimalIn(attribute(presentation, 'C')), attribute(presentation, 'E')];
  const should = scaleShown(entity, unit);
  if (should === null || Number.isNaN(scale) || Math.abs(scale / should - 1) <= 0.01) return null;
  return isoIssue(
    'iso-unit-disagrees',
    'warning',
    where,
    `a presentation of ${scale} ${unit.slice(0, 32)} a step`,
    `${Number(should.toPrecision(8))} ${unit.slice(0, 32)}, as its entity is defined`,
    'The unit of the entity is used, not the presentation',
    'Compare a rate with what was meant',
  );
}
