import type { GeoJSONSourceSpecification, StyleSpecification } from 'maplibre-gl';
import type { MapInk } from './map-port.ts';

const empty: GeoJSONSourceSpecification = {
  type: 'geojson',
  data: { type: 'FeatureCollection', features: [] },
};

/** The whole style, inline and offline: paper, the field, its lines and its labels (drawn with the system's fonts). */
export function emptyStyle(ink: MapInk): StyleSpecification {
  return {
    version: 8,
    sources: {
      boundary: empty,
      divisions: empty,
      picked: empty,
      labels: empty,
    },
    layers: [
      { id: 'ground', type: 'background', paint: { 'background-color': ink.ground } },
      { id: 'field', type: 'fill', source: 'boundary', paint: { 'fill-color': ink.field } },
      {
        id: 'divisions',
        type: 'line',
        source: 'divisions',
        layout: { 'line-cap': 'round' },
        paint: { 'line-color': ink.ink, 'line-width': 1.1, 'line-opacity': 0.7 },
      },
      {
        id: 'boundary',
        type: 'line',
        source: 'boundary',
        layout: { 'line-join': 'round' },
        paint: { 'line-color': ink.ink, 'line-width': 2 },
      },
      {
        id: 'labels',
        type: 'symbol',
        source: 'labels',
        // `bold` is no family: it is where the library reads the weight from, and the next name in the list is drawn.
        layout: {
          'text-field': [
            'format',
            ['get', 'title'],
            { 'text-font': ['literal', ['bold', 'system-ui', 'sans-serif']] },
            '\n',
            {},
            ['get', 'detail'],
            { 'font-scale': 0.92 },
          ],
          'text-font': ['system-ui', 'sans-serif'],
          'text-size': ['interpolate', ['linear'], ['zoom'], 14, 11, 15.5, 13.5, 18, 16],
          'text-line-height': 1.25,
          'text-padding': 6,
        },
        paint: {
          'text-color': ink.ink,
          'text-halo-color': ink.halo,
          'text-halo-width': 2.2,
          'text-halo-blur': 0.4,
        },
      },
      {
        id: 'picked-cell',
        type: 'line',
        source: 'picked',
        filter: ['==', ['geometry-type'], 'Polygon'],
        layout: { 'line-join': 'round' },
        paint: { 'line-color': ink.accent, 'line-width': 1.5 },
      },
      {
        id: 'picked-halo',
        type: 'circle',
        source: 'picked',
        filter: ['==', ['geometry-type'], 'Point'],
        paint: { 'circle-radius': 9, 'circle-color': ink.halo },
      },
      {
        id: 'picked',
        type: 'circle',
        source: 'picked',
        filter: ['==', ['geometry-type'], 'Point'],
        paint: {
          'circle-radius': 5,
          'circle-color': ink.halo,
          'circle-stroke-width': 3,
          'circle-stroke-color': ink.accent,
        },
      },
    ],
  };
}
