import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { fieldFrame, ringToLonLat } from '../../src/engine/geodesy/field-frame.ts';
import { createDesk } from '../../src/jobs/desk.ts';
import { withLineup } from '../../src/plan/edits/with-lineup.ts';
import { box } from '../engine/grid/shapes.ts';
import { plan } from '../plan/small-plan.ts';
import { lineup } from '../run/small-field.ts';

const file = (name: string, value: unknown) => ({
  name,
  bytes: new TextEncoder().encode(JSON.stringify(value)),
});
const ring = ringToLonLat(fieldFrame(-90.5, 41.5), Float64Array.from(box(-60, -40, 120, 80)));
const corners = [0, 2, 4, 6, 0].map((i) => [ring[i], ring[i + 1]]);
const files = [
  file('boundary.geojson', { type: 'Polygon', coordinates: [corners] }),
  file('lineup.json', lineup),
];

/** `spare` sources that nothing rests on: reading them takes turns, so a run of them ends later. */
const own = (name: string, spare = 0) =>
  plan({
    name,
    sources: [...files, ...Array(spare).fill(files[0])].map(({ name: named, bytes }, k) => ({
      id: ['boundary', 'lineup'][k] ?? `spare-${k}`,
      file: named,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    })),
    field: { boundary: 'boundary', cell_m: 20 },
    environment: { expected_buPerAc: 180 },
    evidence: { soils: null, yields: [] },
    lineup: { source: 'lineup' },
    money: { grainPrice_perBu: 4 },
  });
const codes = ({ issues }: { issues: readonly { code: string }[] }) => issues.map(({ code }) => code);

describe('a run with another lineup than the open file', () => {
  it('takes the one handed over, and the open file again without it', async () => {
    const desk = createDesk();
    await desk.call('open', { files });
    const dearer = { ...lineup, products: lineup.products.slice(0, 1) };
    const edited = file('lineup.json', dearer);
    const sha256 = createHash('sha256').update(edited.bytes).digest('hex');
    const asked = withLineup(own('one'), { file: edited.name, sha256 });
    const ran = await desk.call('run', { plan: asked, lineup: edited });
    expect(ran.lineupDocument?.products).toHaveLength(1);
    expect(ran.ledger).not.toBeNull();
    const again = await desk.call('run', { plan: own('one') });
    expect(again.lineupDocument?.products).toHaveLength(lineup.products.length);
    const left = await desk.call('run', { plan: asked });
    expect(codes(left)).toContain('source-changed');
  });
});

describe('the hand-off of a desk', () => {
  it('is that of the plan last run, and of no other', async () => {
    const desk = createDesk();
    await desk.call('open', { files });
    await desk.call('run', { plan: own('one') });
    const other = await desk.call('handOff', { plan: own('two') });
    expect(codes(other)).toEqual(['hand-off-other-plan']);
    expect(other.files).toEqual([]);
    const same = await desk.call('handOff', { plan: structuredClone(own('one')) });
    expect(codes(same)).toEqual([]);
    expect(same.files.length).toBeGreaterThan(0);
  });
  it('is refused before any run, while one goes on, and after other files are opened', async () => {
    const desk = createDesk();
    await desk.call('open', { files });
    expect(codes(await desk.call('handOff', { plan: own('one') }))).toEqual(['hand-off-other-plan']);
    await desk.call('run', { plan: own('one') });
    const going = desk.call('run', { plan: own('one') });
    expect(codes(await desk.call('handOff', { plan: own('one') }))).toEqual(['hand-off-other-plan']);
    await going;
    await desk.call('open', { files });
    expect(codes(await desk.call('handOff', { plan: own('one') }))).toEqual(['hand-off-other-plan']);
  });
  it('is that of the newest run, whichever ends last, and of none begun before the files were opened', async () => {
    const desk = createDesk();
    await desk.call('open', { files });
    const ended: string[] = [];
    const runOf = (name: string, spare: number) =>
      desk.call('run', { plan: own(name, spare) }).then(() => ended.push(name));
    await Promise.all([runOf('older', 40), runOf('newer', 0)]);
    expect(ended).toEqual(['newer', 'older']);
    expect(codes(await desk.call('handOff', { plan: own('older', 40) }))).toEqual(['hand-off-other-plan']);
    expect(codes(await desk.call('handOff', { plan: own('newer') }))).toEqual([]);

    const before = desk.call('run', { plan: own('newer') });
    await desk.call('open', { files });
    await before;
    expect(codes(await desk.call('handOff', { plan: own('newer') }))).toEqual(['hand-off-other-plan']);
  });
});
