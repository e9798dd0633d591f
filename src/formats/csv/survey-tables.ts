import { columnKey } from '../../engine/layers/column-key.ts';

/** A table of the public soil survey whose exports have no header row. */
interface SurveyTable {
  readonly table: string;
  readonly columns: readonly string[];
}

/** Low, representative and high, as the survey gives most properties. */
const lowToHigh = (name: string) => [`${name}_l`, `${name}_r`, `${name}_h`];

/** `hzdept*` is the three columns of a property. */
const columnsOf = (names: string): string[] =>
  names
    .trim()
    .split(/\s+/)
    .flatMap((name) => (name.endsWith('*') ? lowToHigh(name.slice(0, -1)) : [name]));

/**
 * Columns, in their order, of the tables used here. They are those of the published table structure of SSURGO, the soil survey of the United States
 * (USDA-NRCS, SSURGO metadata: table column descriptions), which names tables and columns but whose text exports do not.
 */
const TABLES: readonly (SurveyTable & { readonly files: RegExp })[] = [
  {
    table: 'mapunit',
    files: /(^|_)mapunit$/,
    columns:
      columnsOf(`musym muname mukind mustatus muacres mapunitlfw* mapunitpfa* farmlndcl muhelcl muwathelcl muwndhelcl interpfocus invesintens
      iacornsr nhiforsoigrp nhspiagr vtsepticsyscl mucertstat lkey mukey`),
  },
  {
    table: 'component',
    files: /(^|_)comp(onent)?$/,
    columns:
      columnsOf(`comppct* compname compkind majcompflag otherph localphase slope* slopelenusle* runoff tfact wei weg erocl earthcovkind1
      earthcovkind2 hydricon hydricrating drainagecl elev* aspectccwise aspectrep aspectcwise geomdesc albedodry* airtempa* map* reannualprecip* ffd*
      nirrcapcl nirrcapscl nirrcapunit irrcapcl irrcapscl irrcapunit cropprodindex constreeshrubgrp wndbrksuitgrp rsprod* foragesuitgrpid wlgrain wlgrass
      wlherbaceous wlshrub wlconiferous wlhardwood wlwetplant wlshallowwat wlrangeland wlopenland wlwoodland wlwetland soilslippot frostact initsub*
      totalsub* hydgrp corcon corsteel taxclname taxorder taxsuborder taxgrtgroup taxsubgrp taxpartsize taxpartsizemod taxceactcl taxreaction taxtempcl
      taxmoistscl taxtempregime soiltaxedition castorieindex flecolcomnum flhe flphe flsoilleachpot flsoirunoffpot fltemik2use fltriumph2use indraingrp
      innitrateleachi misoimgmtgrp vasoimgtgrp mukey cokey`),
  },
  {
    table: 'chorizon',
    files: /(^|_)chorizon$/,
    columns:
      columnsOf(`hzname desgndisc desgnmaster desgnmasterprime desgnvert hzdept* hzdepb* hzthk* fraggt10* frag3to10* sieveno4* sieveno10*
      sieveno40* sieveno200* sandtotal* sandvc* sandco* sandmed* sandfine* sandvf* silttotal* siltco* siltfine* claytotal* claysizedcarb* om* dbtenthbar*
      dbthirdbar* dbfifteenbar* dbovendry* partdensity ksat* awc* wtenthbar* wthirdbar* wfifteenbar* wsatiated* lep* ll* pi* aashind* kwfact kffact caco3*
      gypsum* sar* ec* cec7* ecec* sumbases* ph1to1h2o* ph01mcacl2* freeiron* feoxalate* extracid* extral* aloxalate* pbray1* poxalate* ph2osoluble*
      ptotal* excavdifcl excavdifms cokey chkey`),
  },
  {
    table: 'muaggatt',
    files: /(^|_)muaggatt$/,
    columns:
      columnsOf(`musym muname mustatus slopegraddcp slopegradwta brockdepmin wtdepannmin wtdepaprjunmin flodfreqdcd flodfreqmax pondfreqprs
      aws025wta aws050wta aws0100wta aws0150wta drclassdcd drclasswettest hydgrpdcd iccdcd iccdcdpct niccdcd niccdcdpct engdwobdcd engdwbdcd engdwbll
      engdwbml engstafdcd engstafll engstafml engsldcd engsldcp englrsdcd engcmssdcd engcmssmp urbrecptdcd urbrecptwta forpehrtdcp hydclprs awmmfpwwta
      mukey`),
  },
  {
    table: 'mucropyld',
    files: /(^|_)(mucrpyd|mucropyld)$/,
    columns: columnsOf('cropname yldunits nonirryield* irryield* mukey mucrpyldkey'),
  },
  {
    table: 'cocropyld',
    files: /(^|_)(ccrpyd|cocropyld)$/,
    columns: columnsOf(
      'cropname yldunits nonirryield* irryield* cropprodindex vasoiprdgrp cokey cocropyldkey',
    ),
  },
];

/** The survey table a file of this name and number of columns is, null when it is none of those used here. */
export function surveyTable(file: string, width: number): SurveyTable | null {
  const base = file.slice(Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\'), file.lastIndexOf(' ')) + 1);
  const name = base.replace(/\.[^.]*$/, '').toLowerCase();
  return TABLES.find(({ files, columns }) => files.test(name) && columns.length === width) ?? null;
}

/** Whether a row holds column names of the table: at least half of its words are among them, however they are written (`comppct.r`). */
export function isSurveyHeader({ columns }: SurveyTable, words: readonly string[]): boolean {
  const published = new Set(columns.map(columnKey));
  return words.filter((word) => published.has(columnKey(word))).length * 2 >= columns.length;
}
