import type { MapInk } from '../map-port.ts';

/** The tokens of styles/tokens.css the map needs as plain colours (a map library cannot read CSS variables). */
const day: MapInk = {
  ground: '#efece4',
  field: '#ffffff',
  ink: '#1d2126',
  halo: '#fffdf9',
  accent: '#2b4a7f',
};
const night: MapInk = {
  ground: '#101315',
  field: '#1b1f23',
  ink: '#ece8df',
  halo: '#15181b',
  accent: '#9dbbe9',
};

export function mapInk(isNight: boolean): MapInk {
  return isNight ? night : day;
}
