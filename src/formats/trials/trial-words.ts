import { headerText } from './header-text.ts';
import type { TrialRole } from './trial-role.ts';

interface TrialWords {
  readonly role: TrialRole;
  /** On the name as `headerText` gives it. */
  readonly is: RegExp;
  /** Words that make it something else. */
  readonly not?: RegExp;
  /** Words that put it before others of its role, far or a little, or behind them, a little or far. */
  readonly best?: RegExp;
  readonly rather?: RegExp;
  readonly hardly?: RegExp;
  readonly least?: RegExp;
}

const YIELD =
  /yield|yeild|_yl?d_|yld|rendimi?ent|rendement|_rdt_|_rend_|ertrag|produtiv|_resa_|opbrengst|_plon_|udbytte/;
/** What is worked out from figures, or said of them: letters of significance, ranks, spreads, grades. No plot has it. */
const WORKED_OUT =
  /rank|_rang_|_lsd|_gd_|_se_|_sd_|_cv_|_std_$|_std_(dev|err)|stdev|stderr|varian|signific|_sig_|letter|_groups?_|grupp|_class(es)?_|rating|_scores?_|bonit|_notes?_|_remarks?_|comment/;
/** Of a yield, sums made from it or aims set for it. */
const NOT_MEASURED = new RegExp(
  `${WORKED_OUT.source}|target|goal|potential|ziel|objetivo|objectif|expected|relative|relativ|_rel_|index|diff|advantage|_gain_|_loss(es)?_|respon|stabil|_range_|(?<!\\d)_pct_|check|income|_date`,
);
/** Means over seasons or plots: yields, but of no plot where there are others. */
const AVERAGED =
  /_avg_|averag|_means?_|mittel|moyen|promedi|_medias?_|gemiddeld|gennemsnit|_\d_?(yrs?|years?)_/;
const OF_SEVERAL = new RegExp(`${AVERAGED.source}|_n_of_|_no_of_|_nr_of_|number_of|_counts?_|_total_|_sum_`);
/** A column called no more than a unit yields come in. */
const YIELD_UNIT_ALONE =
  /^_((bu|bushels?|lbs?)_(ac|acre|a)|bpa|(kg|kgs|t|tons?|tonnes?|dt|q|qx|qq|mg)_(ha|hectare))_$/;
const DRY = /dry|_sec(o|a|os|he?)?_|trocken|_droge?_|_tor(re|t)?_|standard_moist/;
const WET = /wet|fresh|humed|humid|umid|feucht|frisch|_nat(te)?_|_vers_|as_harvested|field_moist|_vad_|green/;

const DRY_MATTER =
  /dry_?matter|_dm_|trockenmasse|trockensubstanz|_tm_|_ts_|_ms_|matiere_seche|materia_seca|droge_?stof|torstof/;

/**
 * What trial tables call things, in English, German, French, Spanish, Dutch and Danish, and some Italian and Portuguese; the first that fits is what a column is.
 * Common in the trade; no source lists them.
 */
