import type { StyleSpecification } from 'maplibre-gl';
import type { MapInk } from './map-port.ts';

const empty = { type: 'geojson', data: { type: 'FeatureCollection', features: [] } } as const;

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
        id: 'picked-halo',
        type: 'line',
        source: 'picked',
        layout: { 'line-join': 'round' },
        paint: { 'line-color': ink.halo, 'line-width': 6 },
      },
      {
        id: 'picked',
        type: 'line',
        source: 'picked',
        layout: { 'line-join': 'round' },
        paint: { 'line-color': ink.accent, 'line-width': 3 },
      },
      {
        id: 'labels',
        type: 'symbol',
        source: 'labels',
        layout: {
          'text-field': [
            'format',
            ['get', 'title'],
            { 'text-font': ['literal', ['DejaVu Sans Bold', 'sans-serif']] },
            '\n',
            {},
            ['get', 'detail'],
            { 'font-scale': 0.92 },
          ],
          'text-font': ['DejaVu Sans', 'sans-serif'],
          'text-size': 13.5,
          'text-line-height': 1.25,
          'text-padding': 6,
        },
        paint: { 'text-color': ink.ink, 'text-halo-color': ink.halo, 'text-halo-width': 2.2, 'text-halo-blur': 0.4 },
      },
    ],
  };
}
