import { cleaningSchema } from '../../src/plan/cleaning-schema.ts';
import { evidenceSchema } from '../../src/plan/evidence-schema.ts';

/** Every rule, with its usual figures. */
export const cleaningPlan = cleaningSchema.parse({});

/** What a plan says of the bench's log: all its columns with their units. Names are those of the yield column's file, in its case. */
export function yieldPlan(column: string) {
  const named = (name: string, unit = '') => ({
    column: column === column.toUpperCase() ? name.toUpperCase() : name,
    unit,
  });
  const map = {
    ...{ source: 'bench', column, unit: 'bu/ac', crop: 'corn' },
    columns: {
      time: named('time'),
      pass: named('pass'),
      moisture: named('moisture', '%'),
      speed: named('speed', 'm/s'),
      heading: named('heading', '°'),
      distance: named('distance', 'm'),
      swath: named('swath', 'm'),
      flow: named('flow', 'kg/s'),
    },
  };
  return evidenceSchema.parse({ yields: [map] }).yields[0];
}
