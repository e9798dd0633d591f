import type { CleaningRule } from '../cleaning-rule.ts';
import { hasPlace } from '../has-place.ts';

/** Finding passes goes on past records astray and gives them none; what lies farther off is outside the field. */
export const positionJump: CleaningRule = {
  id: 'position-jump',
  title: 'position leapt away from the pass and back',
  source:
    'position errors as a class: Lyle, Bryan & Ostendorf 2014, Precision Agriculture 15:377; limits our own choice',
  thresholds: {},
  judge: ({ records, x_m, y_m }, { pass }) => {
    const marks = new Uint8Array(records);
    for (let i = 0; i < records; i++) if (pass[i] < 0 && hasPlace(x_m[i], y_m[i])) marks[i] = 1;
    return marks;
  },
};
