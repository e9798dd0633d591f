/** A name beyond this length is no name; the rest is not looked at. */
const LONGEST = 200;
const ACCENTS = /[\u0300-\u036f]/g;

/**
 * A column name as words between underscores, lower case, without accents and without the `per` of units: `Débit (kg/s)` is `_debit_kg_s_`,
 * `GrainFlow_lbPerSec` is `_grain_flow_lb_sec_`. Words of exports in one case stay together (`DRYYIELD`).
 */
export function columnWords(name: string): string {
  const plain = name
    .slice(0, LONGEST)
    .normalize('NFD')
    .replace(ACCENTS, '')
    .replace(/ß/g, 'ss')
    .replace(/([a-z])([A-Z])/g, '$1_$2')
    .toLowerCase()
    .replace(/%/g, ' pct ')
    .replace(/[°º]/g, ' deg ')
    .replace(/²/g, '2')
    // kg ha-1, kg ha⁻¹
    .replace(/([a-z])\^?[-⁻][1¹](?![0-9])/g, '$1')
    .replace(/[^a-z0-9]+/g, '_');
  return `_${plain}_`.replace(/_+/g, '_').replace(/_(per|pro|por|par)(?=_.)/g, '');
}
