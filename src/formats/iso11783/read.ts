import { type Issue, Refusal } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { Format, Reading } from '../format.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { looksLikeMarkup, rootName } from '../xml/prolog.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute, childrenNamed } from '../xml/tree.ts';
import { readFields } from './fields.ts';
import { readGrid } from './grid.ts';
import { isoIssue } from './iso-refusal.ts';
import { isTaskFile } from './members.ts';
import { polygonSource } from './polygon-source.ts';
import { ringsOf } from './rings.ts';
import { ROOT, readTaskData, type TaskData } from './task-data.ts';
import { zoneColumns } from './zone-columns.ts';
import { readZones, type Zone } from './zones.ts';

export const iso11783: Format = {
  id: 'iso11783',
  title: 'ISO 11783-10 task file',
  extensions: ['xml'],
  recognises: ({ name, bytes }) => rootName(bytes) === ROOT || (isTaskFile(name) && looksLikeMarkup(bytes)),
  read: readTaskFile,
};

/**
 * An ISO 11783-10 task file, the first of `files`, with the grids and external files beside it: its fields, and for each task
 * its grids and the treatment zones drawn as polygons. Lenient where writers are careless and nothing hangs on it; a layer that
 * contradicts itself is refused by itself. Always `file › layer`: which task a grid is of matters. Throws a Refusal.
 */
export function readTaskFile(files: readonly FileBytes[]): Reading {
  const data = readTaskData(files);
  const sources: Source[] = [];
  const issues: Issue[] = [];
  const fields = readFields(data);
  if (fields) sources.push(fields);
  const tasks = data.all('TSK');
  const { names } = uniqueNames(
    tasks.map((task) => attribute(task, 'A')),
    data.name,
  );
  const bare = newTally();
  let [planned, logged] = [0, 0];
  tasks.forEach((task, index) => {
    logged += childrenNamed(task, 'TLG').length;
    data.find(attribute(task, 'E'), names[index]);
    const before = planned;
    for (const layer of layersOf(task, data, names[index])) {
      planned++;
      try {
        sources.push(layer());
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        issues.push(error.issue);
      }
    }
    if (planned === before) note(bare, names[index]);
  });
  issues.push(...data.issues());
  if (bare.count > 0) issues.push(noPlace(data.name, tallyText(bare, 'tasks')));
  if (logged > 0) issues.push(logsNotRead(data.name, logged));
  if (fields === null && planned === 0) issues.push(noLayers(data.name));
  return { sources, issues };
}

/** What is to be read of a task: each layer by itself, so that one may be refused and the others not. */
function layersOf(task: XmlElement, data: TaskData, id: string): (() => Source)[] {
  const grids = childrenNamed(task, 'GRD');
  const drawn = childrenNamed(task, 'TZN').some((zone) => childrenNamed(zone, 'PLN').length > 0);
  const layers = grids.map((grid) => {
    const own = grids.length > 1 ? ` ${attribute(grid, 'G')}` : '';
    const file = `${data.name} › grid ${id}${own}`;
    return () => {
      const { zones, issues } = readZones(task, data, file);
      const source = readGrid(grid, zones, data, file);
      return { ...source, issues: [...source.issues, ...issues] };
    };
  });
  return drawn ? [...layers, () => zonesLayer(task, data, `${data.name} › zones ${id}`)] : layers;
}

function zonesLayer(task: XmlElement, data: TaskData, file: string): Source {
  const { zones, issues } = readZones(task, data, file);
  const drawn = zones.filter(({ polygons }) => polygons.length > 0);
  const source = polygonSource(
    file,
    drawn.map(({ polygons }) => ringsOf(polygons)),
    drawn.map(({ code }) => `zone ${code}`),
    zoneColumns(
      drawn,
      drawn.map((_, index) => index),
    ),
  );
  const others = zones.filter((zone) => !drawn.includes(zone));
  return { ...source, issues: [...source.issues, ...issues, ...notDrawn(file, others)] };
}

function notDrawn(where: string, zones: readonly Zone[]): Issue[] {
  if (zones.length === 0) return [];
  const list = zones.map(({ code, name }) => (name === '' ? `${code}` : `${code} (${name})`));
  const found = `zones without a polygon: ${list.slice(0, 20).join(', ')}`;
  const expected = 'a polygon for each zone';
  return [
    isoIssue(
      'iso-zones-not-drawn',
      'note',
      where,
      found,
      expected,
      'They are not part of the layer',
      'Nothing to do',
    ),
  ];
}

function noPlace(where: string, found: string): Issue {
  return isoIssue(
    'iso-task-without-place',
    'note',
    where,
    `${found}, without a grid and without zones drawn`,
    'grids or polygons',
    'There is no layer of them',
    'Nothing to do',
  );
}

function logsNotRead(where: string, logged: number): Issue {
  return isoIssue(
    'iso-logs-not-read',
    'warning',
    where,
    `${logged} logs of work done`,
    'fields, grids and zones',
    'The logs are not read',
    'Export what was logged as a shapefile or CSV',
  );
}

function noLayers(where: string): Issue {
  return isoIssue(
    'iso-no-layers',
    'warning',
    where,
    'no fields, no grids and no zones drawn',
    'one of these',
    'There is nothing to use in it',
  );
}
