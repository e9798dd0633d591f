/** A stream of random numbers that a seed fixes for ever, on any machine. */
export interface Random {
  /** Uniform on [0, 1), 53 bits. */
  uniform(): number;
  /** Normal, mean 0 and standard deviation 1. */
  normal(): number;
  /** A whole number from 0 to n − 1. */
  integer(n: number): number;
}

/** Four 32-bit words, not all zero. */
type Words = readonly [number, number, number, number];

/**
 * The stream of `seed`, of which the low 32 bits count.
 * Words from xoshiro128**, its state filled by splitmix32 so that neighbouring seeds start far apart.
 * Normals by Marsaglia's polar method (Marsaglia & Bray 1964, SIAM Review 6:260-264).
 */
export function random(seed: number): Random {
  const word = splitmix32(seed);
  const next = xoshiro128StarStar([word(), word(), word(), word()]);
  let spare = Number.NaN;

  const uniform = () => ((next() >>> 5) * 0x4000000 + (next() >>> 6)) / 0x20000000000000;
  const normal = () => {
    if (!Number.isNaN(spare)) {
      const kept = spare;
      spare = Number.NaN;
      return kept;
    }
    for (;;) {
      const a = 2 * uniform() - 1;
      const b = 2 * uniform() - 1;
      const s = a * a + b * b;
      if (s >= 1 || s === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(s)) / s);
      spare = b * scale;
      return a * scale;
    }
  };
  return { uniform, normal, integer: (n) => Math.floor(uniform() * n) };
}

/**
 * Unsigned 32-bit words from a given state, by xoshiro128** 1.1.
 * Source: Blackman & Vigna 2021, Scrambled linear pseudorandom number generators, ACM TOMS 47(4), art. 36.
 */
export function xoshiro128StarStar(state: Words): () => number {
  let [a, b, c, d] = state;
  return () => {
    const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = rotateLeft(d, 11);
    return result;
  };
}

/** A Weyl sequence through a 32-bit mixer: splitmix (Steele, Lea & Flood 2014, OOPSLA) cut to 32 bits. */
function splitmix32(seed: number): () => number {
  let weyl = seed | 0;
  return () => {
    weyl = (weyl + 0x9e3779b9) | 0;
    let t = Math.imul(weyl ^ (weyl >>> 16), 0x21f0aaad);
    t = Math.imul(t ^ (t >>> 15), 0x735a2d97);
    return t ^ (t >>> 15);
  };
}

function rotateLeft(word: number, bits: number): number {
  return (word << bits) | (word >>> (32 - bits));
}
