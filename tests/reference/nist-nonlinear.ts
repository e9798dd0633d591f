type Figures = ArrayLike<number> & Iterable<number>;

/** A problem of the NIST Statistical Reference Datasets as coefficients of columns: Σ linear[k] · columns[k](x; shape). */
export interface Separable {
  readonly linear: number;
  /** Columns at one x (several figures where there are several predictors). */
  columns(x: readonly number[], shape: Float64Array): number[];
  /** What is added without a coefficient. */
  fixed?(x: readonly number[], shape: Float64Array): number;
  /** The shape at the parameters b as NIST has them, and b from coefficients and shape. */
  shapeOf(b: readonly number[]): number[];
  parameters(linear: Figures, shape: Figures): number[];
  /** The response is taken by its logarithm. */
  readonly logarithm?: true;
}

const { exp, sin, cos, atan, PI } = Math;

/** y = b₁·f(x; b₂ …) */
const scaled = (f: (x: number, b: Figures) => number): Separable => ({
  linear: 1,
  columns: ([x], shape) => [f(x, shape)],
  shapeOf: (b) => b.slice(1),
  parameters: ([b1], shape) => [b1, ...Array.from(shape)],
});
const chwirut: Separable = {
  linear: 1,
  columns: ([x], [b1, q]) => [exp(-b1 * x) / (1 + q * x)],
  shapeOf: ([b1, b2, b3]) => [b1, b3 / b2],
  parameters: ([c], [b1, q]) => [b1, 1 / c, q / c],
};
const lanczos: Separable = {
  linear: 3,
  columns: ([x], shape) => Array.from(shape, (rate) => exp(-rate * x)),
  shapeOf: (b) => [b[1], b[3], b[5]],
  parameters: (c, shape) => [c[0], shape[0], c[1], shape[1], c[2], shape[2]],
};
const gauss: Separable = {
  linear: 3,
  columns: ([x], [b2, b4, b5, b7, b8]) => [
    exp(-b2 * x),
    exp(-((x - b4) ** 2) / b5 ** 2),
    exp(-((x - b7) ** 2) / b8 ** 2),
  ],
  shapeOf: (b) => [b[1], b[3], b[4], b[6], b[7]],
  parameters: (c, s) => [c[0], s[0], c[1], s[1], s[2], c[2], s[3], s[4]],
};
/** (b₁ + b₂x + …) / (1 + …x + …) with so many figures above. */
const rational = (above: number): Separable => ({
  linear: above,
  columns: ([x], shape) => {
    const below = shape.reduce((sum, own, k) => sum + own * x ** (k + 1), 1);
    return Array.from({ length: above }, (_, k) => x ** k / below);
  },
  shapeOf: (b) => b.slice(above),
  parameters: (c, shape) => [...Array.from(c), ...Array.from(shape)],
});

/** All of the nonlinear problems that are coefficients of columns, as all here are. */
export const NIST: Readonly<Record<string, Separable>> = {
  Misra1a: scaled((x, [b2]) => 1 - exp(-b2 * x)),
  Misra1b: scaled((x, [b2]) => 1 - (1 + (b2 * x) / 2) ** -2),
  Misra1c: scaled((x, [b2]) => 1 - (1 + 2 * b2 * x) ** -0.5),
  Misra1d: scaled((x, [b2]) => (b2 * x) / (1 + b2 * x)),
  Chwirut1: chwirut,
  Chwirut2: chwirut,
  Lanczos1: lanczos,
  Lanczos2: lanczos,
  Lanczos3: lanczos,
  Gauss1: gauss,
  Gauss2: gauss,
  Gauss3: gauss,
  DanielWood: scaled((x, [b2]) => x ** b2),
  Kirby2: rational(3),
  Hahn1: rational(4),
  Thurber: rational(4),
  Nelson: {
    linear: 2,
    columns: ([x1, x2], [b3]) => [1, -x1 * exp(-b3 * x2)],
    shapeOf: (b) => [b[2]],
    parameters: ([b1, b2], [b3]) => [b1, b2, b3],
    logarithm: true,
  },
  MGH09: {
    linear: 2,
    columns: ([x], [b3, b4]) => [x * x, x].map((own) => own / (x * x + x * b3 + b4)),
    shapeOf: (b) => [b[2], b[3]],
    parameters: ([c, d], [b3, b4]) => [c, d / c, b3, b4],
  },
  MGH10: scaled((x, [b2, b3]) => exp(b2 / (x + b3))),
  MGH17: {
    linear: 3,
    columns: ([x], [b4, b5]) => [1, exp(-x * b4), exp(-x * b5)],
    shapeOf: (b) => [b[3], b[4]],
    parameters: (c, shape) => [...Array.from(c), ...Array.from(shape)],
  },
  ENSO: {
    linear: 7,
    columns: ([x], [b4, b7]) => [
      1,
      ...[12, b4, b7].flatMap((p) => [cos((2 * PI * x) / p), sin((2 * PI * x) / p)]),
    ],
    shapeOf: (b) => [b[3], b[6]],
    parameters: (c, s) => [c[0], c[1], c[2], s[0], c[3], c[4], s[1], c[5], c[6]],
  },
  Roszman1: {
    linear: 2,
    columns: ([x]) => [1, -x],
    fixed: ([x], [b3, b4]) => -atan(b3 / (x - b4)) / PI,
    shapeOf: (b) => [b[2], b[3]],
    parameters: ([b1, b2], [b3, b4]) => [b1, b2, b3, b4],
  },
  Eckerle4: {
    linear: 1,
    columns: ([x], [b2, b3]) => [exp(-0.5 * ((x - b3) / b2) ** 2)],
    shapeOf: (b) => [b[1], b[2]],
    parameters: ([c], [b2, b3]) => [c * b2, b2, b3],
  },
  Ratkowsky2: scaled((x, [b2, b3]) => 1 / (1 + exp(b2 - b3 * x))),
  Ratkowsky3: scaled((x, [b2, b3, b4]) => (1 + exp(b2 - b3 * x)) ** (-1 / b4)),
  Bennett5: scaled((x, [b2, b3]) => (b2 + x) ** (-1 / b3)),
};

export interface Certified {
  readonly starts: readonly [first: readonly number[], second: readonly number[]];
  readonly parameters: readonly number[];
  readonly deviations: readonly number[];
  readonly rss: number;
  readonly y: readonly number[];
  readonly x: readonly (readonly number[])[];
}

/** A .dat file of the collection, by its own lines. */
export function certified(text: string): Certified {
  const lines = text.split(/\r?\n/);
  const rows = lines
    .map((line) => /^\s*b\d+\s*=\s*(.+)$/.exec(line)?.[1].trim().split(/\s+/).map(Number))
    .filter((row) => row !== undefined);
  const [, first, last] = /Data\s+\(lines (\d+) to (\d+)\)/.exec(text) ?? [];
  const data = lines
    .slice(Number(first) - 1, Number(last))
    .filter((line) => line.trim() !== '')
    .map((line) => line.trim().split(/\s+/).map(Number));
  return {
    starts: [rows.map((row) => row[0]), rows.map((row) => row[1])],
    parameters: rows.map((row) => row[2]),
    deviations: rows.map((row) => row[3]),
    rss: Number(/Residual Sum of Squares:\s*(\S+)/.exec(text)?.[1]),
    y: data.map(([y]) => y),
    x: data.map(([, ...x]) => x),
  };
}
