import type { Datum } from './datum.ts';

/**
 * European systems besides UTM by their datum, one a line, as `systemsOf` reads it. All easting first, as files hold them, whatever order of axes
 * the registry gives. Source: EPSG registry v10.076 (2022-08-31), as PROJ 9.1.1 carries it.
 */
export const EUROPE: readonly { readonly datum: Datum['id']; readonly lines: string }[] = [
  {
    datum: 'ETRS89',
    lines: `
Belgian Lambert 2008 | 2.5 49.5 6.4 51.6 | lcc 50:47:52.134 4:21:33.177 49:50 51:10 | m 649328 665262 3812
LAEA Europe | -35.6 24.6 44.9 84.8 | laea 52 10 | m 4321000 3210000 3035
Portugal TM06 | -9.6 36.9 -6.1 42.2 | tmerc 39:40:05.73 -8:07:59.19 1 | m 0 0 3763
TM35FIN(E,N) | 19 58.8 31.6 70.1 | tmerc 0 27 0.9996 | m 500000 0 3067
UTM zone 31N (zE-N) | 3.3 50.9 6 56 | tmerc 0 3 0.9996 | m 31500000 0 5649
UTM zone 32N (zE-N) | 6 47.2 12 55.5 | tmerc 0 9 0.9996 | m 32500000 0 4647
UTM zone 33N (zE-N) | 11.5 47.4 15.1 55.1 | tmerc 0 15 0.9996 | m 33500000 0 5650
`,
  },
  {
    datum: 'RGF93 v1',
    lines: `
CC42 | -1.1 41.3 9.7 43.1 | lcc 42 3 41:15 42:45 | m 1700000 1200000 3942
CC43 | -1.8 42.3 7.7 44.1 | lcc 43 3 42:15 43:45 | m 1700000 2200000 3943
CC44 | -1.8 42.9 7.8 45 | lcc 44 3 43:15 44:45 | m 1700000 3200000 3944
CC45 | -1.5 44 7.8 46 | lcc 45 3 44:15 45:45 | m 1700000 4200000 3945
CC46 | -2.3 45 7.2 47 | lcc 46 3 45:15 46:45 | m 1700000 5200000 3946
CC47 | -4.8 46 7.7 48 | lcc 47 3 46:15 47:45 | m 1700000 6200000 3947
CC48 | -4.9 47 8.3 49 | lcc 48 3 47:15 48:45 | m 1700000 7200000 3948
CC49 | -4.9 48 8.3 50 | lcc 49 3 48:15 49:45 | m 1700000 8200000 3949
CC50 | -2.1 49 8.1 51.2 | lcc 50 3 49:15 50:45 | m 1700000 9200000 3950
Lambert-93 | -9.9 41.1 10.4 51.6 | lcc 46:30 3 49 44 | m 700000 6600000 2154
`,
  },
  {
    datum: 'SWEREF99',
    lines: `
SWEREF99 TM | 10 54.9 24.2 69.1 | tmerc 0 15 0.9996 | m 500000 0 3006
`,
  },
  {
    datum: 'IRENET95',
    lines: `
Irish Transverse Mercator | -10.6 51.3 -5.3 55.5 | tmerc 53:30 -8 0.99982 | m 600000 750000 2157
`,
  },
  {
    datum: 'ETRF2000-PL',
    lines: `
CS92 | 14.1 49 24.2 56 | tmerc 0 19 0.9993 | m 500000 -5300000 2180
`,
  },
  {
    datum: 'LKS94',
    lines: `
Lithuania TM | 19 53.8 26.9 56.5 | tmerc 0 24 0.9998 | m 500000 0 3346
`,
  },
  {
    datum: 'LKS92',
    lines: `
Latvia TM | 19 55.6 28.3 58.1 | tmerc 0 24 0.9996 | m 500000 -6000000 3059
`,
  },
  {
    datum: 'EST97',
    lines: `
Estonian Coordinate System of 1997 | 20.3 57.5 28.2 60 | lcc 57:31:03.19415 24 59:20 58 | m 500000 6375000 3301
`,
  },
  {
    datum: 'Amersfoort',
    lines: `
RD New | 3.2 50.7 7.3 53.7 | sterea 52:09:22.178 5:23:15.5 0.9999079 | m 155000 463000 28992
`,
  },
];
