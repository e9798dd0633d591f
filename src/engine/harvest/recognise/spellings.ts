import type { Role } from './role.ts';

interface Spelling {
  readonly role: Role;
  /** On the name as `columnWords` gives it. */
  readonly is: RegExp;
  /** Words that make it something else. */
  readonly not?: RegExp;
}

const AIM =
  /target|_tgt|_tg_|goal|prescri|_rx_|ziel|soll|objetivo|objectif|cible|planned|desired|expected|_exp_|potential/;

/**
 * What exports call things, in English and the commonest words of Spanish, Portuguese, French, German, Italian, Dutch and Polish, whole or cut to 10 characters. Seen in open
 * data sets or common in the trade; no source lists them.
 */
export const SPELLINGS: readonly Spelling[] = [
  {
    role: 'yield',
    is: /yield|yeild|_yl?d(?=_|dry|wet|mass|vol|bu|kg|lb|t_|tha)|yld|rendimi?ent|rendement|_rdt|_rend_|ertrag|produtiv|productivi|produktivi|_resa_|opbrengst|_plon_|udbytte/,
    not: new RegExp(
      `${AIM.source}|_id_|_id\\d*_$|rank|class|_pct_$|percent_$|flag|status|index|zone|relative|_rel_|norm|count|_std|_sd_|_cv_|error|speed|swath|width|elev|head|_date|_time|_n_$|sensor|delay|offset|conf`,
    ),
  },
  {
    role: 'flow',
    is: /flow|_flw|flujo|fluxo|flusso|_debit|_debiet|przep|durchfluss|durchsatz|massenstrom|caudal|throughput/,
    not: /water|spray|fuel|fluid|liquid|hydraul|delay|lag|offset|target|_id_|yield|yld|calib|status|state/,
  },
  {
    role: 'mass',
    is: /mass|weight|_wgt|_wt_|_peso|_poids|gewicht/,
    not: /yield|yld|flow|flw|strom|debit|fluj|flux|test|seed|thousand|tkw|_bu_|bushel|total|accum|cum|_per_|header|machine|rate/,
  },
  {
    role: 'distance',
    is: /dist|_dst_|strecke|afstand|odleg|_weg_|recorrid|parcouru|_avance|travel(l?ed)?_(m|ft|in|cm|feet|inches)_/,
    not: /district|row|seed|plant|spacing|offset|total|cum|antenna|_to_|edge|border|site|from/,
  },
  {
    role: 'swath',
    is: /swath|_swth?|_swt_|width|wdth|_wdt|breite|arbeitsbr|largeur|largura|larghezz|breedte|szerokosc|_ancho|_anch_|anchur|faixa/,
    // A `Breitengrad` is a latitude.
    not: /breiten?_?grad|geogr|row|seed|_num|_no_|_id_|_nm_|count|pct|overlap|offset|section_?state|track/,
  },
  {
    role: 'interval',
    is: /interv|durat|durac|duree|dauer|_cycle|_logint|_dt_|_secs?_rec_|_tiempo_reg|sample_?time|_period|_int_(s|ms|sec)/,
    not: /dist|total|cum|flow|conf/,
  },
  {
    role: 'moisture',
    is: /moist|_mstr|_mst_|_moi_|_humed|_umid|_humid|_hum_|feucht|_vocht|wilgotn|_h2o|wassergehalt|teneur_en_eau/,
    not: /soil|suelo|solo|boden|air|ambient|temp|yield|yld|rendim|rendem|ertrag|produ[ck]?tiv|_resa_|opbrengst|_plon_|target|leaf|flag|status|_id_|sensor|base|delay|rel_/,
  },
  {
    role: 'speed',
    is: /speed|_spd|velo[cz]|vitesse|geschw|snelheid|predkosc|_vel_|_sog_/,
    not: /_wind|_fan|rotor|rpm|engine|drum|cylinder|concave|shaft|elevator|meter|target|header|feeder/,
  },
  {
    role: 'heading',
    is: /heading|_headin|_hdng|_hdg|_hding|_track_?(deg|_$|dg|angle|true)|_track_$|_course|bearing|azimut|richtung|fahrtri|_cap_|rumbo|direcc?i|direction|direzi|rijrichting|kierunek|_cog_|_kurs_|travel_deg|_dir_/,
    not: /_wind|error|header|cross|slope|aspect|_num|_id_/,
  },
  {
    role: 'time',
    is: /time|_tim_|_utc|_gps_?s(ec|ecs|econds)?_|seconds|_secs?_$|_zeit|uhrzeit|_tijd_|_czas_|_hora|_heure|horodat|timestamp|_tiempo|_tempo_|_clock|_iso(8601)?_/,
    not: /interv|durat|delay|lag|total|zone|elapsed_?(pass)|engine|sample_?time|tiempo_reg|_first|_until|flow|_per_|dist|temper|row/,
  },
  {
    role: 'date',
    is: /_date|_datum|_fecha|_data_$|_day_|_dia_|_jour_|_tag_$|date_$/,
    not: /time|update|plant_?date_?code|_id_|stamp/,
  },
  {
    role: 'header',
    is: /header|_hdr|cabezal|plataforma|schneidw|testata|maaibord|_heder_|_bec_|work_?(stat|st_)|working|_in_?work|arbeitsst|implement_?st|_lowered|harvesting_|recording|cut_?state|_logging_/,
    not: /width|wdth|_w_|height|_ht_|type|_id_|offset|breite|ancho|speed|_name|largeur|largura/,
  },
  {
    role: 'pass',
    is: /_pass(_|num|nm|no|nr|id|numb|$)|_pasada|_passada|_passata|passage|werkgang|przejazd|_spur|ueberfahrt|uberfahrt|_run_(no|num|id)|_swath_?(num|no|nm|id)|_track_?(num|no|nm|id)|_strip_?(num|no|id)/,
    not: /count_?of|total|width|dist/,
  },
  {
    role: 'crop',
    is: /_crop(_?name|_?type)?_|_grain_$|_grain_?(type|name)|_cultivo_|_cultura_|_culture_|_kultur_|_coltura_|_gewas_|_uprawa_|fruchtart|_frucht_|commodity|_getreide/,
    not: /yield|zone|year|_id_|flow|moist/,
  },
  {
    role: 'product',
    is: /product(?!i)|_prod_|variet|_vrty|hybrid|_hyb|_sorte_|cultivar|_brand|hibrid|_seed_?(name|type)|_material_/,
    not: /rate|yield|yld|count|_flow/,
  },
  {
    role: 'rate',
    is: /rate|_rt_|appl?d|applied|seeding|population|_pop_|_popul|_dosis|densidad|densidade|densite|saatstarke|saatmenge|aussaat|semis_|_dose/,
    not: new RegExp(
      `${AIM.source}|flow|yield|yld|sampl|fuel|log|water|date|_time|speed|moist|_data_|baud|corporate|accurate|separate|narrate|elevator|depth|singul|feed`,
    ),
  },
  {
    role: 'target',
    is: new RegExp(
      `(${AIM.source})[a-z_]*(rate|_rt|popul|_pop_|seed|dos|densi|saat|_app)|(rate|_rt|popul|_pop_|seed|dos|densi|saat)[a-z_]*(${AIM.source})|_prescri(bed|ption)?_$|_tgt_ks`,
    ),
    not: /yield|yld|speed|moist|depth/,
  },
  {
    role: 'elevation',
    is: /elev|altit|_alt_|_alt(?=m_|ft_)|_z_|_height_|hoehe|_hohe|_hgt_|_msl_/,
    not: /header|plant|cut|sieve|elevator|seed|antenna/,
  },
  {
    role: 'quality',
    is: /rm_code|quality|_qual_|flag|error_?code|status_?code|_valid_|reject|removed|exclude/,
    not: /yield_?name|soil/,
  },
  {
    role: 'x',
    is: /^_(x|lon|long|lng|longitude|east|easting|utm_x|utm_e|x_utm|gps_lon|gps_long|x_coord|point_x|lon_dd)_$|longitude|longitud_|easting/,
  },
  {
    role: 'y',
    is: /^_(y|lat|latitude|north|northing|utm_y|utm_n|y_utm|gps_lat|y_coord|point_y|lat_dd)_$|latitude|latitud_|northing/,
  },
];

/** Roles a name can stand for. */
export function rolesNamed(words: string): Role[] {
  return SPELLINGS.filter(({ is, not }) => is.test(words) && !not?.test(words)).map(({ role }) => role);
}

/** Whether a name speaks of anything known here, be it what a role is not. */
export function speaks(words: string): boolean {
  return SPELLINGS.some(({ is }) => is.test(words));
}
