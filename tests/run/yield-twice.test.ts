import { describe, expect, it } from 'vitest';
import { yieldTwice } from '../../src/run/stages/yield-twice.ts';
import { plan } from '../plan/small-plan.ts';

const crop = (equals: string) => ({ column: 'Crop', equals });
const twice = (first: object, second: object, sha256 = 'a') => {
  const sources = [
    { id: 'y0', file: 'one.csv', sha256: 'a'.repeat(64) },
    { id: 'y1', file: 'two.csv', sha256: sha256.repeat(64) },
  ];
  const yields = [first, second].map((own, k) => ({ source: `y${k}`, column: 'Yield', ...own }));
  const own = plan({ evidence: { yields }, sources: [...plan().sources, ...sources] });
  return yieldTwice(own).map(({ code, found }) => [code, found]);
};

describe('two yield maps of one column of a file', () => {
  const bytes = [['yield-file-twice', 'two.csv, the same bytes as one.csv']];

  it('share records where one is of all records, or both are of one harvest whatever the case of its word', () => {
    expect(twice({}, { where: crop('Corn') })).toEqual(bytes);
    expect(twice({ where: crop('Corn') }, {})).toEqual(bytes);
    expect(twice({ where: crop('Corn') }, { where: crop(' corn') })).toEqual(bytes);
    expect(twice({ source: 'y0' }, { source: 'y0', where: crop('Corn') })).toEqual([
      ['yield-file-twice', 'one.csv, with records of another map of it'],
    ]);
  });

  it('share none where they are of two harvests, of other bytes or another column, or one is not in use', () => {
    expect(twice({ where: crop('Corn') }, { where: crop('Soybeans') })).toEqual([]);
    expect(twice({}, { where: crop('Corn') }, 'b')).toEqual([]);
    expect(twice({}, { where: crop('Corn'), column: 'Other' })).toEqual([]);
    expect(twice({}, { where: crop('Corn'), use: false })).toEqual([]);
    expect(twice({ use: false }, { where: crop('Corn') })).toEqual([]);
  });
});
