import type { FittedLineup } from '../engine/lineup/fit-lineup.ts';
import type { Product } from '../engine/lineup/product.ts';
import { FAMILIES } from '../engine/response/families.ts';
import { bestStandAt, type FittedRow } from './fit-rows.ts';
import { saidOfEach } from './said-of-each.ts';
import { table as rowsOfText } from './tell.ts';

/** The curves of a crop as a table, and below it what is in doubt. */
export function cropText(
  crop: string,
  own: FittedLineup,
  rows: readonly FittedRow[],
  bootstrap: boolean,
): string {
  const lines = rows.map(({ product, evidence: { bootstrap_k } }) => {
    const { name, response, fit: how } = product;
    const drawn = bootstrap ? [intervalText(bootstrap_k)] : [];
    if (response === null || how === null)
      return [name, '–', '–', '–', '–', ...drawn, String(how?.sites ?? 0), '–'];
    const best = bestStandAt(product, own.reference_buPerAc);
    return [
      name,
      FAMILIES[response.family].title,
      response.level_buPerAc.toFixed(1),
      best && Number.isFinite(best.value) ? `${best.value.toFixed(1)}k` : 'none',
      intervalText(best),
      ...drawn,
      String(how.sites),
      `${leaningOf(how)} %`,
    ];
  });
  const head = ['product', 'curve', 'bu/ac', 'best stand', '95 % interval'];
  const all = [...head, ...(bootstrap ? ['sites drawn again'] : []), 'sites', 'leaning'];
  const doubts = saidOfEach(
    rows.map(({ product: { name, fit: how }, evidence: { said } }) => ({
      name,
      // How the family was chosen is said once for the crop; that a product has no curve of its own is said here.
      texts: [...(how?.said ?? []).slice(how?.leaning === 1 ? 0 : 1), ...said],
    })),
  );
  const leans = rows.some(({ product: { response, fit: how } }) => response !== null && leaningOf(how) > 0);
  return [
    `${crop.charAt(0).toUpperCase()}${crop.slice(1)}, on ground of ${own.reference_buPerAc} bu/ac`,
    ...own.said,
    '',
    rowsOfText([all, ...lines], 2),
    ...(leans ? [LEANING] : []),
    ...(doubts.length > 0 ? ['', ...doubts] : []),
  ].join('\n');
}

const LEANING =
  'Leaning: how much of a best stand is taken from the other products, the rest being from its own plots.';

/** Percent. */
function leaningOf(how: Product['fit']): number {
  return Math.round(100 * (how?.leaning ?? 0));
}

function intervalText(of: { readonly low: number; readonly high: number } | null): string {
  if (of === null || !Number.isFinite(of.low)) return '–';
  // Open to a side: the plots do not show where the best stand ends.
  if (!Number.isFinite(of.high)) return of.low > 0 ? `${of.low.toFixed(1)} or more` : 'open';
  return of.low > 0 ? `${of.low.toFixed(1)} to ${of.high.toFixed(1)}` : `up to ${of.high.toFixed(1)}`;
}
