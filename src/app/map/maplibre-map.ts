import 'maplibre-gl/dist/maplibre-gl.css';
import {
  type Coordinates,
  type GeoJSONSource,
  type ImageSource,
  Map as LibreMap,
  setWorkerUrl,
} from 'maplibre-gl';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import type { Bounds, LaidPicture, MapInk, MapPort } from './map-port.ts';
import { emptyStyle } from './style.ts';

setWorkerUrl(workerUrl);

const EARTH_CIRCUMFERENCE_M = 40_075_016.686;
const TILE_PIXELS = 512;

/** The map port over MapLibre. Resolves when it can be drawn on; rejects where the browser gives no WebGL. */
export async function mapLibreMap(container: HTMLElement, ink: MapInk): Promise<MapPort> {
  const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  const map = new LibreMap({
    container,
    style: emptyStyle(ink),
    attributionControl: false,
    fadeDuration: 0,
    dragRotate: false,
    pitchWithRotate: false,
    touchPitch: false,
    keyboard: false,
    maxZoom: 21,
    center: [-97, 41],
    zoom: 12,
  });
  map.touchZoomRotate.disableRotation();
  await new Promise<void>((ready, failed) => {
    map.once('load', () => ready());
    map.once('error', (event) => failed(event.error));
  });
  // The box around it takes the keys; the canvas must not be a second stop on the way.
  map.getCanvas().tabIndex = -1;
  // While nobody has moved the map by hand, it keeps the field in view through every change of its size.
  let fitted: Bounds | null = null;
  const fitNow = () => {
    if (fitted) map.fitBounds([...fitted], { padding: roomAround(container), animate: false });
  };
  map.on('movestart', (event) => {
    if (event.originalEvent) fitted = null;
  });
  map.on('resize', fitNow);
  const shapes = (id: string) => map.getSource(id) as GeoJSONSource;

  return {
    setInk(next) {
      map.setPaintProperty('ground', 'background-color', next.ground);
      map.setPaintProperty('field', 'fill-color', next.field);
      map.setPaintProperty('divisions', 'line-color', next.ink);
      map.setPaintProperty('boundary', 'line-color', next.ink);
      map.setPaintProperty('picked-halo', 'circle-color', next.halo);
      map.setPaintProperty('picked', 'circle-color', next.halo);
      map.setPaintProperty('picked', 'circle-stroke-color', next.accent);
      map.setPaintProperty('picked-cell', 'line-color', next.accent);
      map.setPaintProperty('labels', 'text-color', next.ink);
      map.setPaintProperty('labels', 'text-halo-color', next.halo);
    },
    setPicture(picture) {
      layPicture(map, picture);
    },
    setOutline(which, collection) {
      shapes(which).setData(collection);
    },
    setLabels(points) {
      shapes('labels').setData(points);
    },
    fit(bounds) {
      fitted = bounds;
      fitNow();
    },
    zoomBy(levels) {
      map.zoomTo(map.getZoom() + levels, { animate: !still, duration: 200 });
    },
    toScreen(lon, lat) {
      return map.project([lon, lat]);
    },
    metresPerPixel() {
      const latitude = (map.getCenter().lat * Math.PI) / 180;
      return (EARTH_CIRCUMFERENCE_M * Math.cos(latitude)) / (TILE_PIXELS * 2 ** map.getZoom());
    },
    onPick(tell) {
      map.on('click', (event) => tell(event.lngLat.lng, event.lngLat.lat));
    },
    onMove(tell) {
      map.on('move', tell);
      map.on('resize', tell);
    },
    remove() {
      map.remove();
    },
  };
}

/** Room for what lies over the map: layer switch above, legend and scale below. */
function roomAround({ clientWidth, clientHeight }: HTMLElement) {
  if (clientWidth < 560 || clientHeight < 420) return { top: 56, bottom: 60, left: 14, right: 14 };
  return { top: 66, bottom: 124, left: 40, right: 40 };
}

/** One image source serves every picture; it is made with the first, as it cannot exist without corners. */
function layPicture(map: LibreMap, picture: LaidPicture | null): void {
  if (!picture) {
    if (map.getLayer('picture')) map.setLayoutProperty('picture', 'visibility', 'none');
    return;
  }
  const coordinates = picture.corners.map((corner) => [...corner]) as unknown as Coordinates;
  if (!map.getSource('picture')) {
    map.addSource('picture', { type: 'image', coordinates });
    map.addLayer(
      {
        id: 'picture',
        type: 'raster',
        source: 'picture',
        paint: { 'raster-fade-duration': 0, 'raster-resampling': 'linear' },
      },
      'divisions',
    );
  }
  map.setLayoutProperty('picture', 'visibility', 'visible');
  (map.getSource('picture') as ImageSource).updateImage({ image: picture.canvas, coordinates });
}
