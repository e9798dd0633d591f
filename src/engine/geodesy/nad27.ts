import type { Issue } from '../issue.ts';

/** Measured with PROJ 9.1.1 without grid files, which takes EPSG operation 1175 there. */
const FAR =
  'taken as WGS 84 it would lie tens of metres off (17.7 m at 42 N 93.5 W), and no grid of its shifts is at hand';

/** The error for a layer on NAD27 while nobody has accepted its mean shift. */
export function nad27Refused(where: string, found: string): Issue {
  return {
    code: 'crs-nad27',
    severity: 'error',
    where,
    found: `${found}, a system on NAD27, the American datum of 1927`,
    expected: 'a system on NAD83 or WGS 84',
    effect: `The layer is not placed: ${FAR}`,
    remedy:
      'Save the layer again as WGS 84 longitude and latitude (EPSG:4326) in a program with the grids, or accept a mean shift, good to some 10 m (command line: --accept-nad27 FILE)',
  };
}

/** The warning for a layer on NAD27 placed by the mean shift that was accepted. */
export function nad27Accepted(where: string, found: string): Issue {
  return {
    code: 'crs-nad27-mean-shift',
    severity: 'warning',
    where,
    found: `${found}, a system on NAD27, the American datum of 1927`,
    expected: 'a system on NAD83 or WGS 84',
    effect:
      'The layer is placed by one mean shift for the lower 48 states (EPSG operation 1173), good to some 10 m',
    remedy: 'Save the layer again in a program with the grids of shifts where that is not near enough',
  };
}
