const locale = 'en-US';
const cache = new Map<number, Intl.NumberFormat>();

function format(decimals: number): Intl.NumberFormat {
  let found = cache.get(decimals);
  if (!found) {
    found = new Intl.NumberFormat(locale, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
    });
    cache.set(decimals, found);
  }
  return found;
}

/** A figure with grouped thousands and a true minus sign; an en dash where it is not known. */
export function figure(value: number | null, decimals = 0): string {
  if (value === null || !Number.isFinite(value)) return '–';
  const text = format(decimals).format(Math.abs(value));
  return value < 0 && /[1-9]/.test(text) ? `−${text}` : text;
}

/** Money: `$1,234.50` for dollars, `1,234.50 EUR` for others. */
export function money(value: number | null, currency: string, decimals = 2): string {
  if (value === null || !Number.isFinite(value)) return '–';
  const digits = format(decimals).format(Math.abs(value));
  const sign = value < 0 && /[1-9]/.test(digits) ? '−' : '';
  return currency === 'USD' ? `${sign}$${digits}` : `${sign}${digits} ${currency}`;
}

/** Money with its sign always shown, for differences. */
export function moneyDifference(value: number, currency: string, decimals = 2): string {
  return value > 0 ? `+${money(value, currency, decimals)}` : money(value, currency, decimals);
}

export function percent(share: number, decimals = 0): string {
  return `${figure(100 * share, decimals)} %`;
}

/** `3 zones`, `1 zone`. */
export function count(n: number, one: string, many = `${one}s`): string {
  return `${figure(n)} ${n === 1 ? one : many}`;
}
