import type { HarvestLog } from './harvest-log.ts';

/** Below this share of records with grain said to have the header down, the switch is broken or means something else. Our own choice. */
const TRUSTED_SHARE = 0.5;

/** The recorded header state; null where none is recorded, or where it says the header was up while most of the grain came in. */
export function trustedHeader({ header, value }: HarvestLog): Float64Array | null {
  if (header === null) return null;
  let grain = 0;
  let up = 0;
  let known = 0;
  for (let i = 0; i < header.length; i++) {
    if (Number.isNaN(header[i])) continue;
    known++;
    if (!(value[i] > 0)) continue;
    grain++;
    if (header[i] === 0) up++;
  }
  return known > 0 && up <= (1 - TRUSTED_SHARE) * grain ? header : null;
}
