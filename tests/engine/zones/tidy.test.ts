import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { tidyLabels } from '../../../src/engine/zones/tidy.ts';
import { drawn, picture } from '../grid/drawn.ts';
import { box, region } from '../grid/shapes.ts';

/** Cells of 10 m; the smallest island allowed, in cells. */
function tidied(rows: readonly string[], smallestCells: number, areas: readonly number[] = []): string[] {
  const { grid, labels } = drawn(rows, 10, areas);
  return picture(grid, tidyLabels(grid, labels, smallestCells * 100));
}

describe('labels tidied', () => {
  it('lose islands under the smallest size, and keep those of it', () => {
    expect(tidied(['00000', '01022', '00022'], 4)).toEqual(['00000', '00022', '00022']);
    expect(tidied(['00000', '01022', '00022'], 5)).toEqual(['00000', '00000', '00000']);
    expect(tidied(['00000', '01022', '00022'], 1)).toEqual(['00000', '01022', '00022']);
  });

  it('give an island to the neighbour it touches along most sides, the lower label when two do alike', () => {
    expect(tidied(['1111', '1321', '2222'], 2)).toEqual(['1111', '1121', '2222']);
    expect(tidied(['00000', '03011', '11111'], 2)).toEqual(['00000', '00011', '11111']);
    expect(tidied(['121'.repeat(1), '222', '131'], 2)).toEqual(['222', '222', '222']);
  });

  it('do not join cells that touch at a corner only', () => {
    expect(tidied(['0000', '0100', '0010', '0000'], 2)).toEqual(['0000', '0000', '0000', '0000']);
  });

  it('leave an island alone that has no neighbour: a part of the field by itself', () => {
    expect(tidied(['000.1', '000..', '000..'], 4)).toEqual(['000.1', '000..', '000..']);
  });

  it('leave one label where no island is large enough', () => {
    const end = tidied(['0101', '1010', '2323'], 100);
    expect(new Set(end.join('')).size).toBe(1);
  });

  it('give a sliver under 1 m² to the neighbour that holds most, whatever the smallest size', () => {
    expect(tidied(['012'], 0, [100, 0.5, 60])).toEqual(['002']);
    expect(tidied(['012'], 0, [60, 0.5, 100])).toEqual(['022']);
    expect(tidied(['012'], 0, [100, 1.5, 60])).toEqual(['012']);
  });

  it('take no whole cell for a sliver, however small the cells', () => {
    // Cells of 1 m: rounding leaves some a hair under 1 m².
    const grid = layOutGrid(region(box(0.1, 0.1, 12, 12)), 1, 0);
    const halves = Uint8Array.from(grid.col, (col) => Number(col >= 6));
    expect(Array.from(tidyLabels(grid, halves, 0))).toEqual(Array.from(halves));
    const turned = layOutGrid(region([0, 0, 30, 10, 20, 40, -10, 30]), 1, 33);
    const stripes = Uint8Array.from(turned.col, (col) => Math.floor(col / 5) % 3);
    const after = tidyLabels(turned, stripes, 0);
    for (let cell = 0; cell < after.length; cell++)
      if (turned.area[cell] > 0.9) expect(after[cell]).toBe(stripes[cell]);
  });
});

describe('whatever the labels', () => {
  const rows = fc
    .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 }))
    .chain(([cols, count]) =>
      fc.array(fc.array(fc.constantFrom('0', '1', '2', '3', '.'), { minLength: cols, maxLength: cols }), {
        minLength: count,
        maxLength: count,
      }),
    )
    .map((own) => own.map((row) => row.join('')));

  /** Sizes of islands that have a neighbour of another label. */
  const islands = (own: readonly string[]) => {
    const sizes: number[] = [];
    const seen = new Set<string>();
    own.forEach((row, r) => {
      for (let c = 0; c < row.length; c++) {
        if (row[c] === '.' || seen.has(`${r} ${c}`)) continue;
        const stack = [[r, c]];
        seen.add(`${r} ${c}`);
        let size = 0;
        let hasOther = false;
        for (let k = 0; k < stack.length; k++) {
          const [y, x] = stack[k];
          size++;
          for (const [dy, dx] of [
            [0, 1],
            [1, 0],
            [0, -1],
            [-1, 0],
          ]) {
            const near = own[y + dy]?.[x + dx] ?? '.';
            if (near === '.') continue;
            if (near !== row[c]) hasOther = true;
            else if (!seen.has(`${y + dy} ${x + dx}`)) {
              seen.add(`${y + dy} ${x + dx}`);
              stack.push([y + dy, x + dx]);
            }
          }
        }
        if (hasOther) sizes.push(size);
      }
    });
    return sizes;
  };

  it('it ends, leaves no island too small that could join another, and brings in no new label', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: 0, max: 90 }), (own, smallest) => {
        const end = tidied(own, smallest);
        const labels = new Set(own.join(''));
        return (
          islands(end).every((size) => size >= smallest) &&
          [...end.join('')].every((sign) => labels.has(sign))
        );
      }),
      { seed: 1, numRuns: 1500 },
    );
  });

  it('tidy labels are left alone', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: 0, max: 20 }), (own, smallest) => {
        const once = tidied(own, smallest);
        return once.join() === tidied(once, smallest).join();
      }),
      { seed: 2, numRuns: 500 },
    );
  });
});
