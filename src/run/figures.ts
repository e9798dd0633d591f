/** Figures as the house writes them, the same in every locale. */
const whole = new Intl.NumberFormat('en-US', { maximumFractionDigits: 0 });
const tenth = new Intl.NumberFormat('en-US', { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const cents = new Intl.NumberFormat('en-US', { minimumFractionDigits: 2, maximumFractionDigits: 2 });
const million = new Intl.NumberFormat('en-US', { minimumFractionDigits: 2, maximumFractionDigits: 2 });

export const figure = {
  whole: (value: number): string => whole.format(value),
  /** `1 zone`, `3 zones`. */
  count: (value: number, thing: string): string => `${whole.format(value)} ${thing}${value === 1 ? '' : 's'}`,
  acres: (value: number): string => tenth.format(value),
  tenth: (value: number): string => tenth.format(value),
  dollars: (value: number): string => `${value < 0 ? '−' : ''}$${whole.format(Math.abs(value))}`,
  cents: (value: number): string => `${value < 0 ? '−' : ''}$${cents.format(Math.abs(value))}`,
  seeds: (value: number): string =>
    value >= 1e6 ? `${million.format(value / 1e6)} million` : whole.format(value),
};
