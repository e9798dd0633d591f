import { strFromU8, unzipSync } from 'fflate';
import Papa from 'papaparse';
import { read } from 'shapefile';
import { describe, expect, it } from 'vitest';
import { estimateDelay, type FlowDelay } from '../../src/engine/harvest/flow-delay.ts';
import type { HarvestLog } from '../../src/engine/harvest/harvest-log.ts';
import { findPasses } from '../../src/engine/harvest/passes.ts';
import { smallLog } from '../engine/harvest/small-log.ts';
import { missing, openData } from '../formats/open-data.ts';

const BARLEY = 'montana_barley_2015/yield_2015.zip';
const ALFALFA = 'yield_alfalfa/kayad.alfalfa.csv';

/** Nobody says what the delay of these is, or what the monitor had made good: only that the answer is well made is asserted. */
function estimate(name: string, log: HarvestLog): FlowDelay {
  const found = estimateDelay(log, findPasses(log), new Uint8Array(log.records).fill(1));
  console.log(
    `${name}, ${log.records} records: ${found.confident ? 'confident' : 'not confident'}; ${found.because}; ${found.pairs} pairs`,
  );
  // Whole records from −6 to 25 s: no time is recorded, so a record is worth the way driven in it.
  const seconds = found.curve.map(({ delay_s }) => delay_s);
  const step_s = seconds[1] - seconds[0];
  for (const [k, own] of seconds.entries()) expect(own).toBeCloseTo(seconds[0] + k * step_s, 9);
  expect(seconds[0] - step_s).toBeLessThan(-6 + 1e-9);
  expect(seconds[0]).toBeGreaterThanOrEqual(-6 - 1e-9);
  expect(seconds[seconds.length - 1]).toBeLessThanOrEqual(25 + 1e-9);
  expect(seconds[seconds.length - 1] + step_s).toBeGreaterThan(25 - 1e-9);
  for (const { criterion } of found.curve) expect(Math.abs(criterion)).toBeLessThanOrEqual(1);
  expect(found.delay_s).toBeGreaterThanOrEqual(-6);
  expect(found.delay_s).toBeLessThanOrEqual(25);
  expect(found.pairs).toBeGreaterThan(200);
  return found;
}

describe.skipIf(missing(BARLEY))('the flow delay of barley in Montana', () => {
  it('is told by a curve with one smooth top', async () => {
    const members = unzipSync(openData(BARLEY).bytes);
    const of = (ending: string) =>
      Object.entries(members).find(([path]) => path.endsWith(ending) && !path.includes('__MACOSX'))![1];
    const { features } = await read(of('.shp').slice().buffer, of('.dbf').slice().buffer);
    const column = (name: string, scale = 1) =>
      features.map(({ properties }) => Number(properties![name]) * scale);
    const log = smallLog(features.length, {
      x_m: column('utm_x'),
      y_m: column('utm_y'),
      value: column('yield'),
      distance_m: column('dist_in', 0.0254),
      swath_m: column('swth_w_', 0.0254),
      flow_kgPerS: column('flw_lbs', 0.45359237),
    });
    const { curve } = estimate('barley', log);
    // Ten thousand pairs of passes driven both ways: the curve rises to its top and falls from it.
    const top = curve.reduce((best, { criterion }, s) => (criterion > curve[best].criterion ? s : best), 0);
    for (let s = 1; s <= top; s++) expect(curve[s].criterion).toBeGreaterThan(curve[s - 1].criterion);
    for (let s = top + 1; s < curve.length; s++) {
      expect(curve[s].criterion).toBeLessThan(curve[s - 1].criterion);
    }
  });
});

describe.skipIf(missing(ALFALFA))('the flow delay of alfalfa, by places and yields alone', () => {
  it.each(['H8', 'H9', 'H10', 'H11'])('is told of cut %s, or not told', (cut) => {
    const { data } = Papa.parse<{ harvest: string; lat: number; long: number; yield: number }>(
      strFromU8(openData(ALFALFA).bytes),
      { header: true, dynamicTyping: true, skipEmptyLines: true },
    );
    const rows = data.filter(({ harvest }) => harvest === cut);
    // The field lies at 24° N, 48° E. Metres by a sphere are near enough.
    const m_per_deg = 111_195;
    estimate(
      cut,
      smallLog(rows.length, {
        x_m: rows.map((row) => (row.long - 48) * m_per_deg * Math.cos((24.17 * Math.PI) / 180)),
        y_m: rows.map((row) => (row.lat - 24) * m_per_deg),
        value: rows.map((row) => row.yield),
      }),
    );
  });
});
