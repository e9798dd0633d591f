import { WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column, Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import { newTally, note, type Tally, tallyText } from '../tally.ts';
import type { Shape } from './rings.ts';

/** A layer of polygons: a record a shape, those without rings kept with their attributes. `labels` name the records in issues. */
export function polygonSource(
  file: string,
  shapes: readonly Shape[],
  labels: readonly string[],
  columns: readonly Column[],
): Source {
  const repairs = newTally();
  const aside = new Map<string, Tally>();
  shapes.forEach((shape, index) => {
    const label = `${index + 1} ${labels[index]}`;
    if (shape.rings === null) {
      const tally = aside.get(shape.reason) ?? newTally();
      aside.set(shape.reason, tally);
      note(tally, `${label} (${shape.found})`);
    } else if (shape.repair !== '') note(repairs, `${label} (${shape.repair})`);
  });
  const setAside = Object.fromEntries([...aside].map(([reason, { count }]) => [reason, count]));
  const lost = Object.values(setAside).reduce((sum, n) => sum + n, 0);
  const warning = (code: string, tally: Tally, expected: string, effect: string): Issue => ({
    code,
    severity: 'warning',
    where: file,
    found: tallyText(tally, 'records'),
    expected,
    effect,
    remedy: 'Look at these records in their own program',
  });
  const { names, issues } = uniqueNames(
    columns.map(({ name }) => name),
    file,
  );
  return {
    file,
    format: 'iso11783',
    shape: 'polygons',
    crs: WGS84,
    records: shapes.length,
    x: new Float64Array(0),
    y: new Float64Array(0),
    rings: shapes.map(({ rings }) => rings),
    columns: columns.map((column, i) => ({ ...column, name: names[i] })),
    ledger: {
      read: shapes.length,
      used: shapes.length - repairs.count - lost,
      repaired: repairs.count,
      setAside,
    },
    issues: [
      ...[...aside].map(([reason, tally]) =>
        warning(
          reason,
          tally,
          'a sound boundary in degrees',
          'Their attributes are kept; they have no place',
        ),
      ),
      ...(repairs.count > 0
        ? [
            warning(
              'geometry-repaired',
              repairs,
              'closed rings of three corners',
              'They are used as repaired',
            ),
          ]
        : []),
      ...issues,
    ],
  };
}
