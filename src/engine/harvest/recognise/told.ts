import type { MoistureBasis } from '../moisture-basis.ts';
import type { Role } from './role.ts';

/** What a person has said of a file. */
export interface Told {
  readonly crop?: string;
  readonly basis?: MoistureBasis;
  /** Columns by role; `unit` may be left out. Null: there is none. */
  readonly columns?: Readonly<
    Partial<Record<Role, { readonly column: string; readonly unit?: string } | null>>
  >;
}
