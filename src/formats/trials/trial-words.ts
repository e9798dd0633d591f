import { headerText } from './header-text.ts';
import type { TrialRole } from './trial-role.ts';

interface TrialWords {
  readonly role: TrialRole;
  /** On the name as `headerText` gives it. */
  readonly is: RegExp;
  /** Words that make it something else. */
  readonly not?: RegExp;
  /** Words that put it before, or behind, others of its role. */
  readonly rather?: RegExp;
  readonly hardly?: RegExp;
}

const YIELD =
  /yield|yeild|_yl?d_|yld|rendimi?ent|rendement|_rdt_|_rend_|ertrag|produtiv|_resa_|opbrengst|_plon_|udbytte/;
/** Of a yield, sums made from it or aims set for it. */
const NOT_MEASURED =
  /target|goal|potential|ziel|objetivo|objectif|expected|rank|_rang_|relative|relativ|_rel_|index|_lsd|_se_|_sd_|_cv_|_std_$|_std_(dev|err)|stdev|stderr|diff|advantage|(?<!\d)_pct_|check|income|_date/;
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
    not: new RegExp(`${YIELD.source}|soil|boden|_sol_|suelo|air_|target|_base_|date|status`),
  },
  {
    role: 'environment',
    is: /environ|_env_|umwelt|_milieu_|_ambiente?_|omgeving|miljo|yield_level|(site|trial|location|loc|standort|test)_(mean|avg|average|mittel)|ertragsniveau|site_index/,
    not: /soil|_id_$/,
  },
  { role: 'yield', is: YIELD, not: NOT_MEASURED },
  {
    role: 'rate',
    is: /seed(s|ing)?_?(rate|pop|dens)|sown|sowing|plant(ed|ing)_?(rate|pop|dens)|plant_rate|(target|goal|desired)_?(pop|stand|plants|dens)|^_rates?_|_rates?_(k|ks|1000|seeds?|plants?|ac|acre|ha|m_?2)_|_seeds?_(k_|1000_)?(a|ac|acre|ha|m_?2)_|^_seeds_|saat(starke|dichte|menge|st_|rate)|aussaat|_korner_|semis_|grains_m_?2|siembra|semillas|zaai(dichtheid|hoeveelheid|zaad)|_zaden_|udsaed|sementes|semeadura|semina_/,
    not: new RegExp(
      `${YIELD.source}|nitro|_n_|_p_|_k_rate|fert|treat|fung|herb|spray|date|datum|fecha|cost|price|size|weight|_tkw_|growth|lodg|depth|tiefe|moist`,
    ),
  },
  {
    role: 'stand',
    is: /_stands?_|stand_?(count|dens|plants)|_pops?_|popul|_k?plants?_|_pfl_|plant_?(count|dens|number|pop|stand)|densit|_dens_|densid|densita|pflanzen|bestand|peuplement|_pieds_|_plantes?_|poblac|plantas|_plantgetal|standdicht|_planten|plantetal|plantebestand|_planter|_piante_/,
    not: new RegExp(
      `${YIELD.source}|height|hohe|lange|hauteur|altura|hoogte|hojde|date|datum|fecha|lodg|lager|loss|type|spacing|weight|gewicht|schutz|health|vigou?r|bulk|soil|moist|ear_|per_plant`,
    ),
    rather: /final|harvest|actual|count|_stands?_|ernte|recolte|cosecha|oogst|host/,
  },
  {
    role: 'year',
    is: /_years?_|_yr_|jahr_|_annees?_|_ano_|_anio_|jaar_|_(forsogs|host)?aa?r_|_anno_|_seasons?_|_campagne_|_campana_/,
    not: /yield|_age_|date|solar|_bar_|star_|near_/,
  },
  {
    role: 'brand',
    is: /_brands?_|company|_marke_|_marque_|_marca_|_merk_|_maerke_|zuchter|breeder|obtenteur|semencier|_supplier_|_firma_/,
    not: /_id_$|name_of_product/,
  },
  {
    role: 'crop',
    is: /_crops?_|_crop_?(name|type)_|_species_|_cultivo_|_cultura_|_culture_|_kultur_|_coltura_|_gewas_|fruchtart|_frucht_|afgrode|_espece_|_especie_|_getreideart_/,
    not: /year|zone|_id_$|prev|vor|voor|forfrugt|ante/,
  },
  {
    role: 'rep',
    is: /_reps?_|_rep_?\d?_|replic|repet|wiederhol|_wdh_|_whg?_|herhaling|gentag|fallesparz/,
    not: /mean|count|_n_/,
  },
  { role: 'block', is: /_blocks?_|_blk_|_blocs?_|_bloques?_|_blok_|_blokken_|_blocco_|_bloco_/ },
  {
    role: 'trial',
    is: /_trials?_|_experiment|_exp_|_versuchs?(nummer|name|nr)?_|_essais?_|_ensayos?_|_proe(f|ven)(nummer)?_|_forsog(s?nr)?_|_stud(y|ies)_|_tests?_/,
    not: /type|treat|weight|date|_n_$/,
  },
  {
    role: 'site',
    is: /_sites?_|locat|_loc_|_town_|_farm_|_field_|_place_|_county_|standort|versuchsort|_ort_|_lieux?_|localit|_commune_|_sitio_|localidad|_lugar_|locatie|_plaats_|proefveld|proefplaats|_sted_|forsogssted|lokalitet|lokation|_localita_|_local_/,
    not: /latit|longit|_lat_|_lon_|_id_of/,
    rather: /^_(sites?|locations?|loc)_(name_)?$/,
    hardly: /_county_|_farm_|_field_|_town_|_id_|_no_|_nr_/,
  },
  {
    role: 'product',
    is: /_produ(ct|cts|cto|kt|it|to|ctname|ktnavn)_|hybrid|_hyb_|hibrid|ibrido|variet|_vrty_|_var_|cultivar|_entr(y|ies)_|_gen_|genot[iy]p|_geno_|_sorte?(n|nname|n_name|name)?_|_sortnavn_|_ras_|_rasnaam_|_rassen_|prufglied|^_(name|navn|naam|nom|nombre|bezeichnung)_$|_lines?_/,
    not: /yield|yld|rate|count|_type_|_n_$|_year|maturity/,
    rather: /hybrid|hibrid|ibrido|variet|cultivar|produ[ck]?[it]|_sorte?n?_|_ras_|genot/,
    hardly: /_entr|^_(name|navn|naam|nom|nombre|bezeichnung)_$|_lines?_|_no_|_nr_|_num|_id_|_code_/,
  },
];

