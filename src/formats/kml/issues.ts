import { type Issue, Refusal } from '../../engine/issue.ts';
import { type Tally, tallyText } from '../tally.ts';

/** Placemarks that are not used, by reason. */
export type Aside = ReadonlyMap<string, Tally>;

const EXPECTED: Readonly<Record<string, string>> = {
  'no-geometry': 'a polygon or a point in every placemark',
  'geometry-not-used': 'polygons, or one point a placemark',
  'kml-coordinates': 'longitude,latitude in degrees',
  'ring-too-short': 'rings of three corners',
};

export function asideIssue(code: string, where: string, tally: Tally): Issue {
  return {
    code,
    severity: 'warning',
    where,
    found: tallyText(tally, 'placemarks'),
    expected: EXPECTED[code],
    effect: 'They are set aside',
    remedy: 'Look at these placemarks in their own program',
  };
}

/** A document without a place is worth a warning; one whose every place is unsound or a line is refused. */
export function nothingIssue(where: string, aside: Aside, links: number): Issue {
  const places = [...aside].filter(([reason]) => reason !== 'no-geometry');
  const found = [
    ...[...aside.values()].map((tally) => tallyText(tally, 'placemarks')),
    ...(links > 0 ? [`${links} links to other files`] : []),
  ];
  if (places.length > 0) {
    const code = aside.has('kml-coordinates') ? 'kml-coordinates' : 'kml-no-shapes';
    throw new Refusal({
      code,
      where,
      found: found.join('; '),
      expected: 'polygons or points with longitude,latitude in degrees',
      effect: 'The file was not read',
      remedy: 'Look at these placemarks in their own program',
    });
  }
  return {
    code: 'kml-no-geometry',
    severity: 'warning',
    where,
    found: found.length > 0 ? `no geometry inside: ${found.join('; ')}` : 'no placemarks',
    expected: 'polygons or points',
    effect: 'There is nothing to use in it',
    remedy: links > 0 ? 'Hand over the linked files themselves' : 'Export the places with their geometry',
  };
}

export function linkIssue(where: string, links: number): Issue[] {
  if (links === 0) return [];
  return [
    {
      code: 'kml-network-link',
      severity: 'warning',
      where,
      found: `${links} links to other files`,
      expected: 'all places in this file',
      effect: 'What they lead to is not fetched',
      remedy: 'Hand over the linked files too if they matter',
    },
  ];
}

export function repairedIssue(where: string, tally: Tally): Issue {
  return {
    code: 'geometry-repaired',
    severity: 'warning',
    where,
    found: tallyText(tally, 'placemarks'),
    expected: 'one kind of shape, closed rings of three corners',
    effect: 'They are used as repaired',
    remedy: 'Look at these placemarks in their own program',
  };
}

export function altitudeIssue(where: string, tally: Tally): Issue {
  return {
    code: 'altitude-dropped',
    severity: 'note',
    where,
    found: `altitudes in ${tallyText(tally, 'placemarks')}`,
    expected: 'longitude and latitude',
    effect: 'The altitudes are not kept',
    remedy: 'Nothing to do',
  };
}
