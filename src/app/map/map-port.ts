import type { FeatureCollection } from 'geojson';

/** Colours of the map that are not data, as CSS colours. */
export interface MapInk {
  readonly ground: string;
  readonly field: string;
  readonly ink: string;
  readonly halo: string;
  readonly accent: string;
}

/** West, south, east, north, degrees. */
export type Bounds = readonly [number, number, number, number];

/** A canvas to lay on the map with the lon/lat of its corners, top left first, clockwise. */
export interface LaidPicture {
  readonly canvas: HTMLCanvasElement;
  readonly corners: readonly (readonly [number, number])[];
}

/** What the app asks of a map; it knows no library. North is up and the map is flat. */
export interface MapPort {
  setInk(ink: MapInk): void;
  setPicture(picture: LaidPicture | null): void;
  /** `boundary`: polygons; `divisions`: lines; `picked`: the square of a cell. */
  setOutline(which: 'boundary' | 'divisions' | 'picked', shapes: FeatureCollection): void;
  /** Points with `title` and `detail`. */
  setLabels(points: FeatureCollection): void;
  /** Bring into view, and keep there until the user moves the map. */
  fit(bounds: Bounds): void;
  zoomBy(levels: number): void;
  /** Pixels from the map's top left. */
  toScreen(lon: number, lat: number): { x: number; y: number };
  /** Ground metres a pixel at the middle of the map. */
  metresPerPixel(): number;
  onPick(tell: (lon: number, lat: number) => void): void;
  onMove(tell: () => void): void;
  remove(): void;
}
