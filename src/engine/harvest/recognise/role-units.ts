import { FT_PER_S_PER_MPH, KG_PER_LB, M_PER_FT, M_PER_IN, M2_PER_ACRE } from '../../math/units.ts';
import type { Role } from './role.ts';

/** A unit a role comes in. */
export interface RoleUnit {
  readonly unit: string;
  /** What one of it is in the unit of the role's range; 1 for yield, which needs a crop. */
  readonly scale: number;
  /** As written in a name (`columnWords`). */
  readonly named: RegExp;
  /** As left over where a name was cut to 10 characters. */
  readonly cut?: RegExp;
  /** Customary units of the United States, or metric ones; units of both sides have none. */
  readonly system?: 'US' | 'metric';
}

const unit = (
  name: string,
  scale: number,
  named: RegExp,
  system?: RoleUnit['system'],
  cut?: RegExp,
): RoleUnit => ({
  unit: name,
  scale,
  named,
  ...(cut ? { cut } : {}),
  ...(system ? { system } : {}),
});

const LENGTHS = [
  unit('ft', M_PER_FT, /_(ft|feet|foot|pies)_/, 'US', /_fe?_$/),
  unit('in', M_PER_IN, /_(inch|inches|ins?)_$|_inch(es)?_/, 'US', /_i(n|nc)?_$/),
  unit('m', 1, /_(m|met(er|re)s?|metros?|metrs?|mtrs?)_/, 'metric', /_met?_$/),
  unit('cm', 0.01, /_(cm|centimet(er|re)s?)_/, 'metric'),
  unit('mm', 0.001, /_(mm|millimet(er|re)s?)_/, 'metric'),
];

/** Seeds or weight over an area; the scale is in seeds/m² or kg/m². */
const RATES = [
  unit('ks/ac', 1000 / M2_PER_ACRE, /_(ks|kseeds?|ksds?|k_s(ee)?ds?)_?(ac|acre|a)_/, 'US', /_k(s|sd|sds)?_$/),
  unit(
    'seeds/ac',
    1 / M2_PER_ACRE,
    /_(s(ee)?ds?|plants?|pop)_?(ac|acre|a)_|_ct_ac_/,
    'US',
    /_(sd|seeds)_a?_$/,
  ),
  unit('ks/ha', 0.1, /_(ks|kseeds?|ksds?|k_s(ee)?ds?)_?ha_/, 'metric'),
  unit('seeds/ha', 1e-4, /_(s(ee)?ds?|plants?|semillas|sementes|graines|korner|korn|pl)_?ha_/, 'metric'),
  unit(
    'seeds/m2',
    1,
    /_(s(ee)?ds?|plants?|semillas|sementes|grains|graines|korner|korn|pl)_?m_?2_/,
    'metric',
  ),
  unit('lb/ac', KG_PER_LB / M2_PER_ACRE, /_(lbs?|pounds?)_?(ac|acre|a)_/, 'US'),
  unit('kg/ha', 1e-4, /_(kgs?)_?ha_/, 'metric'),
];

