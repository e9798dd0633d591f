/** Stands that are one: the thinnest and the densest of them, 1000 plants/ac, and how many figures they are. */
export interface StandTried {
  readonly min: number;
  readonly max: number;
  readonly figures: number;
}

/** Stands within this of each other, as a share, are one: stands counted in plots never agree to the plant. Our own choice. */
const SAME_STAND = 0.05;

/** Which of sorted stands, 1000 plants/ac, are one with the thinnest of them. */
export function standsTried(sorted: Float64Array): StandTried[] {
  const tried: { min: number; max: number; figures: number }[] = [];
  for (const own of sorted) {
    const last = tried[tried.length - 1];
    if (!last || own > last.min * (1 + SAME_STAND)) tried.push({ min: own, max: own, figures: 1 });
    else if (own > last.max) {
      last.max = own;
      last.figures++;
    }
  }
  return tried;
}

/** `29,800 and 30,100 plants/ac count as one stand`; '' where none that are told apart to the hundred do. */
export function asOneStand(tried: readonly StandTried[]): string {
  const words = tried.flatMap(({ min, max, figures }) =>
    plants(min) === plants(max) ? [] : [`${plants(min)} ${figures === 2 ? 'and' : 'to'} ${plants(max)}`],
  );
  if (words.length === 0) return '';
  return words.length === 1
    ? `${words[0]} plants/ac count as one stand`
    : `${words.slice(0, -1).join(', ')} as well as ${words[words.length - 1]} plants/ac count as one stand each`;
}

/** Thousands of plants as plants, to the hundred. */
export function plants(k: number): string {
  const whole = String(Math.round(10 * k) * 100);
  return whole.replace(/\B(?=(\d{3})+$)/g, ',');
}
