import { describe, expect, it } from 'vitest';
import { findFiles } from '../../src/jobs/find-files.ts';

const files = (...names: string[]) => names.map((name) => ({ name, bytes: new Uint8Array() }));
const found = (given: string[], named: string) => {
  const { files: own, layer } = findFiles(files(...given), named);
  return { names: own.map(({ name }) => name), layer };
};

describe('findFiles', () => {
  it('takes the file at the path before one of the same name elsewhere', () => {
    expect(found(['b/soils.zip', 'a/soils.zip'], 'a/soils.zip').names).toEqual(['a/soils.zip']);
  });
  it('takes the only file of that name in any folder, as when files are dropped on the app', () => {
    expect(found(['soils.zip'], '../data/soils.zip').names).toEqual(['soils.zip']);
  });
  it('does not choose between two of the same name', () => {
    expect(found(['a/soils.zip', 'b/soils.zip'], 'c/soils.zip').names).toEqual([]);
  });
  it('brings the sidecars of a shapefile along, whatever their case, and no other file', () => {
    expect(
      found(['a.shp', 'a.SHX', 'A.dbf', 'a.prj', 'a.shp.xml', 'ab.dbf', 'b/a.dbf'], 'a.shp').names,
    ).toEqual(['a.shp', 'a.SHX', 'A.dbf', 'a.prj']);
  });
  it('splits a layer of an archive off its name', () => {
    expect(found(['a.zip'], 'a.zip › inner.shp')).toEqual({ names: ['a.zip'], layer: 'inner.shp' });
  });
});
