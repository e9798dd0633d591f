import 'maplibre-gl/dist/maplibre-gl.css';
import { type Coordinates, type GeoJSONSource, type ImageSource, Map as LibreMap, setWorkerUrl } from 'maplibre-gl';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import type { LaidPicture, MapInk, MapPort } from './map-port.ts';
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
  const shapes = (id: string) => map.getSource(id) as GeoJSONSource;

  return {
    setInk(next) {
      map.setPaintProperty('ground', 'background-color', next.ground);
      map.setPaintProperty('field', 'fill-color', next.field);
      map.setPaintProperty('divisions', 'line-color', next.ink);
      map.setPaintProperty('boundary', 'line-color', next.ink);
      map.setPaintProperty('picked-halo', 'line-color', next.halo);
      map.setPaintProperty('picked', 'line-color', next.accent);
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
    fit([west, south, east, north], animate) {
      const { clientWidth, clientHeight } = container;
      const narrow = clientWidth < 560;
      const pad = Math.min(clientWidth, clientHeight) * (narrow ? 0.06 : 0.08);
      const top = narrow ? 54 : 62;
      map.fitBounds([west, south, east, north], {
        padding: { top, bottom: pad, left: pad, right: pad },
        animate: animate && !still,
        duration: 500,
      });
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
