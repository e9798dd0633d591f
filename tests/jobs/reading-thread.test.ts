import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Source } from '../../src/engine/layers/source.ts';
import type { Reading } from '../../src/formats/format.ts';
import { readTogether } from '../../src/formats/registry.ts';
import { type FromReader, serveReading } from '../../src/jobs/reading-thread.ts';
import { table } from '../engine/layers/small-source.ts';

vi.mock('../../src/formats/registry.ts', { spy: true });
beforeEach(() => {
  vi.mocked(readTogether).mockReset();
});

const text = (name: string, content: string) => ({ name, bytes: new TextEncoder().encode(content) });

/** Serve one request; what was sent is handed over as a thread hands it over, which refuses a buffer given twice. */
async function served(files: Parameters<typeof readTogether>[0], answers?: Reading) {
  if (answers) vi.mocked(readTogether).mockResolvedValue(answers);
  const sent: { message: FromReader; arrived: FromReader; handOver: ArrayBuffer[] }[] = [];
  const serve = serveReading((message, handOver) => {
    sent.push({ message, arrived: structuredClone(message, { transfer: handOver }), handOver });
  });
  await serve({ id: 7, files, options: {} });
  expect(sent).toHaveLength(1);
  return sent[0];
}
const sourcesOf = (message: FromReader): readonly Source[] =>
  'reading' in message ? message.reading.sources : [];

describe('a thread that reads', () => {
  it('hands over what it read, whole and without a copy', async () => {
    const { message, arrived, handOver } = await served([
      text('a.csv', 'lon,lat,yield,hybrid\n-93.5,42,150,H1\n-93.4,42.1,160,H2\n'),
    ]);
    expect(arrived.id).toBe(7);
    const [source] = sourcesOf(arrived);
    expect([...source.x]).toEqual([-93.5, -93.4]);
    expect(source.columns.map(({ name }) => name)).toContain('hybrid');
    // Four columns, two of which are the places as well; the thread keeps none of them.
    expect(handOver).toHaveLength(4);
    const [left] = sourcesOf(message);
    expect([
      left.x.length,
      left.y.length,
      ...left.columns.map((own) => (own.kind === 'number' ? own.values : own.codes).length),
    ]).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it('hands over once what several columns, places and rings share', async () => {
    const shared = Float64Array.of(1, 2, 3, 4, 5, 6, 7, 8);
    const source: Source = {
      ...table({ a: [0], b: [0] }),
      x: shared.subarray(0, 2),
      y: shared.subarray(2, 4),
      rings: [[shared.subarray(0, 8), shared.subarray(2, 8)], null],
      columns: [
        { name: 'a', kind: 'number', values: shared.subarray(4, 6) },
        { name: 'b', kind: 'number', values: shared },
        { name: 'c', kind: 'text', codes: new Int32Array(shared.buffer, 0, 2), levels: [] },
      ],
    };
    const { arrived, handOver } = await served([text('a.csv', '')], { sources: [source], issues: [] });
    expect(handOver).toHaveLength(1);
    const [own] = sourcesOf(arrived);
    expect([[...own.x], [...own.y]]).toEqual([
      [1, 2],
      [3, 4],
    ]);
    expect(own.columns.map((column) => column.kind === 'number' && [...column.values])).toEqual([
      [5, 6],
      [1, 2, 3, 4, 5, 6, 7, 8],
      false,
    ]);
    expect(own.rings[0]?.map((ring) => ring.length)).toEqual([8, 6]);
  });

  it('answers with the words of a fault, never with silence', async () => {
    vi.mocked(readTogether).mockRejectedValueOnce(new RangeError('Invalid typed array length'));
    expect((await served([text('a.csv', '')])).arrived).toEqual({
      id: 7,
      failed: 'Invalid typed array length',
    });
    vi.mocked(readTogether).mockRejectedValueOnce('no error at all');
    expect((await served([text('a.csv', '')])).arrived).toEqual({ id: 7, failed: 'no error at all' });
  });

  it('answers a file it refuses with the issue', async () => {
    const { arrived, handOver } = await served([text('a.pdf', '%PDF-1.7\n')]);
    expect('reading' in arrived && arrived.reading.issues.map(({ code }) => code)).toEqual(['file-foreign']);
    expect(handOver).toEqual([]);
  });
});