const WORDS: readonly TrialWords[] = [
  {
    role: 'emergence',
    is: /emerg|_germin|_stand_pct|_pct_stand|feldaufgang|_aufgang|_(taux_de_)?levee|opkomst|fremspir|_establishment|nascenc/,
    not: /date|_days?_|_dae_|datum|fecha|_tage_|jours|dias|score|vigou?r|energ/,
  },
  { role: 'basis', is: /(moisture|yield|water)_basis_|^_basis_$|^_wet_dry_$|^_feuchtebasis_$/ },
  {
    role: 'moisture',
    is: /moist|_mstr|_mst_|_moi_|_h2o_|humed|humid|umid|feucht|_vocht|wassergehalt|teneur_en_eau|_vand(indhold|procent|pct)|_vand_pct_|_mc_/,
    not: new RegExp(
      `${YIELD.source}|${WORKED_OUT.source}|soil|boden|_sol_|suelo|air_|target|_base_|date|status|planting|_plant_|sowing`,
    ),
  },
  {
    role: 'environment',
    is: /environ|_env_|umwelt|_milieu_|_ambiente?_|omgeving|miljo|yield_level|(site|trial|location|loc|standort|test)_(mean|avg|average|mittel)|ertragsniveau|site_index/,
    not: new RegExp(`${WORKED_OUT.source}|soil|_id_$|temp`),
  },
  { role: 'yield', is: YIELD, not: NOT_MEASURED },
  {
    role: 'rate',
    is: /seed(s|ing)?_?(rate|pop|dens)|sown|sowing|_drop_?(rate|pop)|plant(ed|ing)_?(rate|pop|dens)|plant_rate|(target|goal|desired)_?(pop|stand|plants|dens)|^_rates?_|_rates?_(k|ks|1000|seeds?|plants?|ac|acre|ha|m_?2)_|_seeds?_(k_|1000_)?(a|ac|acre|ha|m_?2)_|^_seeds_|saat(starke|dichte|menge|st_|rate)|aussaat|_korner_|semis_|grains_m_?2|siembra|semillas|zaai(dichtheid|hoeveelheid|zaad)|_zaden_|udsaed|sementes|semeadura|semina_/,
    not: new RegExp(
      `${YIELD.source}|nitro|_n_|_p_|_k_rate|fert|treat|fung|herb|spray|date|datum|fecha|cost|price|size|weight|_tkw_|growth|lodg|depth|tiefe|moist|_lbs?_|_pods?_|_ears?_|_bags?_|_units?_|quality|germ|${WORKED_OUT.source}`,
    ),
  },
  {
    role: 'stand',
    is: /_stands?_|^_ppa_$|stand_?(count|dens|plants)|_pops?_|popul|_k?plants?_|_pfl_|plant_?(count|dens|number|pop|stand)|densit|_dens_|densid|densita|pflanzen|bestand|peuplement|_pieds_|_plantes?_|poblac|plantas|_plantgetal|standdicht|_planten|plantetal|plantebestand|_planter|_piante_/,
    not: new RegExp(
      `${YIELD.source}|height|hohe|lange|hauteur|altura|hoogte|hojde|date|datum|fecha|lodg|lager|loss|type|spacing|weight|gewicht|schutz|health|vigou?r|bulk|soil|moist|ears?_|per_plant|pods?_|broken|barren|dropped|snap|dead|disease|injur|_colou?r_|_stage_|tissue|residue|removed|uniform|${WORKED_OUT.source}`,
    ),
    best: /final|harvest|actual|ernte|recolte|cosecha|oogst|host/,
    rather: /count|_stands?_/,
    least: /early|initial|first|spring|_v\d+_|fruh|debut|inicial|vroeg|tidlig/,
  },
  {
    role: 'year',
    is: /_years?_|_yr_|jahr_|_annees?_|_ano_|_anio_|jaar_|_(forsogs|host)?aa?r_|_anno_|_seasons?_|_campagne_|_campana_/,
    not: new RegExp(
      `${OF_SEVERAL.source}|${WORKED_OUT.source}|yield|_age_|date|solar|_bar_|star_|near_|releas|regist|introduc|zulassung|tested|_(no|nr|n)_|_of_years|_since_|rain|precip`,
    ),
  },
  {
    role: 'brand',
    is: /_brands?_|company|_marke_|_marque_|_marca_|_merk_|_maerke_|zuchter|breeder|obtenteur|semencier|_supplier_|_firma_/,
    not: new RegExp(`${WORKED_OUT.source}|_id_$|name_of_product`),
  },
  {
    role: 'crop',
    is: /_crops?_|_crop_?(name|type)_|_species_|_cultivo_|_cultura_|_culture_|_kultur_|_coltura_|_gewas_|fruchtart|_frucht_|afgrode|_espece_|_especie_|_getreideart_/,
    not: /year|zone|_id_$|prev|vor|voor|forfrugt|ante|value|stage|insur|height|rotat|residue|injur|price/,
  },
  {
    role: 'rep',
    is: /_reps?_|_rep_?\d?_|replic|repet|wiederhol|_wdh_|_whg?_|herhaling|gentag|fallesparz/,
    not: /mean|count|_n_|_no_of_|number_of/,
  },
  {
    role: 'block',
    is: /_blocks?_|_blk_|_blocs?_|_bloques?_|_blok_|_blokken_|_blocco_|_bloco_/,
    not: OF_SEVERAL,
  },
  {
    role: 'trial',
    is: /_trials?_|_experiment|_exp_|_versuchs?(nummer|name|nr)?_|_essais?_|_ensayos?_|_proe(f|ven)(nummer)?_|_forsog(s?nr)?_|_stud(y|ies)_|_tests?_/,
    not: new RegExp(
      `${WORKED_OUT.source}|${OF_SEVERAL.source}|type|treat|weight|_wt_|_twt?_|_lbs?_|_kgs?_|_hl_|bushel|date|_n_$|length|width|area|_size_`,
    ),
  },
  {
    role: 'site',
    is: /_sites?_|locat|_loc_|_town_|_farm_|_field_|_place_|_county_|standort|versuchsort|_ort_|_lieux?_|localit|_commune_|_sitio_|localidad|_lugar_|locatie|_plaats_|proefveld|proefplaats|_sted_|forsogssted|lokalitet|lokation|_localita_|_local_/,
    not: new RegExp(
      `${WORKED_OUT.source}|${OF_SEVERAL.source}|latit|longit|_lat_|_lon_|_id_of|_area_|_size_|acres|hectares|length|width|elev|slope|_type_|capacity|moist`,
    ),
    rather: /^_(sites?|locations?|loc)_(name_)?$/,
    hardly: /_field_|_id_|_no_|_nr_/,
    // A field is within a farm, and that within a county.
    least: /_county_|_farm_|_town_/,
  },
  {
    role: 'product',
    is: /_produ(ct|cts|cto|kt|it|to|ctname|ktnavn)_|hybrid|_hyb_|hibrid|ibrido|variet|_vrty_|_var_|cultivar|_entr(y|ies)_|_gen_|genot[iy]p|_geno_|_sorte?(n|nname|n_name|name)?_|_sortnavn_|_ras_|_rasnaam_|_rassen_|prufglied|^_(name|navn|naam|nom|nombre|bezeichnung)_$|_lines?_/,
    not: new RegExp(
      `${WORKED_OUT.source}|${OF_SEVERAL.source}|yield|yld|rate|_type_|_n_$|_year|matur|_rm_|_crm_|_mg_|price|cost|trait|treat|weight|_wt_`,
    ),
    rather: /hybrid|hibrid|ibrido|variet|cultivar|produ[ck]?[it]|_sorte?n?_|_ras_|genot/,
    hardly: /_entr|^_(name|navn|naam|nom|nombre|bezeichnung)_$|_lines?_|_no_|_nr_|_num|_id_|_code_/,
  },
];

