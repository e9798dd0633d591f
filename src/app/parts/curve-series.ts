/** One curve of a chart, with its dot and the name written at its end. */
export interface CurveSeries {
  readonly id: string;
  readonly label: string;
  readonly colour: string;
  /** Thin and pale: there for comparison. */
  readonly quiet: boolean;
  readonly dash: string | null;
  readonly points: readonly (readonly [number, number])[];
  readonly dot: readonly [number, number] | null;
}

/** `samples` + 1 evenly spaced points of a curve. */
export function sampled(
  from: number,
  to: number,
  value: (x: number) => number,
  samples = 48,
): (readonly [number, number])[] {
  return Array.from({ length: samples + 1 }, (_, k) => {
    const x = from + ((to - from) * k) / samples;
    return [x, value(x)] as const;
  });
}
