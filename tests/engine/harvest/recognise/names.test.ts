import { describe, expect, it } from 'vitest';
import { columnWords } from '../../../../src/engine/harvest/recognise/column-words.ts';
import type { Role } from '../../../../src/engine/harvest/recognise/role.ts';
import { rolesNamed } from '../../../../src/engine/harvest/recognise/spellings.ts';
import { unitInWords } from '../../../../src/engine/harvest/recognise/unit-in-words.ts';

/** Written down at one go after the spellings, to see how far they reach: 115 of 119 roles were right at first, all units; the other four are mended. */
const NAMES: readonly (readonly [name: string, role: Role | null, unit: string | null])[] = [
  ['Dry_Yld', 'yield', null],
  ['YldVolDry', 'yield', null],
  ['yield_wet_bu_per_ac', 'yield', 'bu/ac'],
  ['Grain Yield [t ha-1]', 'yield', 't/ha'],
  ['Rdt_t_ha', 'yield', 't/ha'],
  ['Rend_kg_ha', 'yield', 'kg/ha'],
  ['KornertragTHa', 'yield', 't/ha'],
  ['produtividade_kgha', 'yield', 'kg/ha'],
  ['YIELD_BPA', 'yield', 'bu/ac'],
  ['Yld lb/acre', 'yield', 'lb/ac'],
  ['Mg/ha yield', 'yield', 't/ha'],
  ['yieldKgPerHa', 'yield', 'kg/ha'],
  ['Yield Target', null, null],
  ['exp_yield', null, null],
  ['Yield Std Dev', null, null],
  ['Crop Flow (V)', 'flow', null],
  ['Mass_flow_rate', 'flow', null],
  ['Flow_kg_per_s', 'flow', 'kg/s'],
  ['GRN_FLOW', 'flow', null],
  ['flow lbs/sec', 'flow', 'lb/s'],
  ['Feed rate t/h', null, null],
  ['Grain Mass (kg)', 'mass', 'kg'],
  ['wt_lb', 'mass', 'lb'],
  ['Peso (kg)', 'mass', 'kg'],
  ['Test Weight', null, null],
  ['DIST', 'distance', null],
  ['Distance_m', 'distance', 'm'],
  ['dist_trav_ft', 'distance', 'ft'],
  ['Distance_i', 'distance', 'in'],
  ['Dst_cm', 'distance', 'cm'],
  ['Dist to edge', null, null],
  ['Swath', 'swath', null],
  ['SWTHWDTH', 'swath', null],
  ['Cut Width ft', 'swath', 'ft'],
  ['Swth_Wdt_m', 'swath', 'm'],
  ['working_width_m', 'swath', 'm'],
  ['Header Width', 'swath', null],
  ['Schnittbreite', 'swath', null],
  ['Anchura', 'swath', null],
  ['Row Width', null, null],
  ['Cycle', 'interval', null],
  ['Log Interval (s)', 'interval', 's'],
  ['Durée s', 'interval', 's'],
  ['sec_per_rec', 'interval', null],
  ['MOISTURE', 'moisture', null],
  ['Mst_pct', 'moisture', '%'],
  ['grain_moist', 'moisture', null],
  ['H2O %', 'moisture', '%'],
  ['Umidita', 'moisture', null],
  ['Hum (%)', 'moisture', '%'],
  ['Kornfeuchte', 'moisture', null],
  ['Soil moisture', null, null],
  ['Wassergehalt %', 'moisture', '%'],
  ['SPD_MPH', 'speed', 'mi/h'],
  ['VelKmH', 'speed', 'km/h'],
  ['Vehicle Speed (km/h)', 'speed', 'km/h'],
  ['GroundSpd', 'speed', null],
  ['speed_ms', 'speed', null],
  ['Fan Speed', null, null],
  ['Rotor speed rpm', null, null],
  ['Hdg', 'heading', null],
  ['Track', 'heading', null],
  ['COG', 'heading', null],
  ['bearing_deg', 'heading', '°'],
  ['Azimuth', 'heading', null],
  ['Kurs (Grad)', 'heading', '°'],
  ['GPS Time', 'time', null],
  ['UTC', 'time', null],
  ['Time Stamp', 'time', null],
  ['IsoTime', 'time', null],
  ['LocalTime', 'time', null],
  ['Seconds', 'time', null],
  ['HDR_UP', 'header', null],
  ['Header Status', 'header', null],
  ['Work Status', 'header', null],
  ['implement_state', 'header', null],
  ['Logging', 'header', null],
  ['Pass', 'pass', null],
  ['PASS_NO', 'pass', null],
  ['Pass #', 'pass', null],
  ['swath_num', 'pass', null],
  ['Run ID', 'pass', null],
  ['Crop Name', 'crop', null],
  ['Grain', 'crop', null],
  ['Cultivo', 'crop', null],
  ['Variety', 'product', null],
  ['Hybrid Name', 'product', null],
  ['Sorte', 'product', null],
  ['seed_product', 'product', null],
  ['Applied Rate (ks/ac)', 'rate', 'ks/ac'],
  ['Seeding Rate', 'rate', null],
  ['Actual Population', 'rate', null],
  ['Planted Pop', 'rate', null],
  ['Rate_seeds_ac', 'rate', 'seeds/ac'],
  ['Dosis (sem/m2)', 'rate', null],
  ['TargetRate', 'target', null],
  ['Tgt_Pop', 'target', null],
  ['Prescribed rate', 'target', null],
  ['Control Rate ks/ac', 'rate', 'ks/ac'],
  ['Elevation (ft)', 'elevation', 'ft'],
  ['Alt_m', 'elevation', 'm'],
  ['Z', 'elevation', null],
  ['Höhe (m)', 'elevation', 'm'],
  ['GPS Quality', 'quality', null],
  ['err_flag', 'quality', null],
  ['Lon', 'x', null],
  ['Northing', 'y', null],
  ['POINT_X', 'x', null],
  ['Field', null, null],
  ['Farm', null, null],
  ['OBJECTID', null, null],
  ['Machine ID', null, null],
  ['Temperature', null, null],
  ['Fuel Rate gal/h', null, null],
  ['Protein %', null, null],
  ['Engine Load', null, null],
  ['Residue', null, null],
  ['Area ac', null, null],
  ['Sections', null, null],
];

describe('a name by itself', () => {
  it.each(NAMES)('%s is %s in %s', (name, role, unit) => {
    expect(rolesNamed(columnWords(name))).toEqual(role === null ? [] : [role]);
    if (role !== null && unit !== null) expect(unitInWords(role, name, undefined)?.unit).toBe(unit);
  });

  it('tells its unit less than the file does', () => {
    expect(unitInWords('distance', 'Distance', 'ft')?.unit).toBe('ft');
    expect(unitInWords('distance', 'Distance_m', 'in')?.unit).toBe('in');
    expect(unitInWords('distance', 'Distance_m', 'parsec')?.unit).toBe('m');
    expect(unitInWords('yield', 'Yield', 'Mg ha⁻¹')?.unit).toBe('t/ha');
  });

  it('of a million letters is read in no time', () => {
    const long = 'targetrateyieldflow'.repeat(50_000);
    const start = performance.now();
    rolesNamed(columnWords(long));
    unitInWords('yield', long, long);
    expect(performance.now() - start).toBeLessThan(200);
  });
});
