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
  it('takes the only file whose path ends so before one of the same name elsewhere', () => {
    const given = ['field/north/y.csv', 'field/south/y.csv'];
    expect(found(given, 'south/y.csv').names).toEqual(['field/south/y.csv']);
  });
  it('does not choose between two of the same name', () => {
    expect(found(['a/soils.zip', 'b/soils.zip'], 'c/soils.zip').names).toEqual([]);
  });
  it('brings the sidecars of a shapefile along, whatever their case, and no other file', () => {
    expect(
      found(['a.shp', 'a.SHX', 'A.dbf', 'a.prj', 'a.shp.xml', 'ab.dbf', 'b/a.dbf'], 'a.shp').names,
    ).toEqual(['a.shp', 'a.SHX', 'A.dbf', 'a.prj']);
  });
  it('brings the files of its folder along with a task file, and no other', () => {
    const given = ['f/GRD00001.bin', 'f/TASKDATA.XML', 'f/PDT00000.XML', 'f/notes.txt', 'g/GRD00002.bin'];
    expect(found(given, 'f/TASKDATA.XML › grid TSK1')).toEqual({
      names: ['f/TASKDATA.XML', 'f/GRD00001.bin', 'f/PDT00000.XML'],
      layer: 'grid TSK1',
    });
    expect(found(['TaskData.xml', 'GRD00001.BIN'], 'TaskData.xml').names).toHaveLength(2);
  });
  it('splits a layer of an archive off its name', () => {
    expect(found(['a.zip'], 'a.zip › inner.shp')).toEqual({ names: ['a.zip'], layer: 'inner.shp' });
  });
});
