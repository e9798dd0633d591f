import type { Column } from '../../layers/source.ts';
import type { Movement } from './movement.ts';
import type { Role } from './role.ts';
import type { RoleUnit } from './role-units.ts';
import type { Sample } from './sample.ts';

/** Points of a hundred for what speaks for a meaning. */
export const POINTS = {
  /** The name says so. */
  name: 50,
  /** Only the unit says so. */
  unitAlone: 35,
  /** A unit of the role in the name, or stated by the file. */
  unit: 10,
  /** Figures as they usually are. */
  figures: 30,
  /** Agrees with other columns or with the places. */
  agrees: 10,
  /** From here on a meaning is taken, if the next is far enough behind. */
  accept: 60,
  ahead: 15,
} as const;

/** A unit a column may be in under one meaning. */
export interface UnitReading {
  /** Null for a role without units. */
  readonly unit: RoleUnit | null;
  readonly points: number;
  /** How usual its figures are, 0 to 1; left out where they were not judged. */
  readonly usual?: number;
  /** Whether it agrees with the places; left out where that cannot be told. */
  readonly agrees?: boolean;
  readonly because: readonly string[];
}

/** A role a column may play, with its units, best first. */
export interface Meaning {
  readonly role: Role;
  readonly column: Column;
  /** Whether name or file say the unit. */
  readonly told: boolean;
  readonly units: readonly UnitReading[];
}

/** What meanings are judged by beside the column itself. */
export interface Look {
  readonly sample: Sample;
  readonly movement: Movement;
  /** Crop the figures are held against. */
  readonly crop: string;
  /** Seconds between records, NaN while not known. */
  readonly step_s: number;
}

export function points(meaning: Meaning): number {
  return meaning.units[0].points;
}
