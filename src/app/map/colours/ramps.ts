/** Red, green, blue, 0..255. */
export type Rgb = readonly [number, number, number];

/** A ramp: 0..1 → colour. */
export type Ramp = (t: number) => Rgb;

/**
 * Cividis, a ramp of even lightness steps that reads alike to colour-blind eyes (Nuñez, Anderton and Renslow 2018,
 * doi:10.1371/journal.pone.0199239), by the polynomial of d3-scale-chromatic.
 */
export const cividis: Ramp = (t) => {
  const u = Math.min(1, Math.max(0, t));
  const byte = (value: number) => Math.min(255, Math.max(0, Math.round(value)));
  return [
    byte(-4.54 - u * (35.34 - u * (2381.73 - u * (6402.7 - u * (7024.72 - u * 2710.57))))),
    byte(32.49 + u * (170.73 + u * (52.82 - u * (131.46 - u * (176.58 - u * 67.37))))),
    byte(81.24 + u * (442.36 - u * (2482.43 - u * (6167.24 - u * (6614.94 - u * 2475.67))))),
  ];
};

function through(stops: readonly Rgb[]): Ramp {
  return (t) => {
    const at = Math.min(1, Math.max(0, t)) * (stops.length - 1);
    const low = Math.min(stops.length - 2, Math.floor(at));
    const share = at - low;
    const mix = (k: 0 | 1 | 2) => Math.round(stops[low][k] * (1 - share) + stops[low + 1][k] * share);
    return [mix(0), mix(1), mix(2)];
  };
}

export function rgb(hex: string): Rgb {
  const n = Number.parseInt(hex.slice(1), 16);
  return [(n >> 16) & 255, (n >> 8) & 255, n & 255];
}

export function css(colour: Rgb): string {
  return `rgb(${colour[0]} ${colour[1]} ${colour[2]})`;
}

/** Seeding rate: one hue, further from the ground means thicker, by day and by night. */
const rateByDay = through(['#e0e8f4', '#b4c7e4', '#82a2d0', '#4f78b3', '#274f8e'].map(rgb));
const rateByNight = through(['#22304a', '#33507f', '#4c75b0', '#7ea3d8', '#c0d6f6'].map(rgb));

export function rateRamp(night: boolean): Ramp {
  return night ? rateByNight : rateByDay;
}

/** Zones, poorest ground to best: dry straw to wet loam. */
const zonesByDay = through(['#efe5cd', '#d8c096', '#b3946a', '#856a4c', '#5a4636'].map(rgb));
const zonesByNight = through(['#3a332a', '#5d4f3d', '#877053', '#b3986f', '#e0cda4'].map(rgb));

export function zoneRamp(night: boolean): Ramp {
  return night ? zonesByNight : zonesByDay;
}

/** Doubt (a standard error, a spread): mist, thicker where less is sure. */
const doubtByDay = through(['#f1efea', '#cfcdca', '#a3a3a4', '#75777b', '#43474e'].map(rgb));
const doubtByNight = through(['#23282d', '#43494f', '#6b7177', '#9a9ea0', '#d6d5d0'].map(rgb));

export function doubtRamp(night: boolean): Ramp {
  return night ? doubtByNight : doubtByDay;
}

/** Other layers, which are only looked at: sea green from shallow to deep. */
const otherByDay = through(['#e7efec', '#bad3cc', '#83b1a7', '#4d8b82', '#225f59'].map(rgb));
const otherByNight = through(['#1c302e', '#2c504c', '#45786f', '#74a89d', '#bfddd4'].map(rgb));

export function otherRamp(night: boolean): Ramp {
  return night ? otherByNight : otherByDay;
}