/** What a name says of its column: the role, and 1 where the words put it before others of that role, −1 behind, 0 neither. */
export interface Named {
  readonly role: TrialRole;
  readonly rank: -1 | 0 | 1;
}

export function roleNamed(name: string): Named | null {
  const words = headerText(name);
  const own = WORDS.find(({ is, not }) => is.test(words) && !not?.test(words));
  if (!own) return null;
  if (own.role === 'yield') {
    // Dry yields are what trials are judged by.
    const basis = basisNamed(name);
    return { role: 'yield', rank: basis === 'dry' ? 1 : basis === 'wet' ? -1 : 0 };
  }
  return { role: own.role, rank: own.hardly?.test(words) ? -1 : own.rather?.test(words) ? 1 : 0 };
}

/** Whether a yield's name says that grain was weighed with the water it was cut with, dry, or without any water. */
export function basisNamed(name: string): 'wet' | 'dry' | 'dry matter' | null {
  const words = headerText(name);
  // `at 15 % moisture` is dry, and so is `86 % dry matter`, whatever the words.
  if (/\d_pct_/.test(words) && !/_100_pct_/.test(words)) return 'dry';
  if (DRY_MATTER.test(words)) return 'dry matter';
  return WET.test(words) ? 'wet' : DRY.test(words) ? 'dry' : null;
}
