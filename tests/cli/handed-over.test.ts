import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildCli, freshFolder } from './built.ts';
import { handedOver, type Wanted } from './handed-over/handed-over.ts';
import { judge } from './handed-over/judge.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

const none = { mistake: 'none', litter: [] } as const;

/** Folders as growers hand them over, all invented: what is not said here is drawn by the seed. Planned, and where a third word says so run. */
const FOLDERS: readonly (readonly [seed: number, wanted: Wanted, run?: 'run'])[] = [
  [
    1,
    {
      ...none,
      boundary: 'shp feet',
      log: 'csv',
      language: 'en',
      units: 'lb in',
      style: 'in brackets',
      from: 'yield',
      soils: 'rated',
    },
    'run',
  ],
  [
    2,
    {
      ...none,
      boundary: 'shp albers',
      log: 'csv ;',
      language: 'de',
      units: 't m',
      style: 'in brackets',
      from: 'yield',
      soils: 'keyed',
    },
  ],
  [
    3,
    {
      ...none,
      boundary: 'shp mercator',
      log: 'shp feet',
      language: 'es',
      units: 'kg m',
      style: 'in brackets',
      from: 'yield',
      soils: 'symbols',
    },
    'run',
  ],
  [
    4,
    {
      ...none,
      boundary: 'shp own grid',
      log: 'shp own grid',
      language: 'pt',
      units: 'kg cm',
      style: 'in brackets',
      from: 'yield',
      soils: 'symbols two tables',
    },
  ],
  [
    5,
    {
      ...none,
      boundary: 'task file',
      log: 'csv tab utf-16',
      language: 'fr',
      units: 'q m',
      style: 'in brackets',
      from: 'yield',
      soils: 'zip',
    },
  ],
  [
    6,
    {
      ...none,
      boundary: 'kmz',
      log: 'geojson',
      language: 'it',
      units: 't m',
      style: 'in brackets',
      from: 'yield',
      soils: 'none',
    },
  ],
  [
    7,
    {
      ...none,
      boundary: 'kml',
      log: 'zip in zip',
      language: 'plain',
      units: 'bu ft',
      style: 'none',
      from: 'yield',
    },
  ],
  [
    8,
    {
      ...none,
      boundary: 'zip',
      log: 'csv preamble',
      language: 'en',
      units: 'kg m',
      style: 'row below',
      from: 'yield',
    },
  ],
  [
    9,
    { ...none, log: 'csv', language: 'en', units: 'bu ft', style: 'in brackets', from: 'flow', crop: 'corn' },
    'run',
  ],
  [
    10,
    { ...none, log: 'csv', language: 'en', units: 'bu ft', style: 'none', from: 'flow', crop: 'corn' },
    'run',
  ],
  [
    11,
    {
      ...none,
      log: 'shp degrees',
      language: 'en',
      units: 'kg m',
      style: 'underscores',
      from: 'flow',
      crop: 'soybean',
    },
  ],
  [
    12,
    {
      ...none,
      log: 'csv',
      language: 'en',
      units: 'bu ft',
      style: 'in brackets',
      from: 'wet yield',
      crop: 'corn',
    },
    'run',
  ],
  [13, { boundary: 'farm kml', mistake: 'another field', litter: ['photo', 'readme', 'mac', 'page'] }],
  [14, { boundary: 'farm shp', mistake: 'copied', litter: ['cut zip', 'cut shp', 'cut json', 'cut kml'] }],
  [15, { boundary: 'farm geojson', mistake: 'twice', litter: ['pdf', 'sheet', 'empty', 'word', 'layer'] }],
  [16, { boundary: 'geojson', log: 'csv', mistake: 'swapped', litter: ['windows', 'contacts', 'invoice'] }],
  [17, { boundary: 'geojson', log: 'geojson', mistake: 'swapped', litter: ['dbf alone'] }],
  [18, { mistake: 'no prj', boundary: 'shp utm', litter: [] }],
  [19, { mistake: 'no prj', boundary: 'farm shp', litter: ['cut zip'] }],
  [20, { mistake: 'nad27', boundary: 'shp utm', litter: [] }],
  [
    21,
    {
      mistake: 'two crops',
      log: 'csv',
      language: 'en',
      style: 'in brackets',
      from: 'yield',
      crop: 'corn',
      litter: [],
    },
    'run',
  ],
  [22, { mistake: 'two years', log: 'csv', language: 'pt', style: 'in brackets', from: 'yield', litter: [] }],
  [23, { mistake: 'jumps', litter: [] }, 'run'],
  [24, { language: 'it' }],
  [25, { language: 'de', log: 'shp utm' }],
  [26, { language: 'es', log: 'shp utm' }],
  [27, {}],
];

describe('a folder as it was handed over', () => {
  it.each(FOLDERS.map(([seed, wanted, run]) => ({ given: handedOver(seed, wanted), run: run === 'run' })))(
    '$given.title',
    ({ given, run }) => {
      const { wrong } = judge(join(cwd, 'folder'), given, run);
      expect(wrong).toEqual([]);
    },
  );
});
