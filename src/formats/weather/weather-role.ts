import { headerText } from '../trials/header-text.ts';

/** What the columns of a record of temperatures can mean. */
export const WEATHER_ROLES = [
  'highest',
  'lowest',
  'date',
  'year',
  'month',
  'day',
  'day of year',
  'station',
] as const;

export type WeatherRole = (typeof WEATHER_ROLES)[number];

/** Means, soils, marks of quality and what else is called after the highest and lowest but is not the temperature of the air. */
const NOT_AIR =
  /flag|attrib|quality|_qc_|years_|std|soil|boden|_sol_|suelo|bodem|jord|grass|gras|dew|humid|feuchte|wind|vent_|viento|_rh_|relativ|_time|zeit|uhr|hour|record|snow|rain|precip|nieder|press|druck|_sun|growing|gdd|departure|apparent|feels|_5_?cm_/;
const MAX = '(max|maximum|maxima|maximale?|maksimum|maksimal|maks)';
const MIN = '(min|minimum|minima|minimale?|minimal)';

/**
 * On the name as `headerText` gives it, the first that fits: English, German, French, Spanish, Dutch and Danish, and the short names of the daily tables of weather services (TMAX, TX, TXK). Common in the
 * trade; no source lists them.
 */
const WORDS: readonly (readonly [WeatherRole, RegExp, RegExp?])[] = [
  ['day of year', /_doy_|_day_of_(the_)?year_|_julian|_yday_|_tag_des_jahres_|_jour_julien_|_dia_juliano_/],
  [
    'highest',
    new RegExp(
      `_t_?max|_tx_|_txk_|_${MAX}_|_(air_)?temp(erature|eratura|eratuur|eratur)?_?${MAX}|${MAX}_?temp|_high(est)?_|_hi_|hochst|_haut(e|es)?_|_alta_|hoogste|hojeste`,
    ),
    NOT_AIR,
  ],
  [
    'lowest',
    new RegExp(
      `_t_?min|_tn_|_tnk_|_${MIN}_|_(air_)?temp(erature|eratura|eratuur|eratur)?_?${MIN}|${MIN}_?temp|_low(est)?_|_lo_|tiefst|_niedrigste|_basse?s?_|_baja_|laagste|laveste`,
    ),
    NOT_AIR,
  ],
  ['year', /^_(years?|yr|yyyy|jahr|annee|ano|anio|jaar|aa?r|anno)_$/],
  ['month', /^_(months?|mon|mo|mm|monat|mois|mes|maand|maaned|maned|mese)_$/],
  ['date', /date_|datum_|fecha|_dato_|_data_|yyyymmdd|^_valid_$|^_time_$/, /flag|attrib|update/],
  ['day', /^_(days?|dd|dy|tag|jour|dia|dag|giorno)_$/],
  ['station', /^_(stations?_?(id|name|no|number)?|stn|site|location|stationsname|stations_id)_$/],
];

export function weatherRole(name: string): WeatherRole | null {
  const words = headerText(name);
  return WORDS.find(([, is, not]) => is.test(words) && !not?.test(words))?.[0] ?? null;
}
