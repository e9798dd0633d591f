import type { Plan } from './schema.ts';

/** What a plan says of how a file is to be read. */
export type SourceSaid = Omit<Plan['sources'][number], 'id' | 'file' | 'sha256'>;

/** What is said of a file of which nothing is said. */
export const NOTHING_SAID: SourceSaid = {
  crs: null,
  acceptNad27: false,
  swapLonLat: false,
  columns: null,
  headerLine: null,
  commas: {},
  encoding: null,
  rowsInOrder: false,
};
