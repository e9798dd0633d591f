import { describe, expect, it } from 'vitest';
import { recogniseColumns } from '../../../../src/engine/harvest/recognise/recognise-columns.ts';
import { ROLES } from '../../../../src/engine/harvest/recognise/role.ts';
import { HEADER_SETS } from './header-sets.ts';
import { drive, pointFile } from './small-log.ts';

describe('the columns of an export', () => {
  it.each(HEADER_SETS.map((set) => [set.of, set] as const))('%s', (_, set) => {
    const source = pointFile(drive(set.drive), set.header, set.file);
    const { columns, basis, questions } = recogniseColumns(source, set.drive.crop);
    const found = ROLES.flatMap((role) => {
      const own = columns[role];
      return own && (set.means[role] || (role !== 'x' && role !== 'y'))
        ? [[role, [own.column, own.unit]]]
        : [];
    });
    expect(Object.fromEntries(found)).toEqual(set.means);
    expect(questions.map(({ about }) => about)).toEqual(set.asks ?? []);
    expect(basis).toBe(set.basis);
  });
});
