import { type Rgb, rgb } from './ramps.ts';

/** Soils: low chroma, told apart by their labels first. */
const soilsByDay = [
  '#e3dac6',
  '#cfd3c0',
  '#d9c7bc',
  '#c6cdd1',
  '#dccfa9',
  '#cdc3cc',
  '#b9b7a8',
  '#bccac4',
].map(rgb);
const soilsByNight = [
  '#4a4438',
  '#3f4538',
  '#4c403a',
  '#3a4247',
  '#4e4730',
  '#443d45',
  '#38382f',
  '#35423e',
].map(rgb);

export function soilColour(index: number, night: boolean): Rgb {
  const set = night ? soilsByNight : soilsByDay;
  return set[index % set.length];
}

/** Products: four hues that stay apart for colour-blind eyes, each with its own hatch as the second cue. */
const products = ['#5c86c2', '#d8a152', '#5fa39a', '#a8718f'].map(rgb);

export function productColour(place: number): Rgb {
  return products[place % products.length];
}

/** Hatch of the product that stands at `place` among those used: 0 plain, 1 rising, 2 falling, 3 dots. */
export function productHatch(place: number): number {
  return place % products.length;
}
