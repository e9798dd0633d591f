import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/engine/issue.ts';
import { random } from '../../src/engine/math/random.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { crc32 } from '../../src/formats/zip/crc32.ts';
import { memberName } from '../../src/formats/zip/member-name.ts';
import { readZip } from '../../src/formats/zip/read.ts';
import { writeZip } from '../../src/formats/zip/write.ts';

const TEXT = strToU8('two fields of corn and one of beans '.repeat(20));
const packed = (members: Record<string, Uint8Array>) => ({ name: 'a.zip', bytes: zipSync(members) });
const two = () => packed({ 'a.txt': TEXT, 'b.bin': new Uint8Array([1, 2, 3]) });

/** The archive with some of its bytes replaced. */
function changed(edit: (view: DataView, central: number) => void) {
  const file = two();
  const view = new DataView(file.bytes.buffer, file.bytes.byteOffset, file.bytes.byteLength);
  edit(view, view.getUint32(file.bytes.length - 6, true));
  return file;
}

async function refusal(file: FileBytes): Promise<Refusal | null> {
  try {
    await readZip(file);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  return null;
}

const refusalOf = async (file: FileBytes) => (await refusal(file))?.issue.code ?? null;

describe('crc32', () => {
  // The check value of CRC-32 (ISO HDLC) in the catalogue of parametrised CRC algorithms.
  it('gives cbf43926 for 123456789', () => expect(crc32(strToU8('123456789'))).toBe(0xcbf43926));
  it('gives the same in two parts', () =>
    expect(crc32(strToU8('6789'), crc32(strToU8('12345')))).toBe(0xcbf43926));
});

describe('readZip', () => {
  it('unpacks stored and deflated members', async () => {
    const [a, b] = await readZip(two());
    expect([a.name, b.name]).toEqual(['a.txt', 'b.bin']);
    expect(a.bytes).toEqual(TEXT);
    expect([...b.bytes]).toEqual([1, 2, 3]);
    expect((await readZip(packed({ none: new Uint8Array(0) })))[0].bytes.length).toBe(0);
  });

  it('leaves out folders and the litter of desktop systems', async () => {
    const file = packed({
      'd/': new Uint8Array(0),
      '__MACOSX/._a.shp': TEXT,
      'd/.DS_Store': TEXT,
      'd/Thumbs.db': TEXT,
      'd/a': TEXT,
    });
    expect((await readZip(file)).map(({ name }) => name)).toEqual(['d/a']);
  });

  it('refuses an archive cut at any byte', async () => {
    const { bytes } = two();
    for (let n = 0; n < bytes.length; n++) {
      expect(await refusalOf({ name: 'a.zip', bytes: bytes.subarray(0, n) })).toBe('zip-damaged');
    }
  });

  it('refuses a wrong checksum, naming the member', async () => {
    const found = await refusal(changed((view, at) => view.setUint32(at + 16, 1, true)));
    expect(found?.issue).toMatchObject({ code: 'zip-damaged', where: 'a.zip › a.txt' });
  });

  it.each([-1, 1, -200, 5000])('refuses a size that lies by %i bytes', async (lie) => {
    const both = changed((view, at) => {
      view.setUint32(at + 24, TEXT.length + lie, true);
      view.setUint32(22, TEXT.length + lie, true);
    });
    expect(await refusalOf(both)).toBe('zip-damaged');
    expect(await refusalOf(changed((view, at) => view.setUint32(at + 24, TEXT.length + lie, true)))).toBe(
      'zip-damaged',
    );
  });

  it('refuses encrypted, Deflate64, linked and Zip64 entries by name', async () => {
    expect(await refusalOf(changed((view, at) => view.setUint16(at + 8, 1, true)))).toBe('zip-encrypted');
    expect((await refusal(changed((view, at) => view.setUint16(at + 10, 9, true))))?.issue.found).toBe(
      'Deflate64',
    );
    expect(await refusalOf(changed((view, at) => view.setUint32(at + 38, 0xa1ff0000, true)))).toBe(
      'zip-link',
    );
    expect(await refusalOf(changed((view, at) => view.setUint32(at + 24, 0xffffffff, true)))).toBe(
      'zip-unsupported',
    );
  });

  it('refuses entries that overlap', async () => {
    const file = packed({ 'a.txt': TEXT, 'b.txt': TEXT });
    const view = new DataView(file.bytes.buffer);
    const at = view.getUint32(file.bytes.length - 6, true);
    const second = at + 46 + 5;
    // Both entries of the same name and place but one letter: the second points at the first's data.
    view.setUint32(second + 42, view.getUint32(at + 42, true), true);
    file.bytes[second + 46] = 'a'.charCodeAt(0);
    expect(['zip-damaged', 'zip-duplicate']).toContain(await refusalOf(file));
  });

  it('breathes between slices, tells how far it is, and stops where that says so', async () => {
    // Numbers that do not pack well: 3 MB in 2 MB and more, of which slices of 32 KB are taken.
    const rows = random(11);
    const text = strToU8(Array.from({ length: 300_000 }, () => rows.uniform().toFixed(8)).join('\n'));
    const file = packed({ 'a.csv': text });
    const told: string[] = [];
    const [whole] = await readZip(file, [], undefined, async (doing) => void told.push(doing));
    expect(Buffer.compare(whole.bytes, text)).toBe(0);
    expect(told.length).toBe(Math.ceil((file.bytes.length - 112) / 2 ** 15));
    expect(told.at(-1)).toBe('Unpacking a.zip › a.csv: 3 of 3 MB');
    let breaths = 0;
    const stopped = readZip(file, [], undefined, async () => {
      if (++breaths === 3) throw new Error('enough');
    });
    await expect(stopped).rejects.toThrow('enough');
    expect(breaths).toBe(3);
  });

  it('refuses a bomb before unpacking it', async () => {
    const bomb = packed({ big: new Uint8Array(12 * 2 ** 20) });
    expect(bomb.bytes.length).toBeLessThan(20000);
    expect(await refusalOf(bomb)).toBe('zip-limit');
  });

  it('refuses 2,001 entries and takes 2,000', async () => {
    const many = (n: number) =>
      packed(Object.fromEntries(Array.from({ length: n }, (_, i) => [`f${i}`, new Uint8Array(1)])));
    expect((await readZip(many(2000))).length).toBe(2000);
    expect(await refusalOf(many(2001))).toBe('zip-limit');
  });

  it('refuses two members of one name, any case', async () => {
    expect(await refusalOf(packed({ 'A.shp': TEXT, 'a.shp': TEXT }))).toBe('zip-duplicate');
  });
});

describe('memberName', () => {
  const name = (text: string) => memberName(strToU8(text));
  it.each([
    ['../../evil.shp', 'evil.shp'],
    ['C:\\data\\a.shp', 'data/a.shp'],
    ['/etc/a.shp', 'etc/a.shp'],
    ['d/./a.shp', 'd/a.shp'],
    ['maïs 1.shp', 'maïs 1.shp'],
    ['a\u202egpj.shp', 'a_gpj.shp'],
    ['<img src=x>.shp', '_img src_x_.shp'],
  ])('makes %j harmless', (raw, safe) => expect(name(raw)).toBe(safe));
});

describe('writeZip', () => {
  const files = [
    { name: 'b.txt', bytes: TEXT },
    { name: 'a.txt', bytes: strToU8('x') },
  ];
  it('gives the same bytes every time, members in their order', async () => {
    const { bytes } = writeZip('h.zip', files);
    expect(writeZip('h.zip', files).bytes).toEqual(bytes);
    expect(await readZip({ name: 'h.zip', bytes })).toEqual(files);
  });
  it('stamps every member with the first minute zip knows: 1980-01-01 00:00', () => {
    const view = new DataView(writeZip('h.zip', files).bytes.buffer);
    expect(view.getUint32(10, true)).toBe(0x00210000);
  });
});