/** By role, its units. A role without an entry has no unit. */
export const ROLE_UNITS: Readonly<Partial<Record<Role, readonly RoleUnit[]>>> = {
  yield: [
    unit('bu/ac', 1, /_(bu|bsh|bush|bushels?)_?(a|ac|acres?)_|_bpa_|_(bu|bushels?)_$/, 'US', /_bu?_$/),
    unit('lb/ac', 1, /_(lbs?|pounds?)_?(a|ac|acres?)_/, 'US', /_lbs?_$/),
    unit('kg/ha', 1, /_(kgs?|kilos?)_?(ha|hectares?|hectareas?|hektar)_/, 'metric', /_kg(_h)?_$/),
    unit(
      't/ha',
      1,
      /_(t|mt|mg|tons?|tonnes?|toneladas?|tonnen?)_?(ha|hectares?|hectareas?|hektar)_/,
      'metric',
      /_t_h_$/,
    ),
    unit(
      'q/ha',
      1,
      /_(q|qq|dt|dz|qx|quintal|quintals|quintaux|quintales)_?(ha|hectares?|hectareas?)_/,
      'metric',
    ),
    unit('g/m2', 1, /_(g|gr|grams?)_?(m_?2|sq_?m)_/, 'metric'),
    unit('ton/ac', 1, /_(short_)?tons?_?(a|ac|acres?)_/, 'US'),
  ],
  flow: [
    unit('lb/s', KG_PER_LB, /_(lbs?|pounds?)_?(s|secs?|seconds?)_|_lbs?_/, 'US', /_lbs?_$/),
    unit('kg/s', 1, /_kgs?_?(s|secs?|seconds?)_|_kgs_|_kg_$/, 'metric', /_kg_$/),
    unit('t/h', 1000 / 3600, /_(t|mt|tons?|tonnes?)_?(h|hr|hours?|heures?)_/, 'metric'),
    unit('kg/h', 1 / 3600, /_kgs?_?(h|hr|hours?)_/, 'metric'),
    unit('lb/h', KG_PER_LB / 3600, /_lbs?_?(h|hr|hours?)_/, 'US'),
  ],
  mass: [
    unit('lb', KG_PER_LB, /_(lbs?|pounds?)_/, 'US', /_lb?_$/),
    unit('kg', 1, /_(kgs?|kilos?)_/, 'metric', /_k_$/),
    unit('g', 0.001, /_(g|grams?)_/, 'metric'),
  ],
  distance: LENGTHS,
  swath: LENGTHS,
  elevation: LENGTHS.filter(({ unit: own }) => own === 'ft' || own === 'm'),
  interval: [
    unit('s', 1, /_(s|secs?|seconds?|segundos?|secondes?|sek|sekunden)_/, undefined, /_s(e|ec)?_$/),
    unit('ms', 0.001, /_(ms|msec|millis|milliseconds?)_/),
  ],
  moisture: [
    unit('%', 1, /_(pct|percent|perc|prozent|porcentaje|p)_/, undefined, /_p(c|ct|er)?_$/),
    unit('fraction', 100, /_(frac|fraction|ratio|share)_/),
    unit('0.1 %', 0.1, /_(permille|promille)_/),
    unit('ppm', 1e-4, /_(ppm|mg_kg)_/),
  ],
  speed: [
    unit('mi/h', FT_PER_S_PER_MPH * M_PER_FT, /_(mph|mi_?h|mi_?hr|miles?_hours?)_/, 'US', /_mp_$/),
    unit('km/h', 1 / 3.6, /_(km_?h|km_?hr|kmph|kph|kmt|kilomet(er|re)s?_hours?)_/, 'metric', /_km_?_$/),
    unit('m/s', 1, /_(m_?s|m_?sec|mps|met(er|re)s?_seconds?)_/, 'metric'),
    unit('ft/s', M_PER_FT, /_(ft_?s|fps|feet_seconds?)_/, 'US'),
  ],
  heading: [unit('°', 1, /_(deg|degrees?|dg|grad|grados|graus|degres)_/)],
  // Scales of time are seconds; hhmmss is a clock written as one number.
  time: [
    unit('s', 1, /_(s|secs?|seconds?|segundos?)_$/),
    unit('ms', 0.001, /_(ms|msec|millis|milliseconds?)_$/),
    unit('min', 60, /_(min|mins|minutes)_$/),
    unit('h', 3600, /_(hours|hrs)_$/),
    unit('d', 86_400, /_(days|serial)_$/),
    unit('hhmmss', NaN, /_hhmmss_/),
  ],
  rate: RATES,
  target: RATES,
};

/** Units so rare that figures speak half for them. */
export const RARE: readonly string[] = ['g/m2', 'ton/ac', 'ft/s', 'kg/h', 'lb/h'];

/** Hardly ever outside the outer pair, mostly inside the inner. */
export type Range = readonly [least: number, low: number, high: number, most: number];

/**
 * By role, where the 5th, 50th and 95th percentile of the values above zero lie, in the unit scales are of (m, m/s, kg/s, kg, s, %, °). Common practice,
 * no source: a machine at 0.5 to 12 mph that works 8 to 60 ft wide, 2 to 120 ft at the utmost, and records every 0.2 to 10 s.
 */
export const USUAL: Readonly<Partial<Record<Role, Range>>> = {
  flow: [0.05, 0.2, 60, 100],
  mass: [0.02, 0.1, 200, 500],
  distance: [0.1, 0.25, 6, 10],
  swath: [0.6, 2.4, 18.5, 37],
  interval: [0.1, 0.2, 10, 30],
  moisture: [3, 5, 40, 50],
  speed: [0.1, 0.22, 5.4, 8],
  heading: [0, 0, 360, 360],
  elevation: [-430, -430, 5000, 9000],
};
