import { describe, expect, it } from 'vitest';
import { waysToBlock } from '../../../src/engine/rates/zone-blocks.ts';

const all = (zones: number, blocks: number) => [...waysToBlock(zones, blocks)].length;

describe('ways to part zones into blocks', () => {
  it('of three zones into two blocks are three', () => {
    const ways: string[] = [];
    for (const way of waysToBlock(3, 2)) ways.push(way.map((block) => block.join('')).join(' '));
    expect(ways).toEqual(['01 2', '02 1', '0 12']);
  });

  // NIST Digital Library of Mathematical Functions, table 26.8.2: Stirling numbers of the second kind (from memory).
  it('are as many as Stirling numbers of the second kind', () => {
    expect([1, 2, 3, 4, 5, 6, 7, 8, 9].map((blocks) => all(8, blocks))).toEqual([
      1, 127, 966, 1701, 1050, 266, 28, 1, 0,
    ]);
    expect(all(9, 5)).toBe(6951);
  });
});
