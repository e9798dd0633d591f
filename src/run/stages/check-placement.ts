import type { Issue } from '../../engine/issue.ts';
import { checkPlacement, NO_RULES, type PlacementCheck } from '../../engine/lineup/placement-check.ts';
import { reasonBy } from '../../engine/lineup/placement-words.ts';
import type { RatedProduct } from '../../engine/lineup/product.ts';
import type { Zoning } from '../../engine/zones/zoning.ts';
import type { FieldResult, OtherLayer, SoilLayer } from '../results.ts';
import { zoneFacts } from './zone-facts.ts';

export interface CheckedPlacement {
  /** By zone, then by product. */
  readonly checks: readonly (readonly PlacementCheck[])[];
  readonly issues: readonly Issue[];
}

/** What every product's placement rules say of every zone. A rule that could not be looked at is told once, with the zones. */
export function checkZones(
  field: FieldResult,
  zoning: Zoning,
  soils: SoilLayer | null,
  layers: readonly OtherLayer[],
  products: readonly RatedProduct[],
): CheckedPlacement {
  if (products.every(({ placement }) => placement.length === 0))
    return { checks: zoning.zones.map(() => products.map(() => NO_RULES)), issues: [] };
  const facts = zoneFacts(field, zoning, soils, layers);
  const checks = facts.map((ground) => products.map(({ placement }) => checkPlacement(placement, ground)));
  const issues = products.flatMap((product, index) =>
    product.placement.flatMap((_, k) => {
      const own = zoning.zones.flatMap(({ name }, zone) => {
        const finding = checks[zone][index].findings[k];
        return finding.open ? [{ zone: name, finding }] : [];
      });
      return own.length > 0 ? [notLookedAt(product, own)] : [];
    }),
  );
  return { checks, issues };
}

type Open = { readonly zone: string; readonly finding: PlacementCheck['findings'][number] };

const COULD_BE: Readonly<Record<'never' | 'care' | 'best', string>> = {
  never: 'It may be planted where it must not go',
  care: 'It may be planted where it needs care, without a word',
  best: 'It may belong there, which is not told; nothing else follows',
};

function notLookedAt(product: RatedProduct, open: readonly Open[]): Issue {
  const { rule } = open[0].finding;
  const missing = [...new Set(open.flatMap(({ finding }) => finding.share.notKnown))];
  return {
    code: 'placement-not-known',
    severity: rule.verdict === 'best' ? 'note' : 'warning',
    where: `lineup › ${product.name}`,
    found: `not known in ${open.map(({ zone }) => zone).join(', ')}: ${missing.join('; ')}`,
    expected: `what the rule asks of the ground: ${reasonBy(rule)}`,
    effect: COULD_BE[rule.verdict],
    remedy: 'Add it to the evidence under that name, or change the rule in the lineup',
  };
}
