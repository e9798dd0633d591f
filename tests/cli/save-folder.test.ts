import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { saveFolder } from '../../src/cli/save-folder.ts';
import { Refusal } from '../../src/engine/issue.ts';
import { freshFolder, tree } from './built.ts';

let home = '';
let root = '';
beforeEach(() => {
  home = freshFolder();
  root = join(home, 'out');
  return () => rmSync(home, { recursive: true, force: true });
});

const bytes = (text: string) => new TextEncoder().encode(text);
const first = ['a.txt', 'planter/P.shp', 'z.txt'].map((name) => ({ name, bytes: bytes(`old ${name}`) }));
const second = ['a.txt', 'planter/Q.shp', 'z.txt'].map((name) => ({ name, bytes: bytes(`new ${name}`) }));
const listed = first.map(({ name }) => name);

function refused(work: () => void): string {
  try {
    work();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown.issue.code;
    throw thrown;
  }
  return 'nothing';
}

describe('saveFolder', () => {
  it('replaces what was listed and leaves nothing aside', () => {
    saveFolder(root, first, []);
    writeFileSync(join(root, 'mine.txt'), 'mine');
    saveFolder(root, second, listed);
    expect([...tree(root)]).toEqual([
      ['a.txt', 'new a.txt'],
      ['mine.txt', 'mine'],
      ['planter/Q.shp', 'new planter/Q.shp'],
      ['z.txt', 'new z.txt'],
    ]);
    expect(readdirSync(home)).toEqual(['out']);
  });
  it('touches nothing where a target is a folder, listed or not', () => {
    saveFolder(root, first, []);
    rmSync(join(root, 'z.txt'));
    mkdirSync(join(root, 'z.txt'));
    const before = tree(home);
    expect(refused(() => saveFolder(root, second, listed))).toBe('file-in-the-way');
    expect(refused(() => saveFolder(root, second, []))).toBe('file-in-the-way');
    expect(tree(home)).toEqual(before);
  });
  it('puts everything back when it fails half-way', () => {
    saveFolder(root, first, []);
    // A file where a folder of the new hand-off must be: found out only after others were moved.
    writeFileSync(join(root, 'more'), 'a file');
    const before = tree(home);
    const late = [...second, { name: 'more/b.txt', bytes: bytes('b') }];
    expect(refused(() => saveFolder(root, late, listed))).toBe('not-writable');
    expect(tree(home)).toEqual(before);
    expect(readdirSync(home)).toEqual(['out']);
  });
  it('leaves no folder behind when a new one fails', () => {
    writeFileSync(join(home, 'file'), 'a file');
    expect(refused(() => saveFolder(join(home, 'file/out'), first, []))).toBe('not-writable');
    const odd = [...first, { name: 'a.txt/b.txt', bytes: bytes('b') }];
    expect(refused(() => saveFolder(root, odd, []))).toBe('not-writable');
    expect(existsSync(root)).toBe(false);
    expect(readdirSync(home)).toEqual(['file']);
  });
});