/** What a name says of its column: the role, and a rank over zero where the words put it before others of that role, under zero behind. */
export interface Named {
  readonly role: TrialRole;
  readonly rank: number;
}

export function roleNamed(name: string): Named | null {
  const words = headerText(name);
  const own = WORDS.find(({ is, not }) => is.test(words) && !not?.test(words));
  if (!own) return YIELD_UNIT_ALONE.test(words) ? { role: 'yield', rank: -1 } : null;
  if (own.role === 'yield') {
    // Dry yields are what trials are judged by.
    const basis = basisNamed(name);
    const rank = basis === 'dry' ? 1 : basis === 'wet' ? -1 : 0;
    return { role: 'yield', rank: AVERAGED.test(words) ? rank - 3 : rank };
  }
  return { role: own.role, rank: rankOf(words, own) };
}

/** Whether a name speaks of a mean over seasons or plots. */
export function isAveraged(name: string): boolean {
  return AVERAGED.test(headerText(name));
}

function rankOf(words: string, { best, rather, hardly, least }: TrialWords): number {
  if (least?.test(words)) return -2;
  if (hardly?.test(words)) return -1;
  if (best?.test(words)) return 2;
  return rather?.test(words) ? 1 : 0;
}

/** Whether a yield's name says that grain was weighed with the water it was cut with, dry, or without any water. */
export function basisNamed(name: string): 'wet' | 'dry' | 'dry matter' | null {
  const words = headerText(name);
  // `at 15 % moisture` is dry, and so is `86 % dry matter`, whatever the words.
  if (/\d_pct_/.test(words) && !/_100_pct_/.test(words)) return 'dry';
  if (DRY_MATTER.test(words)) return 'dry matter';
  return WET.test(words) ? 'wet' : DRY.test(words) ? 'dry' : null;
}
