import { type Meaning, POINTS, type UnitReading } from './meaning.ts';
import type { RoleUnit } from './role-units.ts';

/** The units the other columns of a file name, where all are of one side. */
export type UnitSystem = RoleUnit['system'] | null;

/** `US` or `metric` where at least two columns say so and none says otherwise. */
export function systemOf(meanings: readonly Meaning[]): UnitSystem {
  const told = meanings.filter(({ told }) => told).map(({ units }) => units[0].unit?.system);
  const [us, metric] = [
    told.filter((own) => own === 'US').length,
    told.filter((own) => own === 'metric').length,
  ];
  return us >= 2 && metric === 0 ? 'US' : metric >= 2 && us === 0 ? 'metric' : null;
}

/** Units a column may well be in, best first: one where its name tells it or the figures leave no other. */
export function unitsLeft(meaning: Meaning, system: UnitSystem): UnitReading[] {
  const { units, told } = meaning;
  if (told || units.length === 1) return [...units];
  const judged = units
    .map((own) =>
      system && own.unit?.system === system
        ? {
            ...own,
            points: own.points + POINTS.ahead,
            because: [
              ...own.because,
              `other columns are in ${system === 'US' ? 'US customary' : 'metric'} units`,
            ],
          }
        : own,
    )
    .sort((a, b) => b.points - a.points);
  return judged.filter(({ points }) => judged[0].points - points < POINTS.ahead);
}

/** Units the physics check may try: all whose figures are not out of the question. */
export function unitsToTry(meaning: Meaning): RoleUnit[] {
  return meaning.units.flatMap(({ unit, points }) =>
    unit && (meaning.told || meaning.units[0].points - points <= POINTS.figures - 1) ? [unit] : [],
  );
}
